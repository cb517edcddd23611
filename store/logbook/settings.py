"""A logbook's few settings: how it is shown, never what it says."""

from __future__ import annotations

import sqlite3

from store.errors import Refused
from store.logbook.opening import Logbook
from store.units import UnitSystem

DEMO_NAME = "demo.db"


def setting(logbook: Logbook, name: str) -> str | None:
    row = logbook.db.execute("SELECT value FROM setting WHERE name = ?", [name]).fetchone()
    return None if row is None else str(row[0])


def keep_setting(logbook: Logbook, name: str, value: str) -> None:
    """Keep a setting.

    Raises:
        Refused: the file cannot be written.
    """
    try:
        with logbook.writing():
            logbook.db.execute("INSERT OR REPLACE INTO setting VALUES (?, ?)", [name, value])
    except sqlite3.OperationalError as error:
        raise Refused(f"The setting could not be kept ({error}); try again.") from error


def unit_system(logbook: Logbook) -> UnitSystem:
    """US customary units unless the person chose metric."""
    return UnitSystem(setting(logbook, "units") or UnitSystem.US)


def is_demo(logbook: Logbook) -> bool:
    """Whether this is the shipped demo, which is never changed."""
    return setting(logbook, "demo") == "yes" and logbook.path.name == DEMO_NAME
