"""Sudden ends of a process that writes: `python -m tests.bench.durability --kills 500`."""

from __future__ import annotations

import random
import tempfile
import time
from pathlib import Path

import click

from tests.store.logbook.durability import Told, fault_of, fill_the_disk, make_book, stop_suddenly
from tests.store.logbook.interruptions import WORKS, make_books, stop_midway

LOOK_EVERY = 10
"""Kills between new logbooks, as every look reads all of one."""


@click.command()
@click.option("--kills", default=500, show_default=True)
@click.option("--disks", default=50, show_default=True, help="Disks that fill up.")
@click.option("--seed", default=1, show_default=True)
@click.option("--midway", default=150, show_default=True,
              help="Ends in the midst of each kind of restore, and of a backup.")  # fmt: skip
def main(kills: int, disks: int, seed: int, midway: int) -> None:
    """Kill writers, fill disks; count what was acknowledged, and what of it is gone.

    Then kill what restores and backs up; count logbooks that are not whole.
    """
    luck, began, acknowledged = random.Random(seed), time.monotonic(), 0
    faults: list[str] = []
    with tempfile.TemporaryDirectory(prefix="brimbook-kills-") as name:
        path, told = Path(name) / "none", Told()
        stations: list[str] = []
        for number in range(kills + disks):
            if number % LOOK_EVERY == 0 or number >= kills:
                acknowledged += len(told.checkins)
                path, told = Path(name) / f"{number}.db", Told()
                stations = make_book(path)
            if number < kills:
                stop_suddenly(path, stations, told, luck)
            else:
                fill_the_disk(path, stations, told, luck.randrange(200_000))
                if not told.refusals:
                    faults.append("a full disk that nobody noticed")
            if fault := fault_of(path, told):
                faults.append(fault)
                print(f"{number}: {fault}", flush=True)
        acknowledged += len(told.checkins)
        for work in WORKS:
            books = make_books(Path(name) / f"{work.__name__}.db")
            found = [stop_midway(work, books, luck) for _ in range(midway)]
            faults += filter(None, found)
            print(f"{midway} ends of {work.__name__}", *filter(None, found), flush=True)
    print(f"{kills} kills, {disks} full disks, {acknowledged} acknowledged check-ins, "
          f"{len(faults)} faults, {time.monotonic() - began:.0f} s")  # fmt: skip


if __name__ == "__main__":
    main()
