"""Finding texts by the words in them, with the full-text search of SQLite (FTS5).

The index stands in memory and is made of what it is to find, so it can never tell
anything else than the logbook does. Its one table is made without sqlite-utils, which a
start would have to load for it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass

_TOKENIZE = "unicode61 remove_diacritics 2"
"""Capitals and accents do not count."""


@dataclass(frozen=True)
class WordIndex:
    """The words of a row of texts; made by `word_index`, in whatever thread."""

    db: sqlite3.Connection


def word_index(texts: Iterable[str]) -> WordIndex:
    """The index of some texts, in their order."""
    db = sqlite3.connect(":memory:", check_same_thread=False)
    with db:
        db.execute(f"CREATE VIRTUAL TABLE text USING fts5(words, tokenize = '{_TOKENIZE}')")
        db.executemany("INSERT INTO text (rowid, words) VALUES (?, ?)", enumerate(texts))
    return WordIndex(db)


def places_of(index: WordIndex, asked: str) -> list[int]:
    """Where the texts stand that hold every word asked for, or one it begins; from 0 on.

    A number stands for itself alone, or a day 2 would be found in every 2025. Signs
    between words count for nothing; without a word every text is meant.
    """
    words = "".join(sign if sign.isalnum() else " " for sign in asked).split()
    if not words:
        rows = index.db.execute("SELECT rowid FROM text ORDER BY rowid")
    else:
        query = " ".join(f'"{word}"' if word.isdigit() else f'"{word}"*' for word in words)
        rows = index.db.execute("SELECT rowid FROM text WHERE text MATCH ? ORDER BY rowid", [query])
    return [number for (number,) in rows]
