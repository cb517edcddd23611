"""Transactions of our own connection, and what a start leaves alone."""

import sqlite3
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import pytest

from store.logbook.connection import Connection
from store.logbook.ddl import MIGRATIONS
from store.logbook.schema import MIGRATION_NAMES
from store.logbook.upgrading import migrations


@pytest.fixture
def db(tmp_path):
    db = Connection(sqlite3.connect(tmp_path / "a.db"))
    db.execute("CREATE TABLE word (word TEXT UNIQUE)")
    yield db
    db.close()


def words(db):
    """What another connection sees."""
    path = db.execute("PRAGMA database_list").fetchone()[2]
    other = sqlite3.connect(path)
    found = [word for (word,) in other.execute("SELECT word FROM word ORDER BY rowid")]
    other.close()
    return found


def add(db, word):
    db.execute("INSERT INTO word VALUES (?)", [word])


def test_a_statement_is_kept_by_itself_and_a_transaction_as_a_whole(db):
    add(db, "one")
    assert words(db) == ["one"]
    with db.atomic():
        add(db, "two")
        assert words(db) == ["one"]
    assert words(db) == ["one", "two"]
    with suppress(sqlite3.IntegrityError), db.atomic():
        add(db, "three")
        add(db, "one")
    assert words(db) == ["one", "two"]


def test_a_part_that_fails_leaves_the_rest(db):
    with db.atomic():
        add(db, "one")
        with suppress(sqlite3.IntegrityError), db.atomic():
            add(db, "two")
            add(db, "one")
        with db.atomic():
            add(db, "three")
    assert words(db) == ["one", "three"]


def test_a_whole_that_fails_takes_its_parts_along(db):
    with suppress(ZeroDivisionError), db.atomic():
        with db.atomic():
            add(db, "one")
        raise ZeroDivisionError
    assert words(db) == []


def test_every_migration_is_applied_in_order():
    named = [step.__name__ for step in MIGRATIONS]
    assert named == sorted(named)
    assert [step.name for step in migrations._migrations] == named
    assert set(named) == MIGRATION_NAMES


def test_opening_a_logbook_that_is_up_to_date_loads_no_sqlite_utils(book_path):
    code = (
        "import sys; from pathlib import Path; from store.logbook.opening import open_logbook;"
        "open_logbook(Path(sys.argv[1])).close(); sys.exit('sqlite_utils' in sys.modules)"
    )
    root = Path(__file__).parents[3]
    done = subprocess.run([sys.executable, "-c", code, str(book_path)], cwd=root, check=False)
    assert done.returncode == 0
