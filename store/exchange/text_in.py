"""A new logbook from the plain text of one."""

from __future__ import annotations

import json
import sqlite3
import tempfile
from collections.abc import Iterator
from pathlib import Path

from store.errors import BadFile, BadLines, Problem, Refused
from store.exchange.text_form import MAX_CHARACTERS
from store.exchange.text_reader import TextReader
from store.logbook.opening import Logbook, create_logbook

SOME = 5
"""So many missing ids of a sort are told; the rest are most often of the same cause."""


def logbook_from_text(file: Path, path: Path) -> None:
    """Make a new logbook of what a text says, whole or not at all.

    Raises:
        Refused: something of that name exists, or a newer version wrote the text.
        BadFile: the text cannot be read, is no logbook's or is cut short, or the
            logbook cannot be made there.
        BadLines: lines of it are damaged.
    """
    if path.exists():
        raise Refused(f"{path} exists already; choose another name, or merge the two.")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=path.parent, prefix=".brimbook-") as folder:
            unfinished = Path(folder) / path.name
            logbook = create_logbook(unfinished)
            try:
                _fill(logbook, file)
            finally:
                logbook.close()
            unfinished.rename(path)
    except (OSError, sqlite3.OperationalError) as error:
        why = error.strerror if isinstance(error, OSError) else error
        raise BadFile(f"{path} cannot be made: {why}; choose another name or folder.") from error


def _fill(logbook: Logbook, file: Path) -> None:
    with logbook.db.atomic():
        logbook.db.execute("PRAGMA defer_foreign_keys = ON")
        reader = TextReader(logbook.db, file.name)
        reader.read(_numbered(file))
        problems = reader.lines.problems or _broken_ties(logbook, file)
        if problems:
            raise BadLines(file, problems)


def _numbered(file: Path) -> Iterator[tuple[int, str]]:
    """The lines of a file that say something, each with its number.

    Raises:
        BadFile: not a file, not text, or a line too long to be one of a logbook.
    """
    try:
        if not file.is_file():
            raise BadFile(f"{file} is no file; name the text of a logbook.")
        with file.open(encoding="utf-8-sig", newline="\n") as opened:
            number = 0
            while text := opened.readline(MAX_CHARACTERS):
                number += 1
                if len(text) == MAX_CHARACTERS:
                    raise BadFile(f"{file.name}, line {number} is too long for a logbook's text.")
                if text.strip():
                    yield number, text.strip()
    except OSError as error:
        raise BadFile(f"{file} cannot be read: {error.strerror}; check the name.") from error
    except UnicodeDecodeError as error:
        raise BadFile(
            f"{file.name} is not text in UTF-8 ({error.reason}); fetch the text again."
        ) from error
    except ValueError as error:
        raise BadFile(f"{file} cannot be the name of a file; check it.") from error


def _broken_ties(logbook: Logbook, file: Path) -> list[Problem]:
    """Lines that name what no line makes, or that lead back to themselves."""
    missing = _unmade(logbook)
    circular = _circular(logbook, "entry", "entry_id", "revises") | _circular(
        logbook, "batch", "batch_id", "undoes"
    )
    problems = []
    for number, text in _numbered(file) if missing or circular else ():
        row = json.loads(text)
        if row.get("entry", row.get("batch")) in circular:
            problems.append(Problem(number, "", "comes after itself, by what it revises or undoes"))
        named = row | (row["fact"] if isinstance(row.get("fact"), dict) else {})
        problems += [
            Problem(number, name, f"{value} is named here, but no line of the text makes it")
            for name, value in named.items()
            if isinstance(value, str) and value in missing
        ]
    return problems


def _unmade(logbook: Logbook) -> set[str]:
    """Some of the ids that the rows speak of and no row is."""
    found: set[str] = set()
    failing = logbook.db.execute("PRAGMA foreign_key_check").fetchall()
    for table, parent, number in {(row[0], row[2], row[3]) for row in failing}:
        ties = logbook.db.execute(f"PRAGMA foreign_key_list({table})").fetchall()
        column, key = next((tie[3], tie[4]) for tie in ties if tie[0] == number)
        sql = (
            f"SELECT DISTINCT {column} FROM {table} WHERE {column} NOT IN "
            f"(SELECT {key} FROM {parent}) LIMIT {SOME}"
        )
        found.update(value for (value,) in logbook.db.execute(sql))
    return found


def _circular(logbook: Logbook, table: str, key: str, before: str) -> set[str]:
    """Rows that stand in a circle; each circle has one that is older than what it follows."""
    found: set[str] = set()
    sql = f"SELECT {key}, {before} FROM {table} WHERE {before} >= {key}"
    for one, follows in logbook.db.execute(sql).fetchall():
        seen, at = {one}, follows
        while at is not None and at not in seen:
            seen.add(at)
            row = logbook.db.execute(f"SELECT {before} FROM {table} WHERE {key} = ?", [at])
            (at,) = row.fetchone() or (None,)
        if at is not None:
            found.add(at)
    return found
