"""The tables of a logbook file, as sqlite-utils migrations.

Every fact a person enters is a row of `entry` with one row of the table of its
kind. Entries are only ever added: triggers refuse to change or remove one, and
what replaces an entry names it in `revises`. Anchors (`tract`, `station`,
`contamination_event`, `weather_record`, `weather_file`) carry only an id, so
that facts can be revised while everything else keeps pointing at the same thing.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Mapping

from sqlite_utils import Database
from sqlite_utils.migrations import Migrations

APPLICATION_ID = 0x4252494D
"""SQLite's `application_id`, the letters BRIM: tells a logbook from other files."""

migrations = Migrations("brimbook")

FIRST_KINDS = (
    "tract_facts",
    "station_facts",
    "reading",
    "sighting",
    "ramp_check",
    "chore",
    "contamination",
    "contamination_action",
    "gauge_reading",
    "note",
    "weather_import",
    "withdrawal",
)
RECOVERY_KINDS = ("contamination_sign", "bear_visit", "photo", "cause_setting")
OUTLOOK_KINDS = ("monthly_normals",)
KINDS = (*FIRST_KINDS, *RECOVERY_KINDS, *OUTLOOK_KINDS)

APPEND_ONLY = ("batch", "entry", *KINDS, "tank_depth_volume", "weather_day")


FIRST_WORDS = {
    "shape": ("rectangular", "round", "oblong", "half-drum", "measured"),
    "apron_surface": ("sculpted soil", "loose soil", "grass", "woods litter", "gravel", "liner"),
    "exposure": ("open", "part shade", "deep shade"),
    "access": ("vehicle", "atv", "foot"),
    "expected_use": ("light", "average", "heavy"),
    "level_mark": ("full", "three quarters", "half", "quarter", "dry"),
    "use_seen": ("none", "light", "heavy"),
    "chore_kind": ("install", "rake", "fill", "drain", "cover", "uncover", "retire"),
    "cause": ("drowned animal", "additive", "bear use", "dead fish", "dye", "other"),
    "action": (
        "left",
        "carcass removed",
        "bailed",
        "drained",
        "refilled",
        "covered",
        "seen clear",
    ),
}
"""The words each column of choices may hold, each set a table of its own, so that a
later migration adds a word by adding a row."""

RECOVERY_WORDS = {
    "animal_class": ("mammal", "bird", "reptile or amphibian", "fish"),
    "animal_size": ("small", "medium", "large"),
    "strength": ("none", "faint", "strong"),
    "response": ("avoided", "used"),
}


def _word_tables(word_sets: Mapping[str, tuple[str, ...]]) -> str:
    tables = (
        f"""
        CREATE TABLE {table} (word TEXT PRIMARY KEY) STRICT;
        INSERT INTO {table} VALUES {", ".join(f"('{word}')" for word in words)};
        """
        for table, words in word_sets.items()
    )
    return "".join(tables)


def _new_kinds(kinds: Iterable[str]) -> str:
    values = ", ".join(f"('{kind}')" for kind in kinds)
    return f"INSERT INTO entry_kind VALUES {values};"


def _detail(kind: str, columns: str) -> str:
    """A table of one kind of entry, tied to entries of that kind alone."""
    return f"""
    CREATE TABLE {kind} (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT '{kind}' CHECK (kind = '{kind}'),
        {columns},
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
    """


