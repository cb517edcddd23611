"""Open a logbook file, make a new one, or work on a copy, and say what is wrong."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime
from pathlib import Path

from store.errors import BadFile, Refused
from store.logbook.backups import PRIVATE, Why, back_up
from store.logbook.connecting import BUSY_SECONDS, DAMAGE, connect, read_only
from store.logbook.connection import Connection
from store.logbook.ddl import MIGRATION_SET
from store.logbook.ids import IdMaker, MakeId
from store.logbook.schema import APPLICATION_ID, MIGRATION_NAMES

SQLITE_MAGIC = b"SQLite format 3\0"
SHOWN_AS_OF = "shown_as_of"
"""The setting of a logbook that opens on a day of its own, as 2025-10-12; empty for none."""


def utc_now() -> datetime:
    return datetime.now(UTC)


@dataclass
class Logbook:
    """An open logbook: one SQLite connection, to be used in one thread.

    `clock` gives the UTC moment of writing, `make_id` the ids and `today` the civil
    date that the logbook is worked on; all three can be fixed for tests and demos.
    """

    path: Path
    db: Connection
    clock: Callable[[], datetime] = utc_now
    make_id: MakeId = field(default_factory=IdMaker)
    fixed_today: date | None = None
    shown_as_of: date | None = None
    """The day of its own that it opens on, as a demo does; a person's logbook has none."""
    only_read: str = ""
    """Why it can be read but not written; empty where it can be."""

    @property
    def today(self) -> date:
        return self.fixed_today or self.shown_as_of or datetime.now().date()

    def new_id(self) -> str:
        return self.make_id(self.clock())

    def refuse_only_read(self) -> None:
        """Raises: Refused, where the logbook is open for reading alone."""
        if self.only_read:
            raise Refused(self.only_read)

    @contextmanager
    def reading(self) -> Iterator[None]:
        """What is read meanwhile is the logbook of one moment, whoever writes to it."""
        if self.db.conn.in_transaction:
            yield
            return
        self.db.conn.execute("BEGIN")
        try:
            yield
        finally:
            self.db.conn.rollback()

    @contextmanager
    def writing(self) -> Iterator[None]:
        """One transaction that is written whole or not at all; part of one that is open.

        It waits for other writers at its start. One that began by reading would be refused
        at once, as locked, where somebody else wrote between its reading and its writing.

        Raises:
            Refused: the logbook is open for reading alone.
            sqlite3.OperationalError: another program holds the file for too long.
        """
        self.refuse_only_read()
        if self.db.conn.in_transaction:
            with self.db.atomic():
                yield
            return
        self.db.conn.execute("BEGIN IMMEDIATE")
        try:
            yield
            self.db.conn.commit()
        finally:
            self.db.conn.rollback()

    def close(self) -> None:
        self.db.close()


def create_logbook(path: Path) -> Logbook:
    """Make a new, empty logbook file.

    Raises:
        Refused: something of that name exists.
        BadFile: the file cannot be made there.
    """
    try:
        if path.exists():
            raise Refused(f"{path} exists already; choose another name, or open it as it is.")
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=path.parent, prefix=".brimbook-") as folder:
            unfinished = Path(folder) / path.name
            _make(unfinished)
            unfinished.rename(path)
    except (OSError, sqlite3.OperationalError) as error:
        why = error.strerror if isinstance(error, OSError) else error
        raise BadFile(f"{path} cannot be made: {why}; choose another name or folder.") from error
    except ValueError as error:
        raise BadFile(f"{path} cannot be the name of a file; choose another.") from error
    return open_logbook(path)


def _make(path: Path) -> None:
    """Make the tables under a name nobody looks for, so that no half-made file is left."""
    db = _prepared(sqlite3.connect(path, timeout=BUSY_SECONDS))
    db.execute("PRAGMA journal_mode = WAL")
    db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    _bring_up(db)
    db.close()
    path.chmod(PRIVATE)


