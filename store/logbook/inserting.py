"""Put rows into the tables of a logbook, inside somebody else's transaction."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from store.logbook.connection import Connection
from store.records import Contamination, Fact, StationFacts, TractFacts, WeatherImport


def insert_row(db: Connection, table: str, row: Mapping[str, Any]) -> None:
    """Insert one row; raises sqlite3's errors where the tables refuse it."""
    names = ", ".join(f'"{name}"' for name in row)
    values = ", ".join("?" for _ in row)
    db.execute(f'INSERT INTO "{table}" ({names}) VALUES ({values})', list(row.values()))


def insert_batch(
    db: Connection, batch_id: str, title: str, written_utc: str, undoes: str | None
) -> None:
    """Insert a batch; that it undoes what another one undoes already is kept apart."""
    taken = db.execute("SELECT 1 FROM batch WHERE undoes = ?", [undoes]).fetchone() is not None
    row = {"batch_id": batch_id, "title": title, "written_utc": written_utc}
    insert_row(db, "batch", row | {"undoes": None if taken else undoes})
    if taken:
        insert_row(db, "second_undo", {"batch_id": batch_id, "undoes": undoes})


def add_anchors(db: Connection, fact: Fact) -> None:
    """Insert the bare ids that a fact is the first to speak of."""
    anchors: list[tuple[str, str, str]] = []
    if isinstance(fact, TractFacts):
        anchors.append(("tract", "tract_id", fact.tract_id))
    elif isinstance(fact, StationFacts):
        anchors.append(("station", "station_id", fact.station_id))
    elif isinstance(fact, Contamination):
        anchors.append(("contamination_event", "event_id", fact.event_id))
    elif isinstance(fact, WeatherImport):
        anchors.append(("weather_record", "record_id", fact.record_id))
        anchors.append(("weather_file", "import_id", fact.import_id))
    for table, column, anchor in anchors:
        db.execute(f"INSERT OR IGNORE INTO {table} ({column}) VALUES (?)", [anchor])
