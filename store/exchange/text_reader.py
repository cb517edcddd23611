"""Read the lines of a logbook's plain text into the tables of a new one."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterable, Mapping
from typing import Any

from store.errors import BadFile, Refused
from store.exchange.text_checks import Column, Lines, id_column, text_column
from store.exchange.text_form import FORMAT, VERSION
from store.logbook.connection import Connection
from store.logbook.inserting import add_anchors, insert_batch, insert_row
from store.logbook.rows import fact_from
from store.logbook.schema import MIGRATION_NAMES
from store.weather.elements import FIELDS

MOST_PROBLEMS = 100
"""After so many bad lines the rest of a file is not looked at."""

_HEADER = (
    text_column("format"),
    Column("version", "INTEGER", required=True),
    text_column("application"),
    text_column("schema"),
)
_SETTING = (text_column("setting"), text_column("value"))
_BATCH = (
    id_column("batch"),
    text_column("title"),
    text_column("written"),
    id_column("undoes", required=False),
)
_ENTRY = (
    id_column("entry"),
    text_column("kind"),
    text_column("about"),
    text_column("written"),
    id_column("revises", required=False),
)
_DAY = (id_column("weather"), text_column("day"), *(Column(name, "REAL") for name in FIELDS))
_END = (Column("lines", "INTEGER", required=True),)


class TextReader:
    """Reads the lines one by one into the tables of a logbook."""

    def __init__(self, db: Connection, name: str) -> None:
        self.lines = Lines(db)
        self._db = db
        self._name = name
        self._batch = ""
        self._before = 0
        """Lines that said something, before this one."""
        self._ended = False

    def read(self, numbered: Iterable[tuple[int, str]]) -> None:
        """Take lines that come with their numbers; what is wrong is in `lines`.

        Raises:
            BadFile: they are no logbook's text, or are cut short.
            Refused: a newer version wrote them.
        """
        for number, text in numbered:
            self.lines.number = number
            row = self.lines.parsed(text)
            if self._before == 0:
                self._begin(row)
            elif self._ended:
                self.lines.reject("", "comes after the end; the text may have been joined twice")
            elif row is not None:
                self._take(row)
            self._before += 1
            if len(self.lines.problems) >= MOST_PROBLEMS:
                return
        if self._before == 0:
            raise BadFile(f"{self._name} is empty; fetch the text of the logbook again.")
        if not self._ended and not self.lines.problems:
            raise BadFile(
                f"{self._name} ends without its last line, so a part of it is missing; "
                "fetch the text again."
            )

    def _begin(self, row: dict[str, Any] | None) -> None:
        """Refuse other files, and texts of newer versions, before a line of them is read."""
        if row is None or row.get("format") != FORMAT:
            raise BadFile(f"{self._name} is not the text of a Brimbook logbook.")
        version, schema = row.get("version"), row.get("schema")
        newer = isinstance(version, int) and version > VERSION
        if newer or (isinstance(schema, str) and schema not in MIGRATION_NAMES):
            said = f"version {version}" if newer else schema
            raise Refused(
                f"{self._name} was written by a newer Brimbook ({said}); install the newer "
                "version to read it."
            )
        self.lines.checked(row, _HEADER)

    def _take(self, row: dict[str, Any]) -> None:
        try:
            if "batch" in row:
                self._take_batch(row)
            elif "entry" in row:
                self._take_entry(row)
            elif "weather" in row:
                self._take_day(row)
            elif "setting" in row:
                if self.lines.checked(row, _SETTING):
                    insert_row(self._db, "setting", {"name": row["setting"], "value": row["value"]})
            elif "end" in row:
                self._end(row)
            else:
                self.lines.reject("", "names no batch, entry, weather or setting")
        except sqlite3.IntegrityError as error:
            self.lines.reject(*_refusal(row, error))

    def _take_batch(self, row: dict[str, Any]) -> None:
        if not self.lines.checked(row, _BATCH):
            return
        self.lines.moment("written", row["written"])
        self._batch = row["batch"]
        insert_batch(self._db, row["batch"], row["title"], row["written"], row.get("undoes"))

    def _take_entry(self, row: dict[str, Any]) -> None:
        rest = {name: value for name, value in row.items() if name != "fact"}
        fact = row.get("fact")
        if not isinstance(fact, dict):
            self.lines.reject("fact", "is missing, or no set of named fields in braces")
            return
        if not self.lines.checked(rest, _ENTRY) or not self.lines.is_kind(row["kind"]):
            return
        if not self._batch:
            self.lines.reject("entry", "stands before the batch it belongs to")
            return
        self.lines.moment("written", row["written"])
        self.lines.day("about", row["about"])
        before = len(self.lines.problems)
        columns = self.lines.columns_of(row["kind"])
        values = dict(fact)
        pairs: tuple[tuple[float, float], ...] = ()
        if row["kind"] == "station_facts":
            pairs = self.lines.depth_volume(values.pop("depth_volume", None))
        if not self.lines.checked(values, columns) or len(self.lines.problems) > before:
            return
        self._insert_entry(row, values, pairs)

    def _insert_entry(
        self,
        row: Mapping[str, Any],
        values: Mapping[str, Any],
        pairs: tuple[tuple[float, float], ...],
    ) -> None:
        entry_id, kind = row["entry"], row["kind"]
        insert_row(
            self._db,
            "entry",
            {
                "entry_id": entry_id,
                "batch_id": self._batch,
                "kind": kind,
                "about": row["about"],
                "written_utc": row["written"],
                "revises": row.get("revises"),
            },
        )
        insert_row(self._db, kind, {"entry_id": entry_id, **values})
        for depth_mm, volume_l in pairs:
            pair = {"entry_id": entry_id, "depth_mm": depth_mm, "volume_l": volume_l}
            insert_row(self._db, "tank_depth_volume", pair)
        told = {column.name: values.get(column.name) for column in self.lines.columns_of(kind)}
        add_anchors(self._db, fact_from(kind, told, pairs))

    def _take_day(self, row: dict[str, Any]) -> None:
        if not self.lines.checked(row, _DAY):
            return
        values = {name: value for name, value in row.items() if name != "weather"}
        insert_row(self._db, "weather_day", {"import_id": row["weather"], **values})

    def _end(self, row: dict[str, Any]) -> None:
        self._ended = True
        rest = {name: value for name, value in row.items() if name != "end"}
        if self.lines.checked(rest, _END) and row["lines"] != self._before:
            self.lines.reject(
                "lines", f"says {row['lines']} lines, but {self._before} stand before it"
            )


def _refusal(row: Mapping[str, Any], error: sqlite3.IntegrityError) -> tuple[str, str]:
    """The field and the reason, where the tables refuse a line."""
    sort = next(iter(row))
    said = str(error)
    if said.startswith("UNIQUE"):
        return sort, "stands in the text twice"
    rule = said.removeprefix("CHECK constraint failed: ")
    named = re.findall(r"[a-z_0-9]+", rule)
    fields = [*row, *(row["fact"] if isinstance(row.get("fact"), dict) else ())]
    name = next((word for word in named if word in fields), row.get("kind", sort))
    return name, f"cannot be so; it must hold that {rule}"
