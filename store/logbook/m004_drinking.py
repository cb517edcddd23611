"""When animals drink on a tract, by what browse gives them in summer."""

from __future__ import annotations

from store.logbook.connection import Connection
from store.logbook.ddl import migration, run, word_tables

DRINKING_WORDS = {"drinking_season": ("green summer", "dry summer")}


@migration
def m004_drinking(db: Connection) -> None:
    run(
        db,
        word_tables(DRINKING_WORDS)
        + "ALTER TABLE tract_facts ADD COLUMN drinking TEXT REFERENCES drinking_season (word);",
    )
