"""Bring a file up to the tables of this version.

Imported only where a file needs it: sqlite-utils loads pandas where that is installed, which
takes longer than all the rest of a start.
"""

from __future__ import annotations

from typing import Any, cast

from sqlite_utils import Database
from sqlite_utils.migrations import Migrations

from store.logbook import schema  # noqa: F401 - every migration is registered with it
from store.logbook.connection import Connection
from store.logbook.ddl import MIGRATION_SET, MIGRATIONS

migrations = Migrations(MIGRATION_SET)
for _migration in MIGRATIONS:
    migrations()(cast("Any", _migration))  # its Database executes as our Connection does


def bring_up(db: Connection) -> None:
    """Apply the migrations that a file lacks, each in a transaction of its own."""
    migrations.apply(Database(db.conn))