def open_logbook(path: Path) -> Logbook:
    """Open a logbook file, bringing an older one up to the present tables after a backup.

    One that a newer version wrote, or that cannot be written, is opened for reading alone.

    Raises:
        BadFile: not a logbook, not to be read, not to be brought up, or not to be backed up.
    """
    _refuse_other_files(path)
    try:
        connection = connect(path)
    except sqlite3.OperationalError as error:
        raise _unreadable(path, error) from error
    try:
        db = _prepared(connection)
        _refuse_other_databases(path, db)
        newer = _newer(path, db)
        only_read = newer or read_only(path)
        if only_read:
            db.execute("PRAGMA query_only = ON")
        if not newer and MIGRATION_NAMES - set(_applied(db)):
            if only_read:
                raise BadFile(f"{only_read} It is of an older version and has to be brought up.")
            back_up(path, Why.UPGRADE)
            _bring_up(db)
        own_day = _shown_as_of(db)
    except DAMAGE as error:
        connection.close()
        raise _unreadable(path, error) from error
    except BadFile:
        connection.close()
        raise
    return Logbook(path, db, shown_as_of=own_day, only_read=only_read)


@contextmanager
def logbook_at(path: Path, today: date | None = None) -> Iterator[Logbook]:
    """Open a logbook for a while, on a given day if one is named, else on its own or today.

    Raises:
        BadFile: as `open_logbook`, or it turns out to be damaged.
    """
    logbook = open_logbook(path)
    try:
        yield replace(logbook, fixed_today=today)
    except DAMAGE as error:
        raise _unreadable(path, error) from error
    finally:
        logbook.close()


@contextmanager
def working_copy(path: Path) -> Iterator[Path]:
    """A copy of a logbook for trying things out, gone when the work is over.

    Raises:
        BadFile: not a logbook, or not to be read.
    """
    _refuse_other_files(path)
    with tempfile.TemporaryDirectory(prefix="brimbook-") as folder:
        copy = Path(shutil.copy(path, Path(folder) / path.name))
        copy.chmod(PRIVATE)
        yield copy


def _unreadable(path: Path, error: Exception) -> BadFile:
    return BadFile(
        f"{path} cannot be read as a logbook: {error}. Try again when nothing else uses it, or "
        "open a copy kept elsewhere; this file was left as it is."
    )


def _prepared(connection: sqlite3.Connection) -> Connection:
    db = Connection(connection)
    db.execute("PRAGMA foreign_keys = ON")
    db.execute("PRAGMA synchronous = FULL")
    return db


def _refuse_other_files(path: Path) -> None:
    try:
        if path.is_dir():
            raise BadFile(f"{path} is a directory; name the logbook file inside it.")
        if not path.exists():
            raise BadFile(f"{path} does not exist; make it with: brimbook new {path}")
        if not path.is_file():
            raise BadFile(f"{path} is a device or a pipe; name a logbook file.")
        with path.open("rb") as file:
            magic = file.read(len(SQLITE_MAGIC))
    except OSError as error:
        raise BadFile(f"{path} cannot be read: {error.strerror}; check name and rights.") from error
    if magic != SQLITE_MAGIC:
        raise BadFile(f"{path} is not a Brimbook logbook; it was left as it is.")


def _refuse_other_databases(path: Path, db: Connection) -> None:
    application_id = db.execute("PRAGMA application_id").fetchone()[0]
    if application_id != APPLICATION_ID:
        raise BadFile(
            f"{path} is a database of another program, not a Brimbook logbook; "
            "it was left as it is."
        )


def is_logbook(path: Path) -> bool:
    """Whether a file looks like a logbook, of this version or another."""
    try:
        _refuse_other_files(path)
        with closing(connect(path)) as connection:
            _refuse_other_databases(path, Connection(connection))
    except (BadFile, *DAMAGE):
        return False
    return True


def _shown_as_of(db: Connection) -> date | None:
    """The day the logbook opens on, where it has one; what is no day is passed over."""
    row = db.execute("SELECT value FROM setting WHERE name = ?", [SHOWN_AS_OF]).fetchone()
    try:
        return None if row is None else date.fromisoformat(row[0])
    except ValueError:
        return None


def _bring_up(db: Connection) -> None:
    from store.logbook.upgrading import bring_up

    bring_up(db)


def _applied(db: Connection) -> list[str]:
    """The migrations a file has had, oldest first."""
    table = "SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = '_sqlite_migrations'"
    if db.execute(table).fetchone() is None:
        return []
    rows = "SELECT name FROM _sqlite_migrations WHERE migration_set = ? ORDER BY rowid"
    return [name for (name,) in db.execute(rows, [MIGRATION_SET])]


def _newer(path: Path, db: Connection) -> str:
    """Why a logbook is only to be read: a newer version wrote it; empty where none did."""
    newer = [name for name in _applied(db) if name not in MIGRATION_NAMES]
    if not newer:
        return ""
    return (
        f"{path} was written by a newer Brimbook ({newer[-1]}), so this one only reads it; "
        "install the newer version to write."
    )
