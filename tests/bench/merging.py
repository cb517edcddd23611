"""Logbooks that people write apart and merge: `python -m tests.bench.merging --count 10000`."""

from __future__ import annotations

import tempfile
import time
import traceback
from pathlib import Path

import click

from tests.store.exchange.random_histories import check_merging


@click.command()
@click.option("--count", default=500, show_default=True, help="Histories of three people.")
@click.option("--seed", default=0, show_default=True, help="The first of the seeds.")
def main(count: int, seed: int) -> None:
    """See that merging is idempotent, commutative and associative, and loses nothing."""
    began, failed = time.monotonic(), 0
    for number in range(seed, seed + count):
        with tempfile.TemporaryDirectory(prefix="brimbook-merging-") as name:
            try:
                check_merging(Path(name), number)
            except Exception:
                failed += 1
                print(f"seed {number}: {traceback.format_exc()[-2000:]}", flush=True)
    print(f"{count} histories, {failed} failures, {time.monotonic() - began:.0f} s")


if __name__ == "__main__":
    main()
