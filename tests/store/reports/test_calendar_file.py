"""The calendar file, read back by another library than the one that wrote it."""

from datetime import UTC, date, timedelta

import vobject

from store.logbook.opening import create_logbook
from store.model.snapshot import load
from store.model.working_out import board_of
from store.reports.calendar_file import season_calendar
from store.views.due import due_lines
from store.vocabulary import PromptKind, WindowKind
from tests.store.conftest import TODAY, snapshot_on


def read(content):
    return {event.uid.value: event for event in vobject.readOne(content.decode()).vevent_list}


LAST_WINTER = 1


def test_windows_and_due_work_stand_in_it(snapshot, known):
    events = read(season_calendar(snapshot, memory=known))
    tract_id, season = next(iter(snapshot.seasons.items()))
    fill = events[f"window-fill-2015-{tract_id}@brimbook"]
    window = season.window(WindowKind.FILL, 2015)
    assert fill.dtstart.value == window.first
    assert fill.dtend.value == window.last + timedelta(days=1), "the end is without its day"
    assert fill.dtstamp.value.tzinfo in (UTC, vobject.icalendar.utc)
    lines = due_lines(board_of(snapshot, known))
    assert len(events) == len(lines) + 2 * len(WindowKind) + LAST_WINTER
    wanted = next(line for line in lines if line.prompt.kind is PromptKind.FILL)
    (told,) = [
        event
        for event in events.values()
        if event.summary.value == f"Fill the tank: {wanted.label}, {wanted.tract}"
    ]
    assert f"{snapshot.units.volume(wanted.volume_l):.0f} gal" in told.description.value
    assert " lb." in told.description.value
    assert told.dtstart.value >= TODAY


def test_the_same_work_keeps_its_uid_and_counts_up(book_path, known):
    one, two = (read(season_calendar(snapshot_on(book_path, day), memory=known)) for day in DAYS)
    kept = one.keys() & two.keys()
    assert len(kept) > 8
    for uid in kept:
        assert int(two[uid].sequence.value) > int(one[uid].sequence.value)


DAYS = TODAY, TODAY + timedelta(days=1)


def test_lines_are_short_and_end_as_the_standard_says(snapshot, known):
    content = season_calendar(snapshot, memory=known)
    assert content.endswith(b"END:VCALENDAR\r\n")
    assert all(len(line) <= 75 for line in content.split(b"\r\n"))
    assert b"\n" not in content.replace(b"\r\n", b"")


def test_an_empty_logbook_has_its_windows_alone(tmp_path):
    logbook = create_logbook(tmp_path / "book.db")
    logbook.fixed_today = date(2024, 2, 29)
    events = read(season_calendar(load(logbook)))
    logbook.close()
    assert len(events) == 2 * len(WindowKind) + LAST_WINTER
    assert all(uid.startswith("window-") for uid in events)
