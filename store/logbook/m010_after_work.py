"""A level may be read after the day's work on the water, not on coming."""

from __future__ import annotations

from store.logbook.connection import Connection
from store.logbook.ddl import migration, run


@migration
def m010_after_work(db: Connection) -> None:
    run(
        db,
        "ALTER TABLE reading ADD COLUMN after_work INTEGER NOT NULL DEFAULT 0 "
        "CHECK (after_work IN (0, 1));",
    )
