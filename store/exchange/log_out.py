"""The log in the columns of the files that can be imported, to be imported again unchanged."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from store.exchange.exact import gallons_or_litres, inches_or_mm, quantity
from store.exchange.filled_columns import filled
from store.logbook.places import Places
from store.records import (
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Entry,
    Note,
    RampCheck,
    Reading,
    Sighting,
)
from store.reports.report import Column, Measure, Report, Row
from store.transfer.day_sheet import Ramp
from store.transfer.importing import SheetKind

START = (Column("date"), Column("station"))
NOTE = Column("note", sentences=True)
BELOW_RIM = quantity("below_rim_in", "below_rim_mm", "below rim", Measure.DEPTH)
WATER = quantity("gallons", "litres", "water", Measure.VOLUME)
READINGS = (*START, *BELOW_RIM, Column("level"), Column("when"), NOTE)
CHORES = (*START, Column("chore"), *WATER, NOTE)
CONTAMINATION = (*START, Column("cause"), Column("action"), *WATER, NOTE)
SHEET = (*START, Column("use"), Column("ramp"), NOTE)


@dataclass(frozen=True)
class Asked:
    """Which entries are wanted: of a station, from a day, to a day; None for no bound."""

    station_id: str | None = None
    first: date | None = None
    last: date | None = None

    def wants(self, entry: Entry) -> bool:
        return (
            (self.station_id is None or getattr(entry.fact, "station_id", "") == self.station_id)
            and (self.first is None or entry.day >= self.first)
            and (self.last is None or entry.day <= self.last)
        )


def log_rows(kind: SheetKind, places: Places, live: Sequence[Entry], asked: Asked) -> Report:
    """The entries of one kind of import, oldest first; notes tell what has no column there.

    Readings come with a note of their day; `SheetKind.SHEET` has use, ramps and all notes.
    """
    wanted = [entry for entry in live if asked.wants(entry)]
    columns, rows_of, note = _KINDS[kind]
    return filled(columns, tuple(rows_of(places, wanted, live)), note(wanted))


def _start(places: Places, entry: Entry) -> tuple[date, str]:
    return entry.day, places.label(places.stations[getattr(entry.fact, "station_id")])  # noqa: B009


def _readings(places: Places, wanted: Iterable[Entry], live: Iterable[Entry]) -> Iterable[Row]:
    notes: dict[tuple[date, str], list[str]] = defaultdict(list)
    for entry in live:
        if isinstance(entry.fact, Note):
            notes[entry.day, entry.fact.station_id].append(entry.fact.text)
    for entry in wanted:
        if isinstance(entry.fact, Reading):
            own = notes[entry.day, entry.fact.station_id]
            level = entry.fact.mark
            yield (
                *_start(places, entry),
                *inches_or_mm(entry.fact.below_rim_mm),
                entry.fact.below_rim_mm,
                None if level is None else level.value,
                entry.fact.when.value if entry.fact.after_work else None,
                own.pop(0) if own else None,
            )


def _chores(places: Places, wanted: Iterable[Entry], _live: Iterable[Entry]) -> Iterable[Row]:
    for entry in wanted:
        if isinstance(entry.fact, Chore):
            done = entry.fact
            volume = (*gallons_or_litres(done.volume_l), done.volume_l)
            yield (*_start(places, entry), done.chore.value, *volume, done.note)


def _contamination(places: Places, wanted: Iterable[Entry], live: Iterable[Entry]) -> Iterable[Row]:
    causes = {
        entry.fact.event_id: entry.fact.cause.value
        for entry in live
        if isinstance(entry.fact, Contamination)
    }
    for entry in wanted:
        said = entry.fact
        if isinstance(said, Contamination | ContaminationAction):
            volume = (*gallons_or_litres(said.volume_l), said.volume_l)
            cause = causes[said.event_id]
            yield (*_start(places, entry), cause, said.action.value, *volume, said.note)


def _sheet(places: Places, wanted: Iterable[Entry], _live: Iterable[Entry]) -> Iterable[Row]:
    for entry in wanted:
        match entry.fact:
            case Sighting(use=use, camera_per_day=None) if use is not None:
                yield (*_start(places, entry), use.value, None, None)
            case RampCheck(in_place=in_place):
                ramp = Ramp.IN_PLACE if in_place else Ramp.MISSING
                yield (*_start(places, entry), None, ramp.value, None)
            case Note(text=text):
                yield (*_start(places, entry), None, None, text)
            case _:
                pass


def _no_note(_wanted: Iterable[Entry]) -> tuple[str, ...]:
    return ()


def _signs_note(wanted: Iterable[Entry]) -> tuple[str, ...]:
    signs = sum(isinstance(entry.fact, ContaminationSign) for entry in wanted)
    kinds = sum(
        isinstance(entry.fact, Contamination) and bool(entry.fact.animal) for entry in wanted
    )
    if not signs + kinds:
        return ()
    return (
        "What a carcass was, and what the water smelled and looked like, have no column here; "
        "`brimbook text` writes all of it.",
    )


def _cameras_note(wanted: Iterable[Entry]) -> tuple[str, ...]:
    if not any(
        isinstance(entry.fact, Sighting) and entry.fact.camera_per_day is not None
        for entry in wanted
    ):
        return ()
    return ("Use seen with a camera's count has no row here; `brimbook text` writes all of it.",)


_KINDS: dict[
    SheetKind,
    tuple[
        tuple[Column, ...],
        Callable[[Places, Iterable[Entry], Iterable[Entry]], Iterable[Row]],
        Callable[[Iterable[Entry]], tuple[str, ...]],
    ],
] = {
    SheetKind.READINGS: (READINGS, _readings, _no_note),
    SheetKind.CHORES: (CHORES, _chores, _no_note),
    SheetKind.CONTAMINATION: (CONTAMINATION, _contamination, _signs_note),
    SheetKind.SHEET: (SHEET, _sheet, _cameras_note),
}
LOG_KINDS = tuple(_KINDS)
"""The kinds of import that bring entries of the log."""
