"""Connect to the file of a logbook, to write it or, where it cannot be written, to read it."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from store.errors import BadFile

T = TypeVar("T")
BUSY_SECONDS = 5
DAMAGE = (sqlite3.DatabaseError, UnicodeDecodeError)
"""What a damaged file raises; the second where SQLite quotes from it what is no text."""


def read_only(path: Path) -> str:
    """Why a file can be read but not written, as a sentence; empty where it can be written.

    SQLite writes files beside a logbook, so the folder has to be writable as well.
    """
    if not os.access(path, os.W_OK) or not path.stat().st_mode & 0o222:
        what = "is read-only"
    elif not os.access(path.absolute().parent, os.W_OK):
        what = "is in a folder that is read-only"
    else:
        return ""
    return (
        f"{path} {what}, so it can be looked at but not changed; make it writable, or open a "
        "copy of it."
    )


def connect(path: Path) -> sqlite3.Connection:
    """A connection that writes; one that only reads where the file is `read_only`.

    Raises:
        BadFile: it is read-only, and what was written last cannot be read that way.
        sqlite3.Error: it cannot be opened, or is not there.
    """
    address = path.absolute().as_uri()
    if not path.exists() or not read_only(path):
        return sqlite3.connect(f"{address}?mode=rw", uri=True, timeout=BUSY_SECONDS)
    address = f"{address}?mode=ro"
    written_last = path.with_name(f"{path.name}-wal")
    if not (written_last.exists() and written_last.stat().st_size):
        # Nobody writes to it: reading then leaves nothing beside it, for which there may be
        # no room, and which would be as read-only as the file when it is made writable.
        return sqlite3.connect(f"{address}&immutable=1", uri=True, timeout=BUSY_SECONDS)
    connection = sqlite3.connect(address, uri=True, timeout=BUSY_SECONDS)
    try:
        connection.execute("SELECT count(*) FROM sqlite_schema")
    except sqlite3.OperationalError as error:
        connection.close()
        raise BadFile(
            f"{read_only(path)} What was written last stands in {written_last.name} beside it and "
            "cannot be read there: copy both to one folder that you can write, and open the copy."
        ) from error
    return connection


def stored(read: Callable[[str], T], text: str) -> T:
    """What a text of the file stands for, as `read` gives it.

    Raises:
        sqlite3.DataError: it stands for nothing, which only damage brings about.
    """
    try:
        return read(text)
    except (TypeError, ValueError) as error:
        raise sqlite3.DataError(f"it holds {text!r} where a day belongs") from error
