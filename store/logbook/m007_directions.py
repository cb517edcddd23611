"""How to get to a station, in its keeper's own words."""

from __future__ import annotations

from sqlite_utils import Database

from store.logbook.ddl import migrations, run


@migrations()
def m007_directions(db: Database) -> None:
    run(db, "ALTER TABLE station_facts ADD COLUMN directions TEXT NOT NULL DEFAULT '';")
