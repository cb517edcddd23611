"""Finding texts by the words in them, with the full-text search of SQLite (FTS5).

The index stands in memory and is made of what it is to find, so it can never tell
anything else than the logbook does.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass

from sqlite_utils import Database

_TOKENIZE = "unicode61 remove_diacritics 2"
"""Capitals and accents do not count."""


@dataclass(frozen=True)
class WordIndex:
    """The words of a row of texts; made by `word_index`, in whatever thread."""

    db: Database


def word_index(texts: Iterable[str]) -> WordIndex:
    """The index of some texts, in their order."""
    db = Database(sqlite3.connect(":memory:", check_same_thread=False))
    table = db.table("text")
    table.create({"number": int, "words": str}, pk="number")
    table.enable_fts(["words"], tokenize=_TOKENIZE)
    with db.conn:
        db.conn.executemany("INSERT INTO text VALUES (?, ?)", enumerate(texts))
    table.populate_fts(["words"])
    return WordIndex(db)


def places_of(index: WordIndex, asked: str) -> list[int]:
    """Where the texts stand that hold every word asked for, or one it begins; from 0 on.

    A number stands for itself alone, or a day 2 would be found in every 2025. Signs
    between words count for nothing; without a word every text is meant.
    """
    words = "".join(sign if sign.isalnum() else " " for sign in asked).split()
    if not words:
        rows = index.db.execute("SELECT number FROM text ORDER BY number")
    else:
        query = " ".join(f'"{word}"' if word.isdigit() else f'"{word}"*' for word in words)
        rows = index.db.execute(
            "SELECT rowid FROM text_fts WHERE text_fts MATCH ? ORDER BY rowid", [query]
        )
    return [number for (number,) in rows]
