"""A connection to SQLite that commits each statement by itself, or many at once.

Autocommit is SQLite's own way; `atomic` makes one transaction of what is done inside it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import count
from typing import Any

Parameters = Sequence[Any] | Mapping[str, Any]


@dataclass
class Connection:
    """One connection, to be used in one thread."""

    conn: sqlite3.Connection
    _savepoints: Iterator[int] = field(default_factory=count)

    def __post_init__(self) -> None:
        if self.conn.isolation_level is not None:
            self.conn.isolation_level = None

    def execute(self, sql: str, parameters: Parameters = ()) -> sqlite3.Cursor:
        return self.conn.execute(sql, parameters)

    @contextmanager
    def atomic(self) -> Iterator[None]:
        """One transaction, or a part of the one under way: all of it is kept, or nothing."""
        if self.conn.in_transaction:
            name = f"part_{next(self._savepoints)}"
            begin, keep, drop = f"SAVEPOINT {name}", f"RELEASE {name}", f"ROLLBACK TO {name}"
        else:
            begin, keep, drop = "BEGIN", "COMMIT", "ROLLBACK"
        self.conn.execute(begin)
        try:
            yield
            self.conn.execute(keep)
        except BaseException:
            if self.conn.in_transaction:
                self.conn.execute(drop)
                if drop != "ROLLBACK":
                    self.conn.execute(keep)
            raise

    def close(self) -> None:
        self.conn.close()
