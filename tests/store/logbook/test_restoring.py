"""A logbook brought back says what the backup says, and what stood there is kept."""

from pathlib import Path

import pytest

from store.errors import BadFile, NotFound
from store.logbook.backups import Why, back_up, backups_of
from store.logbook.entries import live_entries
from store.logbook.opening import logbook_at
from store.logbook.restoring import chosen_backup, restore
from tests.store.logbook.durability import TODAY, check_in, make_book


@pytest.fixture
def path(tmp_path):
    return tmp_path / "book.db"


def said(path):
    with logbook_at(path, TODAY) as logbook:
        return live_entries(logbook)


def test_a_sound_logbook_is_brought_back_while_it_is_open(path):
    stations = make_book(path)
    backup, first = back_up(path, Why.ASKED).path, said(path)
    with logbook_at(path, TODAY) as logbook:
        check_in(logbook, stations, 1)
        later = live_entries(logbook)
        kept = restore(path, backup)
        assert live_entries(logbook) == first
    assert said(path) == first
    assert said(kept) == later
    assert restore(path, kept) is not None
    assert said(path) == later, "and back again"


@pytest.mark.parametrize("damage", ["torn", "overwritten", "gone"])
def test_a_damaged_or_lost_logbook_is_brought_back(path, damage):
    make_book(path)
    backup, first = back_up(path, Why.ASKED).path, said(path)
    match damage:
        case "torn":
            path.write_bytes(path.read_bytes()[:6000])
        case "overwritten":
            path.write_text("not a logbook at all")
        case _:
            path.unlink()
    left = path.read_bytes() if path.exists() else None
    kept = restore(path, backup)
    assert said(path) == first
    assert (None if kept is None else kept.read_bytes()) == left
    with logbook_at(path) as logbook:
        assert logbook.db.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_a_damaged_logbook_stays_until_another_takes_its_place(path, monkeypatch):
    make_book(path)
    backup = back_up(path, Why.ASKED).path
    path.write_text("not a logbook at all")

    def stop(*_what):
        raise OSError("the power failed")

    monkeypatch.setattr(Path, "replace", stop)
    with pytest.raises(BadFile, match="the power failed"):
        restore(path, backup)
    assert path.read_text() == "not a logbook at all"


@pytest.mark.parametrize("wrong", ["text", "torn", "missing"])
def test_a_bad_backup_changes_nothing(path, tmp_path, wrong):
    make_book(path)
    first, backup = said(path), tmp_path / "backup.db"
    if wrong == "text":
        backup.write_text("no logbook")
    elif wrong == "torn":
        data = back_up(path, Why.ASKED).path.read_bytes()
        backup.write_bytes(data[: len(data) - 8000])
    with pytest.raises(BadFile, match="choose another backup"):
        restore(path, backup)
    assert said(path) == first
    assert not list(tmp_path.glob(".restored*"))


def test_a_backup_is_chosen_by_name_by_path_or_as_the_newest(path):
    make_book(path)
    with pytest.raises(NotFound, match="holds no backup"):
        chosen_backup(path, None)
    older, newer = back_up(path, Why.ASKED).path, back_up(path, Why.DAILY).path
    assert chosen_backup(path, None) == newer == backups_of(path)[0].path
    assert chosen_backup(path, older.name) == older
    assert chosen_backup(path, str(older)) == older
    with pytest.raises(NotFound, match="no backup nowhere"):
        chosen_backup(path, "nowhere")
