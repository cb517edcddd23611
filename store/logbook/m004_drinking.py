"""When animals drink on a tract, by what browse gives them in summer."""

from __future__ import annotations

from sqlite_utils import Database

from store.logbook.ddl import migrations, run, word_tables

DRINKING_WORDS = {"drinking_season": ("green summer", "dry summer")}


@migrations()
def m004_drinking(db: Database) -> None:
    run(
        db,
        word_tables(DRINKING_WORDS)
        + "ALTER TABLE tract_facts ADD COLUMN drinking TEXT REFERENCES drinking_season (word);",
    )
