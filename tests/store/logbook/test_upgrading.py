"""A logbook of every released version opens, after a backup, and says what it said."""

import sqlite3
from contextlib import closing
from datetime import timedelta

import pytest
from sqlite_utils import Database

from store.errors import BadFile
from store.logbook.backups import Why, backup_folder, backups_of, digest
from store.logbook.entries import live_entries
from store.logbook.journal import undo, write
from store.logbook.opening import logbook_at
from store.logbook.rows import kind_of
from store.logbook.schema import KINDS, MIGRATION_NAMES
from store.logbook.upgrading import migrations
from store.logbook.weather_rows import weather_layers
from store.model.snapshot import load
from store.records import Draft, Note
from tests.store.logbook.schema_fixtures import DAY, FACTS, FOLDER, RECORD, STATION

RELEASED = sorted(FOLDER.glob("*.sql"), key=lambda file: file.name)
TODAY = DAY + timedelta(days=30)


@pytest.fixture(params=RELEASED, ids=lambda file: file.stem)
def old(request, tmp_path):
    """A logbook file as a version left it."""
    path = tmp_path / "book.db"
    with closing(sqlite3.connect(path)) as db:
        db.executescript(request.param.read_text())
    return path


def digest_of(path):
    with closing(sqlite3.connect(path)) as db:
        return digest(db)


def kinds_in(path):
    with closing(sqlite3.connect(path)) as db:
        return {kind for (kind,) in db.execute("SELECT kind FROM entry_kind")}


def test_there_is_one_for_every_version_that_people_have():
    assert [file.stem[:4] for file in RELEASED][:6] == [f"m{n:03}" for n in range(1, 7)]
    assert {kind_of(type(fact)) for fact in FACTS} == set(KINDS) - {"withdrawal"}


def test_one_that_cannot_be_written_is_told_and_left_as_it_is(old):
    old.chmod(0o444)
    before = old.read_bytes()
    with closing(sqlite3.connect(old)) as db:
        applied = {name for (name,) in db.execute("SELECT name FROM _sqlite_migrations")}
    if applied == MIGRATION_NAMES:
        with logbook_at(old) as logbook:
            assert "is read-only" in logbook.only_read
    else:
        with pytest.raises(BadFile, match=r"is read-only.* older version"), logbook_at(old):
            pass
    assert old.read_bytes() == before


def test_it_is_brought_up_after_a_backup_and_says_what_it_said(old):
    before, kinds = digest_of(old), kinds_in(old)
    pending = bool(MIGRATION_NAMES - old_migrations(old))
    with logbook_at(old, TODAY) as logbook:
        assert migrations.pending(Database(logbook.db.conn)) == []
        held = [entry.fact for entry in live_entries(logbook)]
        assert held == [fact for fact in FACTS if kind_of(type(fact)) in kinds]
        (layer,) = weather_layers(logbook, RECORD)
        assert layer.weather.rain_mm.tolist() == [3.0]
        assert load(logbook).today == TODAY
        write(logbook, "A note", [Draft(TODAY, Note(STATION, "since"))])
        undo(logbook)
        assert [entry.fact for entry in live_entries(logbook)] == held
        assert logbook.db.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert logbook.db.execute("PRAGMA foreign_key_check").fetchall() == []
    if pending:
        (made,) = backups_of(old)
        assert made.why is Why.UPGRADE
        assert digest_of(made.path) == before
    with logbook_at(old):
        assert len(backups_of(old)) == pending, "it is brought up once"


def old_migrations(path):
    with closing(sqlite3.connect(path)) as db:
        return {name for (name,) in db.execute("SELECT name FROM _sqlite_migrations")}


def test_without_a_backup_it_is_left_as_it_is(tmp_path):
    path = tmp_path / "book.db"
    with closing(sqlite3.connect(path)) as db:
        db.executescript(RELEASED[0].read_text())
    before = digest_of(path)
    backup_folder(path).write_text("in the way")
    with pytest.raises(BadFile, match="could not be backed up"), logbook_at(path):
        pass
    assert digest_of(path) == before
