"""How to get to a station, in its keeper's own words."""

from __future__ import annotations

from store.logbook.connection import Connection
from store.logbook.ddl import migration, run


@migration
def m007_directions(db: Connection) -> None:
    run(db, "ALTER TABLE station_facts ADD COLUMN directions TEXT NOT NULL DEFAULT '';")
