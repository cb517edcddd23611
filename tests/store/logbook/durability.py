"""Processes that write check-ins and are stopped without warning, and a look at what is left.

Stopping a process shows what a crash of the program leaves; what a failing power supply
leaves rests on SQLite's `synchronous = FULL`, which no test in a process can show.
"""

from __future__ import annotations

import multiprocessing
import os
import random
import resource
import signal
import time
from dataclasses import dataclass, field
from datetime import date
from multiprocessing.connection import Connection
from pathlib import Path

from store.errors import BrimbookError
from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.logbook.opening import Logbook, create_logbook, logbook_at
from store.records import Chore, Draft, Note, Reading, StationFacts, TankMeasures, TractFacts
from store.vocabulary import ChoreKind, Shape

TODAY = date(2015, 10, 1)
TANK = TankMeasures(Shape.RECTANGULAR, depth_mm=762.0, length_mm=1219.2, width_mm=914.4)
STATIONS, ENTRIES_EACH = 3, 2
MOST_SECONDS = 0.15
"""A child is stopped within this time of its first acknowledged check-in."""
_ways = multiprocessing.get_context("forkserver")
_ways.set_forkserver_preload([__name__])


@dataclass
class Told:
    """What children acknowledged: the number of each check-in, and refusals in words."""

    checkins: set[int] = field(default_factory=set)
    refusals: list[str] = field(default_factory=list)


def make_book(path: Path) -> list[str]:
    """A logbook with stations to check; gives their ids."""
    with_stations: list[str] = []
    logbook = create_logbook(path)
    tract = logbook.new_id()
    drafts: list[Draft] = [Draft(TODAY, TractFacts(tract, "North", latitude_deg=40.7))]
    for number in range(STATIONS):
        station = logbook.new_id()
        with_stations.append(station)
        facts = StationFacts(station, tract, f"Station {number}", TANK, apron_area_m2=14.0)
        drafts.append(Draft(TODAY, facts))
        drafts.append(Draft(date(2015, 5, 5), Chore(station, ChoreKind.INSTALL)))
    logbook.fixed_today = TODAY
    write(logbook, "Set up", drafts)
    logbook.close()
    return with_stations


def check_in(logbook: Logbook, stations: list[str], number: int) -> None:
    """Write one check-in of all stations, which carries its number."""
    drafts = []
    for station in stations:
        drafts.append(Draft(TODAY, Reading(station, below_rim_mm=float(number % 700))))
        drafts.append(Draft(TODAY, Note(station, f"{number}: " + "seen " * (number % 40))))
    write(logbook, f"Check-in {number}", drafts)


def write_on(
    path: Path, stations: list[str], first: int, told: Connection, most_bytes: int | None
) -> None:
    """Write check-ins for ever, telling of each once it is on disk; the child's whole life.

    With `most_bytes` no file may grow beyond them, as on a full disk; the first refusal
    is told, and ends it.
    """
    if most_bytes is not None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (most_bytes, most_bytes))
    number = first
    while True:
        try:
            with logbook_at(path, TODAY) as logbook:
                check_in(logbook, stations, number)
        except BrimbookError as error:
            told.send(str(error))
            return
        told.send(number)
        number += 1


def stop_suddenly(path: Path, stations: list[str], told: Told, luck: random.Random) -> None:
    """Let a child write, stop it at a random moment, and take down what it acknowledged."""
    here, there = _ways.Pipe(duplex=False)
    first = max(told.checkins, default=0) + 2
    child = _ways.Process(target=write_on, args=(path, stations, first, there, None), daemon=True)
    child.start()
    there.close()
    told.checkins.add(here.recv())
    time.sleep(luck.random() * MOST_SECONDS)
    os.kill(child.pid or 0, signal.SIGKILL)
    child.join()
    _take_down(here, told)


def fill_the_disk(path: Path, stations: list[str], told: Told, room: int) -> None:
    """Let a child write until there is no room for more than `room` bytes."""
    here, there = _ways.Pipe(duplex=False)
    most = path.stat().st_size + room
    first = max(told.checkins, default=0) + 2
    child = _ways.Process(target=write_on, args=(path, stations, first, there, most), daemon=True)
    child.start()
    there.close()
    child.join()
    _take_down(here, told)


def _take_down(here: Connection, told: Told) -> None:
    try:
        while True:
            said = here.recv()
            if isinstance(said, int):
                told.checkins.add(said)
            else:
                told.refusals.append(said)
    except (EOFError, OSError):
        here.close()


def fault_of(path: Path, told: Told) -> str | None:
    """What is damaged, torn or lost; None where everything acknowledged is there, whole."""
    with logbook_at(path, TODAY) as logbook:
        if (verdict := logbook.db.execute("PRAGMA integrity_check").fetchone()[0]) != "ok":
            return f"damaged: {verdict}"
        if logbook.db.execute("PRAGMA foreign_key_check").fetchall():
            return "rows point at nothing"
        counts = logbook.db.execute(
            "SELECT title, count(*) FROM batch JOIN entry USING (batch_id) GROUP BY batch_id"
        ).fetchall()
        notes = [one.fact.text for one in live_entries(logbook, (Note,))]
    torn = [title for title, count in counts
            if title.startswith("Check-in") and count != STATIONS * ENTRIES_EACH]  # fmt: skip
    if torn:
        return f"written in part: {torn[0]}"
    written = [int(note.partition(":")[0]) for note in notes]
    lost = sorted(number for number in told.checkins if written.count(number) != STATIONS)
    return f"acknowledged and lost: {lost[:5]}" if lost else None
