"""Settings that alter what is reckoned are entries, so that they are undone like the rest."""

from __future__ import annotations

from store.logbook.connection import Connection
from store.logbook.ddl import detail, keep, migration, new_kinds, run

KEPT_KINDS = ("kept_setting",)


@migration
def m009_kept_settings(db: Connection) -> None:
    columns = "name TEXT NOT NULL CHECK (name <> ''), value TEXT NOT NULL"
    run(db, new_kinds(KEPT_KINDS) + detail("kept_setting", columns))
    keep(db, KEPT_KINDS)
