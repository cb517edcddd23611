"""Bring back a logbook from a backup; what stood there is kept."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from store.errors import BadFile, NotFound
from store.logbook.backups import (
    Why,
    back_up,
    backup_folder,
    backups_of,
    copy_verified,
    digest,
    fault_of,
)
from store.logbook.connecting import BUSY_SECONDS
from store.logbook.opening import is_logbook, logbook_at


def chosen_backup(logbook: Path, name: str | None) -> Path:
    """The backup of that file name or path; the newest where none is named.

    Raises:
        NotFound: there is none.
    """
    found = backups_of(logbook)
    if name is None:
        if not found:
            raise NotFound(f"{backup_folder(logbook)} holds no backup; name the file of one.")
        return found[0].path
    for one in found:
        if one.path.name == name:
            return one.path
    if Path(name).is_file():
        return Path(name)
    raise NotFound(f"There is no backup {name}; `brimbook backups {logbook}` lists them.")


def restore(logbook: Path, backup: Path, now: datetime | None = None) -> Path | None:
    """Make a logbook say what a backup says; gives where what stood there is kept.

    A sound logbook is backed up and then changed in one transaction, so it may be in use;
    a damaged one is set aside under another name.

    Raises:
        BadFile: the backup is no sound logbook, or there is no room; nothing is changed.
    """
    moment = now or datetime.now(UTC)
    if not is_logbook(backup):
        raise BadFile(f"{backup} is not a Brimbook logbook; choose another backup.")
    if fault := fault_of(backup):
        raise BadFile(f"{backup} {fault}; choose another backup.")
    fresh = logbook.with_name(f".restored-{logbook.name}")
    try:
        fresh.unlink(missing_ok=True)
        copy_verified(backup, fresh)
        if not logbook.exists():
            fresh.rename(logbook)
            kept = None
        elif is_logbook(logbook) and fault_of(logbook) is None:
            kept = back_up(logbook, Why.RESTORE, moment).path
            _write_over(fresh, logbook)
        else:
            kept = _set_aside(logbook, moment)
            fresh.replace(logbook)
    except (OSError, sqlite3.Error) as error:
        raise BadFile(
            f"{logbook} could not be brought back from {backup}: {error}. See that the disk has "
            "room and that no other program holds the logbook, and try again."
        ) from error
    finally:
        fresh.unlink(missing_ok=True)
    with logbook_at(logbook) as found:
        found.db.execute("PRAGMA journal_mode = WAL")
    return kept


def _write_over(fresh: Path, logbook: Path) -> None:
    with (
        closing(sqlite3.connect(fresh)) as source,
        closing(sqlite3.connect(logbook, timeout=BUSY_SECONDS)) as target,
    ):
        source.backup(target)
        if digest(source) != digest(target):
            raise sqlite3.DatabaseError("what was written does not say the same")


def _set_aside(logbook: Path, moment: datetime) -> Path:
    """Give a damaged logbook, with what SQLite left beside it, a name of its own.

    It keeps the name it had, too, so that until another takes its place there is one; only
    where a file cannot have two names, as on some sticks, it is gone for that moment.
    """
    aside = logbook.with_name(f"{logbook.name}.damaged-{moment:%Y%m%dT%H%M%S%f}")
    for ending in ("-wal", "-shm"):
        beside = logbook.with_name(logbook.name + ending)
        if beside.exists():
            beside.rename(aside.with_name(aside.name + ending))
    try:
        aside.hardlink_to(logbook)
    except OSError:
        logbook.rename(aside)
    return aside
