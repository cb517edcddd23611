"""Check a line of a logbook in plain text field by field, before it goes to the tables."""

from __future__ import annotations

import json
import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import Any

from store.errors import Problem
from store.logbook.connection import Connection
from store.logbook.rows import FACT_TYPES
from store.logbook.schema import WORD_TABLES

Row = dict[str, Any]
_NUMBERS = {"REAL": (int, float), "INTEGER": (int,)}
_LATEST_MS = int(datetime(9999, 1, 1, tzinfo=UTC).timestamp() * 1000)


@dataclass(frozen=True)
class Column:
    """What one field may hold; `words` are all it may say, where it is a choice."""

    name: str
    kind: str
    required: bool = False
    words: frozenset[str] | None = None
    is_id: bool = False


def text_column(name: str) -> Column:
    return Column(name, "TEXT", required=True)


def id_column(name: str, *, required: bool = True) -> Column:
    return Column(name, "TEXT", required, is_id=True)


@dataclass
class Lines:
    """What is wrong so far, and the tables that facts go to."""

    db: Connection
    problems: list[Problem] = field(default_factory=list)
    number: int = 0
    """The line that is being read."""
    _columns: dict[str, tuple[Column, ...]] = field(default_factory=dict)

    def reject(self, name: str, reason: str) -> None:
        self.problems.append(Problem(self.number, name, reason))

    def parsed(self, text: str) -> Row | None:
        """The fields of a line; None with the problem noted."""
        try:
            row = json.loads(text, parse_constant=_no_number, object_pairs_hook=_without_repeats)
        except json.JSONDecodeError as error:
            self.reject("", f"is damaged at character {error.pos + 1} ({error.msg})")
            return None
        except (ValueError, RecursionError) as error:
            self.reject("", f"is damaged ({error})")
            return None
        if not isinstance(row, dict):
            self.reject("", "is no set of named fields in braces")
            return None
        return row

    def checked(self, row: Mapping[str, Any], columns: tuple[Column, ...]) -> bool:
        """Whether a row has the fields it needs, each of the right sort, and no others."""
        before = len(self.problems)
        known = {column.name for column in columns}
        for name in row:
            if name not in known:
                self.reject(name, "is no field of such a line")
        for column in columns:
            value = row.get(column.name)
            if value is not None:
                self._check(column, value)
            elif column.required:
                self.reject(column.name, "is missing")
        return len(self.problems) == before

    def _check(self, column: Column, value: Any) -> None:
        if column.kind == "TEXT":
            if not isinstance(value, str):
                self.reject(column.name, f"{value!r} is not text")
            elif any("\ud800" <= letter <= "\udfff" for letter in value):
                self.reject(column.name, "holds half a character")
            elif column.words is not None and value not in column.words:
                self.reject(column.name, f"{value!r} is not one of {_listed(column.words)}")
            elif column.is_id and not is_id(value):
                self.reject(column.name, f"{value!r} is no version 7 UUID in small letters")
        elif isinstance(value, bool) or not isinstance(value, _NUMBERS[column.kind]):
            whole = "whole number" if column.kind == "INTEGER" else "number"
            self.reject(column.name, f"{value!r} is not a {whole}")
        elif column.kind == "INTEGER" and not -(2**63) <= value < 2**63:
            self.reject(column.name, f"{value!r} is too large")

    def moment(self, name: str, value: str) -> None:
        """Note it where a text is no moment in UTC."""
        try:
            known = datetime.fromisoformat(value).utcoffset() is not None
        except ValueError:
            known = False
        if not known:
            self.reject(name, f"{value!r} is no moment, as 2026-05-09T12:00:00+00:00")

    def day(self, name: str, value: str) -> None:
        """Note it where a text is no date."""
        try:
            known = date.fromisoformat(value).isoformat() == value
        except ValueError:
            known = False
        if not known:
            self.reject(name, f"{value!r} is no date, as 2026-05-09")

    def columns_of(self, kind: str) -> tuple[Column, ...]:
        """The fields of a fact, as its table has them."""
        if kind not in self._columns:
            words = {
                row[3]: frozenset(word for (word,) in self.db.execute(f"SELECT word FROM {row[2]}"))
                for row in self.db.execute(f"PRAGMA foreign_key_list({kind})").fetchall()
                if row[2] in WORD_TABLES
            }
            self._columns[kind] = tuple(
                Column(name, sort, bool(needed) and default is None, words.get(name), _ids(name))
                for _, name, sort, needed, default, _ in self.db.execute(
                    f"PRAGMA table_info({kind})"
                ).fetchall()
                if name not in ("entry_id", "kind")
            )
        return self._columns[kind]

    def is_kind(self, kind: Any) -> bool:
        """Whether a line speaks of a kind of entry that there is; noted where not."""
        if isinstance(kind, str) and kind in FACT_TYPES:
            return True
        self.reject("kind", f"{kind!r} is no kind of entry")
        return False

    def depth_volume(self, value: Any) -> tuple[tuple[float, float], ...]:
        """A measured tank's table; empty with the problem noted where it is none."""
        if value is None:
            return ()
        if not isinstance(value, list) or not all(map(_is_pair, value)):
            self.reject("depth_volume", "is no list of pairs of depth in mm and volume in L")
            return ()
        return tuple((float(depth), float(volume)) for depth, volume in value)


def is_id(value: str) -> bool:
    """Whether a text is a version 7 UUID of a moment that calendars reach."""
    try:
        made = uuid.UUID(value)
    except ValueError:
        return False
    return str(made) == value and made.version == 7 and made.int >> 80 < _LATEST_MS


def _ids(column: str) -> bool:
    return column.endswith("_id")


def _is_pair(value: Any) -> bool:
    return isinstance(value, list) and len(value) == 2 and all(map(_is_number, value))


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _no_number(text: str) -> None:
    raise ValueError(f"{text} is no number")


def _without_repeats(pairs: list[tuple[str, Any]]) -> Row:
    row = dict(pairs)
    if len(row) < len(pairs):
        raise ValueError("a field stands in it twice")
    return row


def _listed(words: frozenset[str]) -> str:
    return ", ".join(sorted(words))
