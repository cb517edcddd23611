"""Two processes that work on one logbook at a time, as two open windows do, and what came of it.

Each writes check-ins, counts up a note that both change, and looks for the other's news.
"""

from __future__ import annotations

import multiprocessing
import random
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from multiprocessing.connection import Connection
from multiprocessing.synchronize import Barrier
from pathlib import Path

from store.errors import BrimbookError
from store.logbook.backups import Why
from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.logbook.opening import Logbook, logbook_at
from store.records import Draft, Entry, Note
from tests.store.logbook.durability import STATIONS, TODAY, check_in, fault_of, make_book
from tests.store.logbook.durability import Told as Acknowledged
from tui.session import LogbookSession

COUNTED = "0: "
"""What the note begins with that both count up; no check-in has this number."""
STALE = "changed meanwhile"
NUMBERS_EACH = 1_000_000
"""What separates the numbers of one writer's check-ins from the other's."""
BACK_UP_EVERY = 25
MOST_LATE_S = 60.0
"""How much longer than asked a writer tries to write the least it has to."""
_ways = multiprocessing.get_context("forkserver")
_ways.set_forkserver_preload([__name__])


@dataclass
class Share:
    """What one writer did and met; `delays_s` are how old the other's news was when seen."""

    checkins: list[int] = field(default_factory=list)
    counted: int = 0
    stale: int = 0
    refusals: list[str] = field(default_factory=list)
    delays_s: dict[int, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Outcome:
    """Both shares, and what is wrong with the logbook in the end; empty where nothing is."""

    shares: tuple[Share, Share]
    faults: tuple[str, ...]


def work_apart(
    path: Path, seconds: float, pause_s: float, look_every_s: float, least: int = 0
) -> Outcome:
    """Let two processes work on a new logbook at `path` for a while, and look what is there.

    They begin together, and each goes on until it wrote `least` check-ins.
    """
    stations = make_book(path)
    with logbook_at(path, TODAY) as logbook:
        write(logbook, "Start counting", [Draft(TODAY, Note(stations[0], f"{COUNTED}0"))])
    pipes = [_ways.Pipe(duplex=False) for _ in range(2)]
    together = _ways.Barrier(2)
    how = seconds, pause_s, look_every_s, least
    children = [
        _ways.Process(target=_work, args=(path, stations, number, how, together, there))
        for number, (_, there) in enumerate(pipes)
    ]
    for child in children:
        child.start()
    for _, there in pipes:
        there.close()
    first, second = (here.recv() for here, _ in pipes)
    for child in children:
        child.join()
    return Outcome((first, second), tuple(_faults(path, (first, second))))


def _work(
    path: Path,
    stations: Sequence[str],
    number: int,
    how: tuple[float, float, float, int],
    together: Barrier,
    told: Connection,
) -> None:
    seconds, pause_s, look_every_s, least = how
    session, share, luck = LogbookSession(path, TODAY), Share(), random.Random(number)
    own = range(number * NUMBERS_EACH, (number + 1) * NUMBERS_EACH)
    counter = _counter(session.do(_notes))
    together.wait()
    ends, looks, step = time.monotonic() + seconds, 0.0, own.start
    while (left := ends - time.monotonic()) > 0.0 or (
        len(share.checkins) < least and left > -MOST_LATE_S
    ):
        step += 1
        try:
            session.do(lambda logbook, step=step: check_in(logbook, list(stations), step))
            share.checkins.append(step)
            if step % BACK_UP_EVERY == number:
                session.back_up(Why.IMPORT)
            _count_up(session, counter, share)
            if time.monotonic() >= looks and session.changed():
                looks = time.monotonic() + look_every_s
                next(session.boards(at_once=True))
                notes = session.do(_notes)
                counter = _counter(notes)
                _see(notes, own, share)
        except BrimbookError as error:
            share.refusals.append(str(error))
        time.sleep(luck.random() * 2.0 * pause_s)
    told.send(share)


def _notes(logbook: Logbook) -> list[Entry]:
    return live_entries(logbook, (Note,))


def _counter(notes: Sequence[Entry]) -> Entry:
    return next(one for one in notes if one.fact.text.startswith(COUNTED))


def _count_up(session: LogbookSession, counter: Entry, share: Share) -> None:
    """Add one to the note as this writer saw it last; refused where the other was first."""
    so_far = int(counter.fact.text.removeprefix(COUNTED))
    fact = Note(counter.fact.station_id, f"{COUNTED}{so_far + 1}")
    try:
        session.write("Count", [Draft(TODAY, fact, revises=counter.entry_id)])
    except BrimbookError as error:
        if STALE not in str(error):
            raise
        share.stale += 1
    else:
        share.counted += 1


def _see(notes: Sequence[Entry], own: range, share: Share) -> None:
    now = datetime.now(UTC)
    for note in notes:
        seen, colon, _ = note.fact.text.partition(":")
        if colon and int(seen) and int(seen) not in own:
            share.delays_s.setdefault(int(seen), (now - note.written_utc).total_seconds())


def _faults(path: Path, shares: tuple[Share, Share]) -> list[str]:
    acknowledged = Acknowledged({one for share in shares for one in share.checkins})
    faults = [sentence for share in shares for sentence in share.refusals]
    with logbook_at(path, TODAY) as logbook:
        notes = _notes(logbook)
    counted = int(_counter(notes).fact.text.removeprefix(COUNTED))
    if counted != sum(share.counted for share in shares):
        faults.append(f"{counted} counted, but {shares[0].counted} and {shares[1].counted} saved")
    if len(notes) != STATIONS * len(acknowledged.checkins) + 1:
        faults.append(f"{len(notes)} notes of {len(acknowledged.checkins)} check-ins")
    return [*faults, *filter(None, [fault_of(path, acknowledged)])]
