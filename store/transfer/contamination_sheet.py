"""Contamination from a CSV: the first row of an event makes it, later rows act on it.

A row belongs to the event of its station and cause that is still open on its day:
found by then, and not yet seen clear. Where there is none it makes a new event.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from store.errors import Problem
from store.logbook.places import Places
from store.records import Contamination, ContaminationAction, Draft, Entry
from store.transfer.cells import VOLUME, Cells
from store.transfer.sheets import (
    CONTAMINATION,
    Imported,
    past_day,
    raise_problems,
    read_sheet,
    station_of,
)
from store.vocabulary import Action, Cause


@dataclass(frozen=True)
class _Line:
    """What a row says; it is known if an entry says the same."""

    on: date
    station_id: str
    cause: Cause
    action: Action
    volume_l: float | None
    note: str


@dataclass
class _Event:
    event_id: str
    station_id: str
    cause: Cause
    found: date
    closed: date = date.max

    def is_open(self, on: date) -> bool:
        return self.found <= on < self.closed

    def take(self, on: date, action: Action) -> None:
        if action is Action.SEEN_CLEAR:
            self.closed = min(self.closed, on)


def read_contamination(
    path: Path, places: Places, live: Iterable[Entry], today: date, new_id: Callable[[], str]
) -> Imported:
    """Contamination events and what was done about them, row by row in order of date.

    Raises:
        BadFile: the file cannot be read or lacks a column.
        BadLines: any of its lines is rejected.
    """
    table, warnings = read_sheet(path, CONTAMINATION)
    problems: list[Problem] = []
    lines = [_line(Cells(row, problems), places, today) for row in table.rows]
    raise_problems(path, problems)
    events, held = _events(list(live))
    drafts: list[Draft] = []
    later = 0
    in_order = sorted((line for line in lines if line is not None), key=lambda line: line.on)
    for line in in_order:
        if line in held:
            continue
        held.add(line)
        event = _open_event(events, line)
        if event is None:
            event = _Event(new_id(), line.station_id, line.cause, line.on)
            events.append(event)
            drafts.append(Draft(line.on, _found(event, line)))
        else:
            later += 1
            drafts.append(Draft(line.on, _done(event, line)))
        event.take(line.on, line.action)
    if later:
        rows = "1 row tells" if later == 1 else f"{later} rows tell"
        warnings += (f"{path.name}: {rows} of work on an event that was still open.",)
    return Imported(tuple(drafts), len(in_order) - len(drafts), warnings)


def _line(cells: Cells, places: Places, today: date) -> _Line | None:
    on, station = past_day(cells, today), station_of(cells, places)
    cells.text("cause", required=True)
    cause = cells.word("cause", Cause)
    action = cells.word("action", Action) or Action.LEFT
    volume_l = cells.number("", VOLUME)
    if on is None or station is None or cause is None:
        return None
    return _Line(on, station.station_id, cause, action, volume_l, cells.text("note"))


def _events(live: Sequence[Entry]) -> tuple[list[_Event], set[_Line]]:
    """The events of the log, and what its entries say as lines of the sheet."""
    events: dict[str, _Event] = {}
    held: set[_Line] = set()
    for entry in live:
        if isinstance(entry.fact, Contamination):
            found = entry.fact
            events[found.event_id] = _Event(
                found.event_id, found.station_id, found.cause, entry.day
            )
    for entry in live:
        said = entry.fact
        if isinstance(said, Contamination | ContaminationAction) and said.event_id in events:
            event = events[said.event_id]
            event.take(entry.day, said.action)
            held.add(
                _Line(
                    entry.day, said.station_id, event.cause, said.action, said.volume_l, said.note
                )
            )
    return list(events.values()), held


def _open_event(events: Iterable[_Event], line: _Line) -> _Event | None:
    """The event a line is about, the one found last if several are open."""
    own = [
        event
        for event in events
        if (event.station_id, event.cause) == (line.station_id, line.cause)
        and event.is_open(line.on)
    ]
    return max(own, key=lambda event: event.found, default=None)


def _found(event: _Event, line: _Line) -> Contamination:
    return Contamination(
        event.event_id, line.station_id, line.cause, line.action, line.volume_l, line.note
    )


def _done(event: _Event, line: _Line) -> ContaminationAction:
    return ContaminationAction(
        event.event_id, line.station_id, line.action, line.volume_l, line.note
    )
