"""A logbook's few settings: how it is shown, and what is reckoned with but stands nowhere.

What alters the reckoning is an entry, and undone like one; how things are shown is not, for
the key that changes it changes it back.
"""

from __future__ import annotations

import sqlite3

from store.errors import Refused
from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.logbook.opening import Logbook
from store.records import Draft, Entry, KeptSetting
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


def kept(logbook: Logbook, name: str) -> str | None:
    """A setting that alters what is reckoned, as an entry says it or an older version kept it."""
    entry = _kept_entry(logbook, name)
    if entry is None:
        return setting(logbook, name)
    assert isinstance(entry.fact, KeptSetting)
    return entry.fact.value


def keep(logbook: Logbook, fact: KeptSetting, title: str) -> None:
    """Keep a setting that alters what is reckoned; the last one that was kept holds.

    Raises:
        Refused: as `write`.
    """
    entry = _kept_entry(logbook, fact.name)
    revises = None if entry is None else entry.entry_id
    write(logbook, title, [Draft(logbook.today, fact, revises)])


def _kept_entry(logbook: Logbook, name: str) -> Entry | None:
    entries = live_entries(logbook, (KeptSetting,))
    found = [one for one in entries if isinstance(one.fact, KeptSetting) and one.fact.name == name]
    return max(found, key=lambda one: one.entry_id, default=None)


def unit_system(logbook: Logbook) -> UnitSystem:
    """US customary units unless the person chose metric."""
    return UnitSystem(setting(logbook, "units") or UnitSystem.US)


def is_demo(logbook: Logbook) -> bool:
    """Whether this is the shipped demo, which is never changed."""
    return setting(logbook, "demo") == "yes" and logbook.path.name == DEMO_NAME
