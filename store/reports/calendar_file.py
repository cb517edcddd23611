"""The windows of the season and what is due, as an iCalendar file (RFC 5545).

Entries have stable UIDs, and a SEQUENCE that grows from day to day, so that a calendar
that imports the file again updates what it has.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta

from icalendar import Calendar, Event

from store.model.assimilation import FilterCache
from store.model.snapshot import Snapshot
from store.model.working_out import board_of
from store.season.cautions import water_and_weight
from store.season.prompt import WORK
from store.season.windows import DEFAULT_SEASON, Window, windows_between
from store.units import Units
from store.views.due import DueLine, due_lines

UID_HOST = "brimbook"
FIRST_SEQUENCE_DAY = date(2000, 1, 1)


def season_calendar(snapshot: Snapshot, *, memory: FilterCache | None = None) -> bytes:
    """Windows of this year and the next as days, and a day of work for each open prompt."""
    calendar = Calendar()
    calendar.add("prodid", "-//Brimbook//season//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("x-wr-calname", "Brimbook")
    for event in (*_windows(snapshot), *_work(snapshot, memory)):
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def _windows(snapshot: Snapshot) -> Iterator[Event]:
    """One event for tracts that share a window, named by the first of them."""
    year = snapshot.today.year
    span = date(year, 1, 1), date(year + 1, 12, 31)
    seasons = snapshot.seasons or {"usual": DEFAULT_SEASON}
    tracts: dict[Window, list[str]] = defaultdict(list)
    for tract_id, season in seasons.items():
        for window in windows_between(*span, season):
            tracts[window].append(tract_id)
    for window, shared in tracts.items():
        uid = f"window-{window.kind.value.replace(' ', '-')}-{window.first.year}-{shared[0]}"
        named = [tract.name for one, tract in snapshot.places.tracts.items() if one in shared]
        where = "" if len(shared) == len(seasons) else f", {', '.join(named)}"
        yield _days(snapshot, uid, f"{window.name}{where}", window.first, window.last)


def _work(snapshot: Snapshot, memory: FilterCache | None) -> Iterator[Event]:
    for line in due_lines(board_of(snapshot, memory)):
        prompt = line.prompt
        last = max(prompt.last or snapshot.today, snapshot.today)
        first = min(max(prompt.first, snapshot.today), last)
        uid = f"{prompt.station_id}-{prompt.kind.value.replace(' ', '-')}-{prompt.first.year}"
        uid += f"-{prompt.event_id}" if prompt.event_id else ""
        title = f"{WORK[prompt.kind]}: {line.label}, {line.tract}"
        event = _days(snapshot, uid, title, first, last)
        event.add("description", _told(line, snapshot.units))
        yield event


def _told(line: DueLine, units: Units) -> str:
    if not line.volume_l:
        return line.prompt.text
    return f"{line.prompt.text} It takes {water_and_weight(line.volume_l, units)}."


def _days(snapshot: Snapshot, uid: str, title: str, first: date, last: date) -> Event:
    """Whole days, both included; RFC 5545 counts the end without its day."""
    event = Event()
    event.add("uid", f"{uid}@{UID_HOST}")
    event.add("sequence", max((snapshot.today - FIRST_SEQUENCE_DAY).days, 0))
    event.add("dtstamp", datetime.combine(snapshot.today, time(), UTC))
    event.add("dtstart", first)
    event.add("dtend", last + timedelta(days=1))
    event.add("summary", title)
    event.add("transp", "TRANSPARENT")
    return event
