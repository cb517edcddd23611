"""The whole life of a contamination event: carcasses, signs, bears, photos, settings."""

from __future__ import annotations

from store.logbook.connection import Connection
from store.logbook.ddl import STATION, detail, keep, migration, new_kinds, run, word_tables

RECOVERY_KINDS = ("contamination_sign", "bear_visit", "photo", "cause_setting")
RECOVERY_WORDS = {
    "animal_class": ("mammal", "bird", "reptile or amphibian", "fish"),
    "animal_size": ("small", "medium", "large"),
    "strength": ("none", "faint", "strong"),
    "response": ("avoided", "used"),
}


_MONTH_DAY = "CHECK ({0} IS NULL OR {0} IS strftime('%m-%d', '2024-' || {0}, '+0 days'))"

_RECOVERY = "".join(
    (
        """
        INSERT INTO cause VALUES ('spill'), ('silt or leaves'), ('dry spell'), ('disturbance');
        ALTER TABLE contamination ADD COLUMN animal TEXT REFERENCES animal_class (word);
        ALTER TABLE contamination ADD COLUMN animal_size TEXT REFERENCES animal_size (word);
        ALTER TABLE contamination ADD COLUMN days_dead REAL CHECK (days_dead >= 0);
        """,
        new_kinds(RECOVERY_KINDS),
        *(
            f"ALTER TABLE tract_facts ADD COLUMN {name} TEXT {_MONTH_DAY.format(name)};"
            for name in ("bear_season_first", "bear_season_last")
        ),
        detail(
            "contamination_sign",
            f"""
            event_id TEXT NOT NULL REFERENCES contamination_event (event_id),
            {STATION},
            smell TEXT REFERENCES strength (word),
            colour TEXT REFERENCES strength (word),
            response TEXT REFERENCES response (word),
            CHECK (smell IS NOT NULL OR colour IS NOT NULL OR response IS NOT NULL)
            """,
        ),
        detail("bear_visit", f"{STATION}, visits INTEGER NOT NULL CHECK (visits >= 1)"),
        detail(
            "photo",
            f"""
            {STATION},
            path TEXT NOT NULL CHECK (path <> ''),
            sha256 TEXT NOT NULL CHECK (length(sha256) = 64),
            event_id TEXT REFERENCES contamination_event (event_id)
            """,
        ),
        detail(
            "cause_setting",
            """
            cause TEXT NOT NULL REFERENCES cause (word),
            parameter TEXT NOT NULL CHECK (parameter <> ''),
            value REAL NOT NULL
            """,
        ),
    )
)


@migration
def m002_recovery(db: Connection) -> None:
    run(db, word_tables(RECOVERY_WORDS) + _RECOVERY)
    keep(db, RECOVERY_KINDS)
