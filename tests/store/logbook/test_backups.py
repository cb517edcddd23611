"""Backups: the same as the logbook, private, rotated, made while it is in use."""

import os
import stat
from datetime import UTC, datetime, timedelta

import pytest

from store.errors import BadFile
from store.logbook import backups
from store.logbook.backups import KEPT, Why, back_up, backup_folder, backups_of, daily_backup
from store.logbook.entries import live_entries
from store.logbook.opening import logbook_at
from tests.store.logbook.durability import TODAY, check_in, make_book

NOON = datetime(2026, 10, 1, 12, tzinfo=UTC)


@pytest.fixture
def path(tmp_path):
    return tmp_path / "book.db"


def said(path):
    with logbook_at(path, TODAY) as logbook:
        return live_entries(logbook)


def test_a_backup_says_the_same_and_is_private(path):
    stations = make_book(path)
    with logbook_at(path, TODAY) as logbook:
        check_in(logbook, stations, 1)
        made = back_up(path, Why.ASKED, NOON)
        assert (path.with_name("book.db-wal")).stat().st_size, "some of it is in the log alone"
    assert said(made.path) == said(path)
    assert backups_of(path) == [made]
    assert stat.S_IMODE(made.path.stat().st_mode) == 0o600
    assert stat.S_IMODE(made.path.parent.stat().st_mode) == 0o700
    assert [one.name for one in made.path.parent.iterdir()] == [made.path.name]


def test_a_backup_is_made_between_two_halves_of_nothing(path):
    """What another program has not finished writing is not in it."""
    stations = make_book(path)
    before = said(path)
    with logbook_at(path, TODAY) as logbook, logbook.db.atomic():
        check_in(logbook, stations, 1)
        made = back_up(path, Why.ASKED, NOON)
    assert said(made.path) == before != said(path)


def test_the_newest_of_a_kind_are_kept_and_those_asked_for_all(path):
    make_book(path)
    for day in range(KEPT[Why.DAILY] + 3):
        back_up(path, Why.DAILY, NOON + timedelta(days=day))
        back_up(path, Why.ASKED, NOON + timedelta(days=day, hours=1))
    daily = [one for one in backups_of(path) if one.why is Why.DAILY]
    assert [one.made for one in daily] == [
        NOON + timedelta(days=day) for day in range(KEPT[Why.DAILY] + 2, 2, -1)
    ]
    assert len(backups_of(path)) == len(daily) + KEPT[Why.DAILY] + 3


def test_one_a_day_of_use(path):
    make_book(path)
    first = daily_backup(path, NOON)
    assert first is not None
    assert daily_backup(path, NOON + timedelta(minutes=5)) is None
    assert daily_backup(path, NOON + timedelta(days=1)) is not None


def test_a_copy_that_differs_is_found_out_and_not_kept(path, monkeypatch):
    make_book(path)
    digests = iter(("one", "another"))
    monkeypatch.setattr(backups, "digest", lambda _: next(digests))
    with pytest.raises(BadFile, match="does not say the same"):
        back_up(path, Why.ASKED)
    assert list(backup_folder(path).iterdir()) == []


def test_where_none_can_be_made_it_says_so(path):
    make_book(path)
    backup_folder(path).write_text("in the way")
    with pytest.raises(BadFile, match="File exists"):
        back_up(path, Why.DAILY)


def test_other_files_in_the_folder_are_left_alone(path):
    make_book(path)
    backup_folder(path).mkdir()
    for name in ("mine.db", "20261001T120000.000000Z-other.db", "notes.txt"):
        (backup_folder(path) / name).write_text("x")
    for _ in range(KEPT[Why.RESTORE] + 1):
        back_up(path, Why.RESTORE)
    assert len(list(backup_folder(path).iterdir())) == KEPT[Why.RESTORE] + 3


def test_what_was_cut_off_is_removed_after_a_day(path):
    make_book(path)
    backup_folder(path).mkdir()
    old, new = (backup_folder(path) / f".unfinished-{name}" for name in ("old", "new"))
    for left in (old, new):
        left.write_text("x")
    os.utime(old, (0, 0))
    back_up(path, Why.DAILY)
    assert not old.exists()
    assert new.exists()
