"""Two windows on one logbook for minutes: `python -m tests.bench.two_writers --minutes 3`."""

from __future__ import annotations

import statistics
import tempfile
from pathlib import Path

import click

from tests.tui.two_writers import work_apart
from tui.app import LOOK_EVERY_S

SECONDS_PER_MINUTE = 60.0


@click.command()
@click.option("--minutes", default=3.0, show_default=True)
@click.option("--pause", "pause_s", default=0.1, show_default=True, help="Mean seconds between.")
@click.option("--look-every", "look_every_s", default=LOOK_EVERY_S, show_default=True,
              help="Seconds between looks for news; those of the interface.")  # fmt: skip
def main(minutes: float, pause_s: float, look_every_s: float) -> None:
    """Let two processes write check-ins and count up one note; say what came of it."""
    with tempfile.TemporaryDirectory(prefix="brimbook-two-") as folder:
        path = Path(folder) / "book.db"
        outcome = work_apart(path, minutes * SECONDS_PER_MINUTE, pause_s, look_every_s)
    for share, other in (outcome.shares, outcome.shares[::-1]):
        seen = sorted(share.delays_s.values())
        print(f"{len(share.checkins)} check-ins, {share.counted} counted, {share.stale} stale "
              f"changes refused, {len(share.refusals)} other refusals; {len(seen)} of the other's "
              f"{len(other.checkins)} check-ins seen, after {statistics.median(seen):.1f} s in the "
              f"middle and {seen[-1]:.1f} s at most")  # fmt: skip
    print(f"{len(outcome.faults)} faults", *outcome.faults[:5], sep="\n")


if __name__ == "__main__":
    main()