_SPINE = f"""
    CREATE TABLE entry_kind (kind TEXT PRIMARY KEY) STRICT;
    {_new_kinds(FIRST_KINDS)}

    CREATE TABLE batch (
        batch_id TEXT PRIMARY KEY CHECK (length(batch_id) = 36),
        title TEXT NOT NULL CHECK (title <> ''),
        written_utc TEXT NOT NULL CHECK (datetime(written_utc) IS NOT NULL),
        undoes TEXT UNIQUE REFERENCES batch (batch_id)
    ) STRICT;

    CREATE TABLE entry (
        entry_id TEXT PRIMARY KEY CHECK (length(entry_id) = 36),
        batch_id TEXT NOT NULL REFERENCES batch (batch_id),
        kind TEXT NOT NULL REFERENCES entry_kind (kind),
        about TEXT NOT NULL CHECK (about IS date(about, '+0 days')),
        written_utc TEXT NOT NULL CHECK (datetime(written_utc) IS NOT NULL),
        revises TEXT REFERENCES entry (entry_id),
        UNIQUE (entry_id, kind),
        CHECK (kind <> 'withdrawal' OR revises IS NOT NULL)
    ) STRICT;
    CREATE INDEX entry_by_batch ON entry (batch_id);
    CREATE INDEX entry_by_revised ON entry (revises);

    CREATE VIEW live_entry AS
        SELECT * FROM entry
        WHERE kind <> 'withdrawal'
        AND NOT EXISTS (SELECT 1 FROM entry AS later WHERE later.revises = entry.entry_id);

    CREATE TABLE tract (tract_id TEXT PRIMARY KEY CHECK (length(tract_id) = 36)) STRICT;
    CREATE TABLE station (station_id TEXT PRIMARY KEY CHECK (length(station_id) = 36)) STRICT;
    CREATE TABLE contamination_event
        (event_id TEXT PRIMARY KEY CHECK (length(event_id) = 36)) STRICT;
    CREATE TABLE weather_record (record_id TEXT PRIMARY KEY CHECK (length(record_id) = 36)) STRICT;
    CREATE TABLE weather_file (import_id TEXT PRIMARY KEY CHECK (length(import_id) = 36)) STRICT;

    CREATE TABLE setting (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
"""

_PLACES = (
    _detail(
        "tract_facts",
        """
        tract_id TEXT NOT NULL REFERENCES tract (tract_id),
        name TEXT NOT NULL CHECK (trim(name) <> ''),
        latitude_deg REAL CHECK (latitude_deg BETWEEN -90 AND 90),
        longitude_deg REAL CHECK (longitude_deg BETWEEN -180 AND 180),
        elevation_m REAL CHECK (elevation_m BETWEEN -500 AND 9000),
        weather_record_id TEXT REFERENCES weather_record (record_id)
        """,
    )
    + _detail(
        "station_facts",
        """
        station_id TEXT NOT NULL REFERENCES station (station_id),
        tract_id TEXT NOT NULL REFERENCES tract (tract_id),
        name TEXT NOT NULL CHECK (trim(name) <> ''),
        shape TEXT NOT NULL REFERENCES shape (word),
        depth_mm REAL NOT NULL CHECK (depth_mm > 0),
        length_mm REAL CHECK (length_mm > 0),
        width_mm REAL CHECK (width_mm > 0),
        diameter_mm REAL CHECK (diameter_mm > 0),
        bottom_length_mm REAL CHECK (bottom_length_mm > 0),
        bottom_width_mm REAL CHECK (bottom_width_mm > 0),
        bottom_diameter_mm REAL CHECK (bottom_diameter_mm > 0),
        apron_area_m2 REAL NOT NULL CHECK (apron_area_m2 >= 0),
        apron_surface TEXT NOT NULL REFERENCES apron_surface (word),
        rim_above_ground_mm REAL NOT NULL CHECK (rim_above_ground_mm >= 0),
        exposure TEXT NOT NULL REFERENCES exposure (word),
        access TEXT NOT NULL REFERENCES access (word),
        expected_use TEXT NOT NULL REFERENCES expected_use (word),
        bear_country INTEGER NOT NULL CHECK (bear_country IN (0, 1)),
        latitude_deg REAL CHECK (latitude_deg BETWEEN -90 AND 90),
        longitude_deg REAL CHECK (longitude_deg BETWEEN -180 AND 180),
        CHECK (shape IN ('round', 'measured') OR length_mm IS NOT NULL),
        CHECK (shape NOT IN ('rectangular', 'oblong') OR width_mm IS NOT NULL),
        CHECK (shape NOT IN ('round', 'half-drum') OR diameter_mm IS NOT NULL)
        """,
    )
    + """
    CREATE TABLE tank_depth_volume (
        entry_id TEXT NOT NULL REFERENCES station_facts (entry_id),
        depth_mm REAL NOT NULL CHECK (depth_mm >= 0),
        volume_l REAL NOT NULL CHECK (volume_l >= 0),
        PRIMARY KEY (entry_id, depth_mm)
    ) STRICT, WITHOUT ROWID;
    """
)

