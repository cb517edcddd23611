"""Copies of a logbook in a folder beside it: made while it is in use, read back, rotated."""

from __future__ import annotations

import hashlib
import os
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path

from store.errors import BadFile
from store.logbook.connecting import DAMAGE, connect

PRIVATE, PRIVATE_FOLDER = 0o600, 0o700
"""A logbook is its owner's alone; SQLite gives the files beside it the same rights."""
_STAMP = "%Y%m%dT%H%M%S.%fZ"
_UNFINISHED = ".unfinished-"
LEFT_AFTER_S = 24 * 3600.0
"""A copy unfinished for so long was cut off, and is removed with the next backup."""


class Why(StrEnum):
    """What a backup was made for."""

    DAILY = "daily"
    IMPORT = "before-import"
    UPGRADE = "before-upgrade"
    RESTORE = "before-restore"
    MERGE = "before-merge"
    ASKED = "asked"


KEPT = {Why.DAILY: 10, Why.IMPORT: 10, Why.UPGRADE: 5, Why.RESTORE: 5, Why.MERGE: 5}
"""How many of a kind are kept, the newest; those that were asked for are never removed."""


@dataclass(frozen=True)
class Backup:
    """A copy, the UTC moment it was made, and why."""

    path: Path
    made: datetime
    why: Why


def backup_folder(logbook: Path) -> Path:
    return logbook.with_name(f"{logbook.name}.backups")


def backups_of(logbook: Path) -> list[Backup]:
    """The backups in the folder beside a logbook, newest first."""
    found = (_backup_at(path) for path in backup_folder(logbook).glob("*.db"))
    return sorted((one for one in found if one), key=lambda one: one.made, reverse=True)


def _backup_at(path: Path) -> Backup | None:
    stamp, _, why = path.stem.partition("-")
    try:
        return Backup(path, datetime.strptime(stamp, _STAMP).replace(tzinfo=UTC), Why(why))
    except ValueError:
        return None


def back_up(logbook: Path, why: Why, now: datetime | None = None) -> Backup:
    """Copy a logbook as it stands, read the copy back, and drop the oldest of its kind.

    Raises:
        BadFile: it cannot be copied, or the copy is not the same; no backup is left then.
    """
    made = now or datetime.now(UTC)
    folder = backup_folder(logbook)
    path = folder / f"{made.strftime(_STAMP)}-{why}.db"
    with _told(logbook, folder):
        folder.mkdir(mode=PRIVATE_FOLDER, exist_ok=True)
        copy_verified(logbook, path)
        _rotate(logbook, why)
    return Backup(path, made, why)


@contextmanager
def _told(logbook: Path, target: Path) -> Iterator[None]:
    """Say in a sentence why a copy could not be made."""
    try:
        yield
    except (OSError, sqlite3.Error) as error:
        reason = error.strerror if isinstance(error, OSError) else error
        raise BadFile(
            f"{logbook} could not be backed up to {target}: {reason}. See that the disk has room "
            "and that the folder can be written, and try again."
        ) from error


def copy_to(logbook: Path, target: Path) -> None:
    """Copy a logbook as it stands to a new file anywhere, and read the copy back.

    Raises:
        BadFile: something is there already, it cannot be copied, or the copy differs.
    """
    if target.exists():
        raise BadFile(f"{target} exists already; name a new file.")
    with _told(logbook, target):
        copy_verified(logbook, target)


def daily_backup(logbook: Path, now: datetime | None = None) -> Backup | None:
    """A backup, where none was made yet on this day (of the person's clock).

    Raises:
        BadFile: as `back_up`.
    """
    moment = now or datetime.now(UTC)
    today = moment.astimezone().date()
    if any(one.made.astimezone().date() == today for one in backups_of(logbook)):
        return None
    return back_up(logbook, Why.DAILY, moment)


def copy_verified(source: Path, target: Path) -> None:
    """Copy a database that may be in use to a new file, whole or not at all.

    The copy holds what `source` held at one moment (SQLite's online backup), is its
    owner's alone, and has been read back.

    Raises:
        BadFile: the copy is damaged or differs.
        OSError, sqlite3.Error: it cannot be read or written.
    """
    unfinished = target.with_name(f"{_UNFINISHED}{target.name}")
    unfinished.unlink(missing_ok=True)
    try:
        os.close(os.open(unfinished, os.O_CREAT | os.O_EXCL | os.O_WRONLY, PRIVATE))
        with closing(connect(source)) as held:
            held.isolation_level = None
            held.execute("BEGIN")
            said = digest(held)
            with closing(sqlite3.connect(unfinished)) as copy:
                held.backup(copy)
                copy.execute("PRAGMA journal_mode = DELETE")
        if fault := fault_of(unfinished, said):
            raise BadFile(f"The copy of {source} {fault}; the disk may be failing. Use another.")
        unfinished.rename(target)
    finally:
        with suppress(FileNotFoundError):
            unfinished.unlink()


def fault_of(path: Path, said: str | None = None) -> str | None:
    """What is wrong with a database, in words; None where it is sound and says `said`."""
    try:
        with closing(connect(path)) as db:
            verdict = db.execute("PRAGMA integrity_check").fetchone()[0]
            if verdict != "ok":
                return f"is damaged ({verdict})"
            if said is not None and digest(db) != said:
                return "does not say the same"
    except (sqlite3.Error, *DAMAGE) as error:
        return f"cannot be read ({error})"
    return None


def digest(db: sqlite3.Connection) -> str:
    """The SHA-256 of all rows of all tables, and of what the tables are."""
    schema = db.execute("SELECT name, type, sql FROM sqlite_schema ORDER BY type, name").fetchall()
    whole = hashlib.sha256(repr(schema).encode())
    for name in (name for name, kind, _ in schema if kind == "table"):
        quoted = name.replace('"', '""')
        for row in db.execute(f'SELECT * FROM "{quoted}"'):
            whole.update(repr(row).encode("utf-8", "surrogatepass"))
    return whole.hexdigest()


def _rotate(logbook: Path, why: Why) -> None:
    if why in KEPT:
        same = [one for one in backups_of(logbook) if one.why is why]
        for old in same[KEPT[why] :]:
            old.path.unlink(missing_ok=True)
    for left in backup_folder(logbook).glob(f"{_UNFINISHED}*"):
        if time.time() - left.stat().st_mtime > LEFT_AFTER_S:
            left.unlink(missing_ok=True)
