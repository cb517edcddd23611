"""Logbooks that people write apart, at random: entries, changes, withdrawals, undos, redos."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from random import Random

from store.errors import Refused
from store.exchange.merging import Merged, logbook_of, merge
from store.exchange.text_out import text_lines
from store.logbook.backups import copy_to
from store.logbook.entries import live_entries
from store.logbook.journal import redo, undo, write
from store.logbook.opening import Logbook, open_logbook
from store.records import (
    Chore,
    Draft,
    Fact,
    Note,
    Reading,
    StationFacts,
    TankMeasures,
    TractFacts,
    Withdrawal,
)
from store.vocabulary import ChoreKind, Shape
from tests.new_logbook import new_logbook

TODAY = date(2026, 10, 1)
TANK = TankMeasures(Shape.RECTANGULAR, depth_mm=762.0, length_mm=1219.2, width_mm=914.4)


@dataclass
class People:
    """Logbooks that began as one, all on a clock that goes on with every look."""

    books: list[Logbook]
    luck: Random
    moment: datetime = datetime(2026, 1, 1, tzinfo=UTC)

    def tick(self) -> datetime:
        self.moment += timedelta(milliseconds=self.luck.choice((0, 1, 5)))
        return self.moment


def begin(folder: Path, count: int, luck: Random) -> People:
    """So many copies of a logbook with a tract, two stations and a few readings."""
    first = new_logbook(folder / "0.db")
    people = People([first], luck)
    _prepare(first, people)
    for _ in range(4):
        act(first, luck)
    for number in range(1, count):
        copy_to(first.path, folder / f"{number}.db")
        book = open_logbook(folder / f"{number}.db")
        _prepare(book, people)
        people.books.append(book)
    return people


def _prepare(book: Logbook, people: People) -> None:
    book.clock = people.tick
    book.fixed_today = TODAY
    book.db.execute("PRAGMA synchronous = OFF")


def act(book: Logbook, luck: Random) -> None:
    """One thing that a person does; what the logbook refuses is left undone."""
    live = live_entries(book)
    try:
        match luck.choice(("new", "new", "change", "change", "withdraw", "undo", "redo")):
            case "new":
                write(book, "New", [_new(book, live, luck) for _ in range(luck.randint(1, 2))])
            case "change" if live:
                old = luck.choice(live)
                write(book, "Change", [Draft(old.day, _changed(old.fact, luck), old.entry_id)])
            case "withdraw" if live:
                old = luck.choice(live)
                write(book, "Take back", [Draft(old.day, Withdrawal("slip"), old.entry_id)])
            case "undo":
                undo(book)
            case "redo":
                redo(book)
    except Refused:
        return


def _new(book: Logbook, live: list, luck: Random) -> Draft:
    day = TODAY - timedelta(days=luck.randint(0, 40))
    tracts = [e.fact.tract_id for e in live if isinstance(e.fact, TractFacts)]
    stations = [e.fact.station_id for e in live if isinstance(e.fact, StationFacts)]
    if not tracts or luck.random() < 0.1:
        return Draft(day, TractFacts(book.new_id(), luck.choice(("North", "South", "West"))))
    if not stations or luck.random() < 0.2:
        name = luck.choice(("Oak", "Fern", "Rocks"))
        return Draft(day, StationFacts(book.new_id(), luck.choice(tracts), name, TANK, 14.0))
    station = luck.choice(stations)
    facts: tuple[Fact, ...] = (
        Reading(station, float(luck.randint(0, 760)), after_work=luck.random() < 0.2),
        Chore(station, luck.choice((ChoreKind.FILL, ChoreKind.INSTALL, ChoreKind.RETIRE))),
        Note(station, f"note {luck.random()}"),
    )
    return Draft(day, luck.choice(facts))


def _changed(fact: Fact, luck: Random) -> Fact:
    match fact:
        case Reading(station_id=station):
            return Reading(station, float(luck.randint(0, 760)))
        case TractFacts(tract_id=tract, name=name):
            return TractFacts(tract, name, latitude_deg=float(luck.randint(30, 50)))
        case StationFacts(station_id=station, tract_id=tract, name=name):
            return StationFacts(station, tract, name, TANK, float(luck.randint(0, 30)))
        case Chore(station_id=station, chore=chore):
            return Chore(station, chore, float(luck.randint(1, 300)))
        case _:
            return fact


def bring(mine: Logbook, theirs: Logbook, *, dry_run: bool = False) -> Merged:
    with logbook_of(theirs.path) as copy:
        return merge(mine, copy, dry_run=dry_run)


def copy_of(book: Logbook, path: Path, people: People) -> Logbook:
    copy_to(book.path, path)
    copy = open_logbook(path)
    _prepare(copy, people)
    return copy


def said(book: Logbook) -> tuple[bytes, list]:
    """All that a logbook holds, and what of it is live."""
    return b"".join(text_lines(book)), [(e.entry_id, e.day, e.fact) for e in live_entries(book)]


def check_merging(folder: Path, seed: int) -> None:
    """Three people write apart, meet and go on; see that merging is what it says it is."""
    luck = Random(seed)
    people = begin(folder, 3, luck)
    for book in people.books:
        for _ in range(luck.randint(0, 6)):
            act(book, luck)
    a, b, c = people.books
    opened = list(people.books)

    def copy(book: Logbook, name: str) -> Logbook:
        opened.append(copy_of(book, folder / f"{name}.db", people))
        return opened[-1]

    try:
        before = said(a)
        foreseen = bring(a, b, dry_run=True)
        assert said(a) == before, "a dry run changes nothing"
        ab, ba = copy(a, "ab"), copy(b, "ba")
        assert bring(ab, b) == foreseen
        bring(ba, a)
        assert said(ab) == said(ba), "who merges makes no difference"
        together = said(ab)
        assert bring(ab, b).batches == () == bring(ab, a).batches
        assert said(ab) == together, "merging again adds nothing"
        for one in (a, b):
            lost = [line for line in said(one)[0].splitlines()[1:-1] if line not in together[0]]
            assert lost == [], "nothing is dropped"
        ab_c, bc, a_bc = copy(ab, "ab_c"), copy(b, "bc"), copy(a, "a_bc")
        bring(ab_c, c)
        bring(bc, c)
        bring(a_bc, bc)
        assert said(ab_c) == said(a_bc), "in what order makes no difference"
        assert ab_c.db.execute("PRAGMA foreign_key_check").fetchall() == []
        _check_undo(ab_c, luck)
    finally:
        for book in opened:
            book.close()


def _facts(book: Logbook) -> list[str]:
    return sorted(repr((e.day, e.fact)) for e in live_entries(book))


def _check_undo(book: Logbook, luck: Random) -> None:
    """Undoing a few and redoing them gives what was; undoing all leaves nothing."""
    before, done = _facts(book), 0
    for _ in range(luck.randint(1, 4)):
        try:
            undo(book)
        except Refused:
            break
        done += 1
    for _ in range(done):
        redo(book)
    assert _facts(book) == before, "redo gives back what undo took"
    act(book, luck)
    while True:
        try:
            undo(book)
        except Refused:
            break
    assert _facts(book) == [], "nothing is left once all is undone"
