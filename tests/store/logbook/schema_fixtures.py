"""Logbooks as each released version left them: `python -m tests.store.logbook.schema_fixtures`.

A file under `tests/data/schemas/` is the SQL of a logbook that the migrations up to one of
them made, with an entry of every kind that could be written then. Once made, a file is
never made again: it is what people have.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path

from sqlite_utils import Database

from store.logbook.ids import IdMaker
from store.logbook.rows import columns_of, kind_of
from store.logbook.schema import APPLICATION_ID, MIGRATION_NAMES
from store.logbook.upgrading import migrations
from store.records import (
    BearVisit,
    CauseSetting,
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Fact,
    GaugeReading,
    KeptSetting,
    MonthlyNormals,
    Note,
    Photo,
    PromptAnswer,
    RampCheck,
    Reading,
    SeasonLimit,
    SeasonWindow,
    Sighting,
    SiteCheck,
    StationFacts,
    TankMeasures,
    TractFacts,
    WeatherImport,
)
from store.vocabulary import (
    Action,
    Cause,
    ChoreKind,
    Decision,
    LevelMark,
    LimitKind,
    PromptKind,
    Response,
    Shape,
    Strength,
    UseSeen,
    WindowKind,
)

FOLDER = Path(__file__).parents[2] / "data" / "schemas"
DAY = date(2026, 5, 9)
MOMENT = datetime(2026, 5, 9, 12, tzinfo=UTC)
_new_id = IdMaker(lambda: 1)
TRACT, STATION, EVENT, RECORD, IMPORT = (_new_id(MOMENT) for _ in range(5))
DEPTH_VOLUME = ((0.0, 0.0), (300.0, 90.0), (762.0, 400.0))
FACTS: tuple[Fact, ...] = (
    TractFacts(TRACT, "North ridge", 42.0, -75.0, 400.0, RECORD),
    StationFacts(
        STATION, TRACT, "Oak [flat]",
        TankMeasures(Shape.MEASURED, 762.0, depth_volume=DEPTH_VOLUME), apron_area_m2=14.0,
    ),
    Chore(STATION, ChoreKind.INSTALL, 100.0, "by hand"),
    Reading(STATION, below_rim_mm=101.6),
    Reading(STATION, mark=LevelMark.HALF),
    Sighting(STATION, use=UseSeen.HEAVY),
    RampCheck(STATION, in_place=False),
    Contamination(EVENT, STATION, Cause.DROWNED_ANIMAL, note="by the ramp"),
    ContaminationAction(EVENT, STATION, Action.BAILED, 50.0),
    GaugeReading(TRACT, 12.7),
    Note(STATION, "quiet"),
    WeatherImport(IMPORT, RECORD, "Barn", "barn.csv"),
    ContaminationSign(EVENT, STATION, Strength.FAINT, None, Response.AVOIDED),
    BearVisit(STATION, 2),
    Photo(STATION, "tank.jpg", "0" * 64, EVENT),
    CauseSetting(Cause.DYE, "clear_share", 0.1),
    MonthlyNormals(TRACT, 5, 80.0, 11.0, 8.0, 20.0),
    SeasonWindow(TRACT, WindowKind.RAKE, "03-25", "04-20"),
    SeasonLimit(TRACT, LimitKind.VISIT_DAYS, 14.0),
    PromptAnswer(STATION, PromptKind.FILL, DAY, Decision.PUT_OFF, DAY, "later"),
    SiteCheck(STATION, rim=True, bank=False, note="dry"),
    KeptSetting("work kit", '{"payload_kg": 400.0}'),
)  # fmt: skip
"""One of each kind, in an order in which they can be written."""


def make(last: str) -> str:
    """The SQL of a logbook with the tables that the migrations up to `last` make."""
    later = sorted(name for name in MIGRATION_NAMES if name > last)
    with closing(sqlite3.connect(":memory:")) as connection:
        db = Database(connection)
        db.execute("PRAGMA foreign_keys = ON")
        migrations.apply(db, stop_before=later[:1])
        with db.atomic():
            _fill(db)
        dump = "\n".join(connection.iterdump())
    return f"PRAGMA application_id = {APPLICATION_ID};\n{dump}\n"


def _fill(db: Database) -> None:
    """Write the facts whose tables are there, with the columns that are there."""
    batch = _new_id(MOMENT)
    db["batch"].insert({"batch_id": batch, "title": "All kinds", "written_utc": MOMENT.isoformat()})
    for table, column, anchor in (
        ("tract", "tract_id", TRACT), ("station", "station_id", STATION),
        ("contamination_event", "event_id", EVENT), ("weather_record", "record_id", RECORD),
        ("weather_file", "import_id", IMPORT),
    ):  # fmt: skip
        db[table].insert({column: anchor})
    for fact in FACTS:
        kind = kind_of(type(fact))
        if kind not in db.table_names():
            continue
        entry = _new_id(MOMENT)
        db["entry"].insert(
            {"entry_id": entry, "batch_id": batch, "kind": kind, "about": DAY.isoformat(),
             "written_utc": MOMENT.isoformat()}
        )  # fmt: skip
        known = set(db[kind].columns_dict)
        columns = {name: value for name, value in columns_of(fact).items() if name in known}
        db[kind].insert({"entry_id": entry, **columns})
        if isinstance(fact, StationFacts):
            for depth_mm, volume_l in DEPTH_VOLUME:
                db["tank_depth_volume"].insert(
                    {"entry_id": entry, "depth_mm": depth_mm, "volume_l": volume_l}
                )
    db["weather_day"].insert(
        {"import_id": IMPORT, "day": "2026-05-08", "rain_mm": 3.0, "tmin_c": 5.0, "tmax_c": 15.0}
    )


def main() -> None:
    """Make the file of the newest migration, as is done when a version is released."""
    name = max(MIGRATION_NAMES)
    file = FOLDER / f"{name}.sql"
    if file.exists():
        print(f"{file} is there already")
    else:
        file.write_text(make(name), encoding="utf-8")
        print(f"made {file}")


if __name__ == "__main__":
    main()
