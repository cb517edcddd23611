"""The building blocks of migrations: tables of entries, of words, and their triggers."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Mapping

from store.logbook.connection import Connection

MIGRATION_SET = "brimbook"
"""The name under which a file lists the migrations it has had."""
MIGRATIONS: list[Callable[[Connection], None]] = []
"""Every migration, oldest first."""


def migration(change: Callable[[Connection], None]) -> Callable[[Connection], None]:
    """Mark a function as the next migration; its name is kept in the file."""
    MIGRATIONS.append(change)
    return change


STATION = "station_id TEXT NOT NULL REFERENCES station (station_id)"
"""The column by which an entry belongs to a station."""


def word_tables(word_sets: Mapping[str, tuple[str, ...]]) -> str:
    tables = (
        f"""
        CREATE TABLE {table} (word TEXT PRIMARY KEY) STRICT;
        INSERT INTO {table} VALUES {", ".join(f"('{word}')" for word in words)};
        """
        for table, words in word_sets.items()
    )
    return "".join(tables)


def new_kinds(kinds: Iterable[str]) -> str:
    values = ", ".join(f"('{kind}')" for kind in kinds)
    return f"INSERT INTO entry_kind VALUES {values};"


def detail(kind: str, columns: str) -> str:
    """A table of one kind of entry, tied to entries of that kind alone."""
    return f"""
    CREATE TABLE {kind} (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT '{kind}' CHECK (kind = '{kind}'),
        {columns},
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
    """


def run(db: Connection, script: str) -> None:
    for statement in _split(script):
        db.execute(statement)


def keep(db: Connection, tables: Iterable[str]) -> None:
    """Refuse to change or remove the rows of some tables from now on."""
    run(db, "".join(_refuse_changes(table) for table in tables))


def _refuse_changes(table: str) -> str:
    return "".join(
        f"""
        CREATE TRIGGER {table}_is_kept_on_{verb.lower()} BEFORE {verb} ON {table}
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
        """
        for verb in ("UPDATE", "DELETE")
    )


def _split(script: str) -> list[str]:
    """Single statements, since `executescript` would end the migration's transaction."""
    statements: list[str] = []
    part = ""
    for piece in script.split(";"):
        part += piece + ";"
        if sqlite3.complete_statement(part):
            statements.append(part.strip())
            part = ""
    return [statement for statement in statements if statement != ";"]