_STATION = "station_id TEXT NOT NULL REFERENCES station (station_id)"
_VOLUME = "volume_l REAL CHECK (volume_l >= 0)"

_LOG = "".join(
    (
        _detail(
            "reading",
            f"""
            {_STATION},
            below_rim_mm REAL CHECK (below_rim_mm >= 0),
            mark TEXT REFERENCES level_mark (word),
            CHECK ((below_rim_mm IS NULL) <> (mark IS NULL))
            """,
        ),
        _detail(
            "sighting",
            f"""
            {_STATION},
            "use" TEXT REFERENCES use_seen (word),
            camera_per_day REAL CHECK (camera_per_day >= 0),
            CHECK ("use" IS NOT NULL OR camera_per_day IS NOT NULL)
            """,
        ),
        _detail("ramp_check", f"{_STATION}, in_place INTEGER NOT NULL CHECK (in_place IN (0, 1))"),
        _detail(
            "chore",
            f"""
            {_STATION},
            chore TEXT NOT NULL REFERENCES chore_kind (word),
            {_VOLUME},
            note TEXT NOT NULL
            """,
        ),
        _detail(
            "contamination",
            f"""
            event_id TEXT NOT NULL REFERENCES contamination_event (event_id),
            {_STATION},
            cause TEXT NOT NULL REFERENCES cause (word),
            action TEXT NOT NULL REFERENCES action (word),
            {_VOLUME},
            note TEXT NOT NULL
            """,
        ),
        _detail(
            "contamination_action",
            f"""
            event_id TEXT NOT NULL REFERENCES contamination_event (event_id),
            {_STATION},
            action TEXT NOT NULL REFERENCES action (word),
            {_VOLUME},
            note TEXT NOT NULL
            """,
        ),
        _detail(
            "gauge_reading",
            """
            tract_id TEXT NOT NULL REFERENCES tract (tract_id),
            rain_mm REAL NOT NULL CHECK (rain_mm BETWEEN 0 AND 2000)
            """,
        ),
        _detail("note", f"{_STATION}, text TEXT NOT NULL CHECK (trim(text) <> '')"),
        _detail("withdrawal", "reason TEXT NOT NULL"),
    )
)

_WEATHER = (
    _detail(
        "weather_import",
        """
        import_id TEXT NOT NULL REFERENCES weather_file (import_id),
        record_id TEXT NOT NULL REFERENCES weather_record (record_id),
        record_name TEXT NOT NULL CHECK (trim(record_name) <> ''),
        source TEXT NOT NULL,
        latitude_deg REAL CHECK (latitude_deg BETWEEN -90 AND 90),
        longitude_deg REAL CHECK (longitude_deg BETWEEN -180 AND 180),
        elevation_m REAL CHECK (elevation_m BETWEEN -500 AND 9000)
        """,
    )
    + """
    CREATE TABLE weather_day (
        import_id TEXT NOT NULL REFERENCES weather_file (import_id),
        day TEXT NOT NULL CHECK (day IS date(day, '+0 days')),
        rain_mm REAL CHECK (rain_mm BETWEEN 0 AND 2000),
        tmin_c REAL CHECK (tmin_c BETWEEN -90 AND 60),
        tmax_c REAL CHECK (tmax_c BETWEEN -90 AND 60),
        humidity_pct REAL CHECK (humidity_pct BETWEEN 0 AND 100),
        dewpoint_c REAL CHECK (dewpoint_c BETWEEN -100 AND 60),
        wind_m_s REAL CHECK (wind_m_s BETWEEN 0 AND 120),
        sun_mj_m2 REAL CHECK (sun_mj_m2 BETWEEN 0 AND 60),
        PRIMARY KEY (import_id, day),
        CHECK (tmin_c <= tmax_c)
    ) STRICT, WITHOUT ROWID;
    """
)


