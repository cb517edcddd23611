import shutil
import sqlite3
import stat
from pathlib import Path

import pytest

from store.errors import BadFile, Refused
from store.logbook import opening
from store.logbook.backups import fault_of
from store.logbook.entries import live_entries
from store.logbook.journal import undo, write
from store.logbook.opening import create_logbook, logbook_at, open_logbook, working_copy
from store.logbook.settings import keep_setting, setting
from store.model.snapshot import load
from store.records import Draft, TractFacts

DEMO = Path(__file__).parents[3] / "demo.db"


def test_a_new_logbook_is_a_wal_file_that_opens_again(tmp_path):
    path = tmp_path / "made" / "book.db"
    create_logbook(path).close()
    with logbook_at(path) as logbook:
        assert logbook.db.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert logbook.db.execute("PRAGMA foreign_keys").fetchone() == (1,)
    with pytest.raises(Refused, match="exists already"):
        create_logbook(path)


def other_program(path):
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE recipes (name TEXT)")
    connection.commit()
    connection.close()


def torn(path):
    create_logbook(path).close()
    path.write_bytes(path.read_bytes()[:5000])


WRONG_FILES = {
    "a directory": (lambda path: path.mkdir(), "is a directory"),
    "a text file": (lambda path: path.write_text("station,level\n"), "not a Brimbook logbook"),
    "an empty file": (lambda path: path.write_bytes(b""), "not a Brimbook logbook"),
    "another program's": (other_program, "another program"),
    "a torn file": (torn, "cannot be read as a logbook"),
}


@pytest.mark.parametrize("name", WRONG_FILES)
def test_wrong_files_get_a_sentence_and_stay_as_they_are(tmp_path, name):
    make, sentence = WRONG_FILES[name]
    path = tmp_path / "book.db"
    make(path)
    before = path.read_bytes() if path.is_file() else None
    with pytest.raises(BadFile, match=sentence):
        open_logbook(path)
    assert (path.read_bytes() if path.is_file() else None) == before
    assert {p.name for p in tmp_path.iterdir()} <= {"book.db"}


def test_a_missing_file_says_how_to_make_one(tmp_path):
    with pytest.raises(BadFile, match=r"make it with: brimbook new"):
        open_logbook(tmp_path / "book.db")
    assert not list(tmp_path.iterdir())


def test_a_read_only_file_is_read_and_left_alone(tmp_path):
    path = tmp_path / "book.db"
    create_logbook(path).close()
    path.chmod(0o444)
    with logbook_at(path) as logbook:
        assert "is read-only" in logbook.only_read
        assert live_entries(logbook) == []
        with pytest.raises(Refused, match="make it writable"):
            keep_setting(logbook, "units", "metric")
    assert [one.name for one in tmp_path.iterdir()] == ["book.db"]
    path.chmod(0o600)
    with logbook_at(path) as logbook:
        keep_setting(logbook, "units", "metric")


def test_a_file_of_a_newer_version_is_read_and_left_alone(tmp_path):
    path = tmp_path / "book.db"
    logbook = create_logbook(path)
    later = "INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES (?, ?, ?)"
    logbook.db.execute(later, ["brimbook", "m999_later", "2030-01-01"])
    logbook.close()
    before = path.read_bytes()
    with logbook_at(path) as logbook:
        assert "newer Brimbook (m999_later)" in logbook.only_read
        assert live_entries(logbook) == []
        tract = Draft(logbook.today, TractFacts(logbook.new_id(), "North"))
        for writes in (
            lambda: write(logbook, "A tract", [tract]),
            lambda: undo(logbook),
            lambda: keep_setting(logbook, "units", "metric"),
        ):
            with pytest.raises(Refused, match="install the newer version"):
                writes()
        with pytest.raises(sqlite3.OperationalError, match="readonly"):
            logbook.db.execute("DELETE FROM setting")
    assert path.read_bytes() == before


def test_a_working_copy_leaves_the_original_alone(tmp_path):
    path = tmp_path / "book.db"
    create_logbook(path).close()
    path.chmod(0o444)
    before = path.read_bytes()
    with working_copy(path) as copy:
        with logbook_at(copy) as logbook:
            keep_setting(logbook, "units", "metric")
        with logbook_at(copy) as logbook:
            assert setting(logbook, "units") == "metric"
    assert path.read_bytes() == before
    assert not copy.exists()


def test_damage_that_is_no_text_gets_a_sentence(tmp_path):
    path = tmp_path / "book.db"
    create_logbook(path).close()
    whole = path.read_bytes()
    path.write_bytes(whole.replace(b"CREATE TABLE setting", b"CREATE \x80ABLE setting"))
    assert path.read_bytes() != whole
    with pytest.raises(BadFile, match="cannot be read as a logbook"):
        open_logbook(path)
    assert "cannot be read" in fault_of(path)


def test_damage_found_while_reading_gets_a_sentence(tmp_path):
    path = tmp_path / "book.db"
    create_logbook(path).close()
    with pytest.raises(BadFile, match="cannot be read as a logbook"), logbook_at(path):
        raise sqlite3.DatabaseError("database disk image is malformed")


@pytest.mark.parametrize("day", [b"2025-02-04", b"2025-07-12"], ids=["of weather", "of an entry"])
def test_a_day_that_is_damaged_gets_a_sentence(tmp_path, day):
    path = Path(shutil.copy(DEMO, tmp_path / "book.db"))
    whole = path.read_bytes()
    path.write_bytes(whole.replace(day, b"\x00" + day[1:]))
    assert path.read_bytes() != whole
    with pytest.raises(BadFile, match="where a day belongs"), logbook_at(path) as logbook:
        load(logbook)


def test_a_logbook_is_whole_or_not_there(tmp_path, monkeypatch):
    def torn(_db):
        raise sqlite3.OperationalError("disk full")

    monkeypatch.setattr(opening, "_bring_up", torn)
    with pytest.raises(BadFile, match="cannot be made"):
        create_logbook(tmp_path / "book.db")
    assert not list(tmp_path.iterdir())


def test_a_new_logbook_is_its_owners_alone(tmp_path):
    path = tmp_path / "book.db"
    with create_logbook(path).db.conn:
        pass
    with logbook_at(path) as logbook:
        keep_setting(logbook, "units", "metric")
        modes = {one.name: stat.S_IMODE(one.stat().st_mode) for one in tmp_path.iterdir()}
    assert modes == {"book.db": 0o600, "book.db-wal": 0o600, "book.db-shm": 0o600}
