"""Looking ahead: forecasts, and monthly normals where there is no record."""

from __future__ import annotations

from store.logbook.connection import Connection
from store.logbook.ddl import detail, keep, migration, new_kinds, run

OUTLOOK_KINDS = ("monthly_normals",)


@migration
def m003_outlook(db: Connection) -> None:
    run(
        db,
        new_kinds(OUTLOOK_KINDS) + "ALTER TABLE tract_facts ADD COLUMN forecast_record_id TEXT "
        "REFERENCES weather_record (record_id);"
        + detail(
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
    keep(db, OUTLOOK_KINDS)