def _refuse_changes(table: str) -> str:
    return "".join(
        f"""
        CREATE TRIGGER {table}_is_kept_on_{verb.lower()} BEFORE {verb} ON {table}
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
        """
        for verb in ("UPDATE", "DELETE")
    )


_MONTH_DAY = "CHECK ({0} IS NULL OR {0} IS strftime('%m-%d', '2024-' || {0}, '+0 days'))"

_RECOVERY = "".join(
    (
        """
        INSERT INTO cause VALUES ('spill'), ('silt or leaves'), ('dry spell'), ('disturbance');
        ALTER TABLE contamination ADD COLUMN animal TEXT REFERENCES animal_class (word);
        ALTER TABLE contamination ADD COLUMN animal_size TEXT REFERENCES animal_size (word);
        ALTER TABLE contamination ADD COLUMN days_dead REAL CHECK (days_dead >= 0);
        """,
        _new_kinds(RECOVERY_KINDS),
        *(
            f"ALTER TABLE tract_facts ADD COLUMN {name} TEXT {_MONTH_DAY.format(name)};"
            for name in ("bear_season_first", "bear_season_last")
        ),
        _detail(
            "contamination_sign",
            f"""
            event_id TEXT NOT NULL REFERENCES contamination_event (event_id),
            {_STATION},
            smell TEXT REFERENCES strength (word),
            colour TEXT REFERENCES strength (word),
            response TEXT REFERENCES response (word),
            CHECK (smell IS NOT NULL OR colour IS NOT NULL OR response IS NOT NULL)
            """,
        ),
        _detail("bear_visit", f"{_STATION}, visits INTEGER NOT NULL CHECK (visits >= 1)"),
        _detail(
            "photo",
            f"""
            {_STATION},
            path TEXT NOT NULL CHECK (path <> ''),
            sha256 TEXT NOT NULL CHECK (length(sha256) = 64),
            event_id TEXT REFERENCES contamination_event (event_id)
            """,
        ),
        _detail(
            "cause_setting",
            """
            cause TEXT NOT NULL REFERENCES cause (word),
            parameter TEXT NOT NULL CHECK (parameter <> ''),
            value REAL NOT NULL
            """,
        ),
    )
)


@migrations()
def m001_first_logbook(db: Database) -> None:
    _run(db, _word_tables(FIRST_WORDS) + _SPINE + _PLACES + _LOG + _WEATHER)
    _keep(db, ("batch", "entry", *FIRST_KINDS, "tank_depth_volume", "weather_day"))


@migrations()
def m002_recovery(db: Database) -> None:
    _run(db, _word_tables(RECOVERY_WORDS) + _RECOVERY)
    _keep(db, RECOVERY_KINDS)


@migrations()
def m003_outlook(db: Database) -> None:
    _run(
        db,
        _new_kinds(OUTLOOK_KINDS) + "ALTER TABLE tract_facts ADD COLUMN forecast_record_id TEXT "
        "REFERENCES weather_record (record_id);"
        + _detail(
            "monthly_normals",
            """
            tract_id TEXT NOT NULL REFERENCES tract (tract_id),
            month INTEGER NOT NULL CHECK (month BETWEEN 1 AND 12),
            rain_mm REAL NOT NULL CHECK (rain_mm BETWEEN 0 AND 5000),
            wet_days REAL NOT NULL CHECK (wet_days BETWEEN 0 AND 31),
            tmin_c REAL NOT NULL CHECK (tmin_c BETWEEN -90 AND 60),
            tmax_c REAL NOT NULL CHECK (tmax_c BETWEEN -90 AND 60),
            CHECK (tmin_c <= tmax_c)
            """,
        ),
    )
    _keep(db, OUTLOOK_KINDS)


def _run(db: Database, script: str) -> None:
    for statement in _split(script):
        db.execute(statement)


def _keep(db: Database, tables: Iterable[str]) -> None:
    """Refuse to change or remove the rows of some tables from now on."""
    _run(db, "".join(_refuse_changes(table) for table in tables))


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


MIGRATION_NAMES = frozenset(
    migration.name for migration in migrations.pending(Database(memory=True))
)
"""Every migration this version knows: a file with others is of a newer version."""
