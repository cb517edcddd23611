"""The first logbook: tracts, stations, the log, and weather."""

from __future__ import annotations

from store.logbook.connection import Connection
from store.logbook.ddl import STATION, detail, keep, migration, new_kinds, run, word_tables

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


_SPINE = f"""
    CREATE TABLE entry_kind (kind TEXT PRIMARY KEY) STRICT;
    {new_kinds(FIRST_KINDS)}

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
    detail(
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
    + detail(
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

_VOLUME = "volume_l REAL CHECK (volume_l >= 0)"

_LOG = "".join(
    (
        detail(
            "reading",
            f"""
            {STATION},
            below_rim_mm REAL CHECK (below_rim_mm >= 0),
            mark TEXT REFERENCES level_mark (word),
            CHECK ((below_rim_mm IS NULL) <> (mark IS NULL))
            """,
        ),
        detail(
            "sighting",
            f"""
            {STATION},
            "use" TEXT REFERENCES use_seen (word),
            camera_per_day REAL CHECK (camera_per_day >= 0),
            CHECK ("use" IS NOT NULL OR camera_per_day IS NOT NULL)
            """,
        ),
        detail("ramp_check", f"{STATION}, in_place INTEGER NOT NULL CHECK (in_place IN (0, 1))"),
        detail(
            "chore",
            f"""
            {STATION},
            chore TEXT NOT NULL REFERENCES chore_kind (word),
            {_VOLUME},
            note TEXT NOT NULL
            """,
        ),
        detail(
            "contamination",
            f"""
            event_id TEXT NOT NULL REFERENCES contamination_event (event_id),
            {STATION},
            cause TEXT NOT NULL REFERENCES cause (word),
            action TEXT NOT NULL REFERENCES action (word),
            {_VOLUME},
            note TEXT NOT NULL
            """,
        ),
        detail(
            "contamination_action",
            f"""
            event_id TEXT NOT NULL REFERENCES contamination_event (event_id),
            {STATION},
            action TEXT NOT NULL REFERENCES action (word),
            {_VOLUME},
            note TEXT NOT NULL
            """,
        ),
        detail(
            "gauge_reading",
            """
            tract_id TEXT NOT NULL REFERENCES tract (tract_id),
            rain_mm REAL NOT NULL CHECK (rain_mm BETWEEN 0 AND 2000)
            """,
        ),
        detail("note", f"{STATION}, text TEXT NOT NULL CHECK (trim(text) <> '')"),
        detail("withdrawal", "reason TEXT NOT NULL"),
    )
)

_WEATHER = (
    detail(
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


@migration
def m001_first_logbook(db: Connection) -> None:
    run(db, word_tables(FIRST_WORDS) + _SPINE + _PLACES + _LOG + _WEATHER)
    keep(db, ("batch", "entry", *FIRST_KINDS, "tank_depth_volume", "weather_day"))
