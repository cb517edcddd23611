"""Bring the entries of another logbook into one: all of them, whole, in one transaction.

Entries have ids that no two logbooks share by chance, and are never changed, so merging
is a union: merging twice adds nothing, and in whatever order logbooks are merged, they
say the same in the end. What holds where both revised an entry is for
`store.logbook.forks` to say; settings stay those of the logbook that is merged into.
"""

from __future__ import annotations

import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from store.errors import BadFile, Refused
from store.exchange.text_in import logbook_from_text
from store.logbook.backups import copy_verified
from store.logbook.checks import contradictions
from store.logbook.connection import Connection
from store.logbook.entries import entry_by_id, held_entries, live_entries
from store.logbook.forks import WITHDRAWAL, Said, forked_trees, held_in
from store.logbook.inserting import insert_batch
from store.logbook.opening import Logbook, is_logbook, logbook_at
from store.logbook.places import Places, places
from store.logbook.rows import FACT_TYPES
from store.logbook.standing import standing
from store.records import Entry, Fact

ANCHORS = ("tract", "station", "contamination_event", "weather_record", "weather_file")
KEYS = {
    "batch_as_saved": "batch_id",
    "entry": "entry_id",
    **dict.fromkeys(FACT_TYPES, "entry_id"),
    "tank_depth_volume": "entry_id",
    "weather_day": "import_id",
}
"""The tables and views whose rows must be the same wherever an id is known to both."""


@dataclass(frozen=True)
class Incoming:
    """A batch that comes in, and how many entries it holds."""

    batch_id: str
    title: str
    written_utc: str
    entries: int


@dataclass(frozen=True)
class Conflict:
    """What each of two logbooks said of the same thing, and which of it holds now.

    None where a logbook says that there is no such thing (any more). `where` names the
    station or tract it is about, empty where it is about none.
    """

    where: str
    mine: Entry | None
    theirs: Entry | None
    holds: Entry | None


@dataclass(frozen=True)
class Merged:
    """What came in, where the two disagree, and what now speaks against what."""

    batches: tuple[Incoming, ...]
    conflicts: tuple[Conflict, ...]
    contradictions: tuple[str, ...]


@contextmanager
def logbook_of(path: Path) -> Iterator[Path]:
    """A private copy of a logbook, or of what its text says, brought up to our tables.

    Raises:
        BadFile, BadLines: it cannot be read.
        Refused: a newer version wrote it.
    """
    with tempfile.TemporaryDirectory(prefix="brimbook-") as folder:
        copy = Path(folder) / "theirs.db"
        if is_logbook(path):
            try:
                copy_verified(path, copy)
            except (OSError, sqlite3.Error) as error:
                raise BadFile(f"{path} cannot be read ({error}); try again.") from error
        else:
            logbook_from_text(path, copy)
        with logbook_at(copy) as theirs:
            if theirs.only_read:
                raise Refused(
                    f"{path} was written by a newer Brimbook; install that here, too, to merge."
                )
        yield copy


def merge(mine: Logbook, theirs: Path, *, dry_run: bool = False) -> Merged:
    """Bring the entries of `theirs`, a copy made by `logbook_of`, into `mine`.

    A dry run does all of it, tells what it came to, and takes it back.

    Raises:
        Refused: an entry of one id says different things, or `mine` cannot be written;
            nothing is changed.
    """
    mine.refuse_only_read()
    with logbook_at(theirs) as other:
        their_saved = standing(other.db).saved
    db = mine.db
    db.execute("ATTACH ? AS theirs", [str(theirs)])
    try:
        db.conn.execute("BEGIN IMMEDIATE")
        db.execute("PRAGMA defer_foreign_keys = ON")
        _refuse_differences(db)
        before = set(_contradictions(mine))
        my_saved = standing(db).saved
        incoming = _incoming(db)
        _copy(db, incoming)
        conflicts = _conflicts(mine, my_saved, their_saved, {one.batch_id for one in incoming})
        told = tuple(one for one in _contradictions(mine) if one not in before)
        if not dry_run:
            db.conn.commit()
    except sqlite3.OperationalError as error:
        raise Refused(
            f"The logbook could not be written ({error}); nothing was changed. Close other "
            "programs that use it, see that the disk has room, and try again."
        ) from error
    finally:
        db.conn.rollback()
        db.execute("DETACH theirs")
    return Merged(incoming, conflicts, told)


def _contradictions(logbook: Logbook) -> list[str]:
    return contradictions(held_entries(logbook), live_entries(logbook), logbook.today)


def _refuse_differences(db: Connection) -> None:
    """Refuse rows of the same id that differ: one of the files was altered by hand."""
    for table, key in KEYS.items():
        names = ", ".join(f'"{row[1]}"' for row in db.execute(f"PRAGMA main.table_info({table})"))
        for one, other in (("theirs", "main"), ("main", "theirs")):
            known = "weather_file" if key == "import_id" else table
            row = db.execute(
                f"SELECT * FROM (SELECT {names} FROM {one}.{table} WHERE {key} IN "
                f"(SELECT {key} FROM {other}.{known}) "
                f"EXCEPT SELECT {names} FROM {other}.{table}) LIMIT 1"
            ).fetchone()
            if row is not None:
                raise Refused(
                    f"Both logbooks hold {row[0]}, but they say different things in "
                    f"{table.replace('_', ' ')}; one of the files was altered outside Brimbook. "
                    "Nothing was merged."
                )


def _incoming(db: Connection) -> tuple[Incoming, ...]:
    sql = """
        SELECT batch_id, title, written_utc,
            (SELECT count(*) FROM theirs.entry WHERE entry.batch_id = batch.batch_id)
        FROM theirs.batch AS batch
        WHERE batch_id NOT IN (SELECT batch_id FROM main.batch) ORDER BY batch_id
    """
    return tuple(Incoming(*row) for row in db.execute(sql))


def _copy(db: Connection, incoming: tuple[Incoming, ...]) -> None:
    """Insert all that is new; the days of an import before the import is known."""
    db.execute(
        "INSERT INTO main.weather_day SELECT * FROM theirs.weather_day "
        "WHERE import_id NOT IN (SELECT import_id FROM main.weather_file)"
    )
    for anchor in ANCHORS:
        db.execute(f"INSERT OR IGNORE INTO main.{anchor} SELECT * FROM theirs.{anchor}")
    for batch in incoming:
        (undoes,) = db.execute(
            "SELECT undoes FROM theirs.batch_as_saved WHERE batch_id = ?", [batch.batch_id]
        ).fetchone()
        insert_batch(db, batch.batch_id, batch.title, batch.written_utc, undoes)
    db.execute(
        "INSERT INTO main.entry SELECT * FROM theirs.entry "
        "WHERE entry_id NOT IN (SELECT entry_id FROM main.entry) ORDER BY entry_id"
    )
    for kind in FACT_TYPES:
        db.execute(
            f"INSERT INTO main.{kind} SELECT * FROM theirs.{kind} "
            f"WHERE entry_id NOT IN (SELECT entry_id FROM main.{kind})"
        )
    db.execute(
        "INSERT OR IGNORE INTO main.tank_depth_volume SELECT * FROM theirs.tank_depth_volume"
    )


def _conflicts(
    mine: Logbook, my_saved: frozenset[str], their_saved: frozenset[str], new: set[str]
) -> tuple[Conflict, ...]:
    """Things that both logbooks changed, apart and in different ways, before they met."""
    saved, names = standing(mine.db).saved, places(mine)
    found = []
    for tree in forked_trees(mine.db):
        if not any(one.batch_id in new for one in tree):
            continue
        ours = tuple(one for one in tree if one.batch_id not in new)
        known = {
            row[0]
            for one in tree
            for row in mine.db.execute(
                "SELECT entry_id FROM theirs.entry WHERE entry_id = ?", [one.entry_id]
            )
        }
        other = tuple(one for one in tree if one.entry_id in known)
        one = _entry(mine, held_in(ours, my_saved))
        another = _entry(mine, held_in(other, their_saved))
        if _said(one) != _said(another):
            where = next((_place(names, entry.fact) for entry in (one, another) if entry), "")
            found.append(Conflict(where, one, another, _entry(mine, held_in(tree, saved))))
    return tuple(found)


def _place(names: Places, fact: Fact) -> str:
    """The station or tract of a fact, by the name that holds, or else its own."""
    station = names.stations.get(getattr(fact, "station_id", ""))
    if station is not None:
        return names.label(station)
    tract = names.tracts.get(getattr(fact, "tract_id", ""))
    return tract.name if tract is not None else getattr(fact, "name", "")


def _entry(logbook: Logbook, said: Said | None) -> Entry | None:
    if said is None or said.kind == WITHDRAWAL:
        return None
    return entry_by_id(logbook, said.entry_id)


def _said(entry: Entry | None) -> tuple[object, ...]:
    return () if entry is None else (entry.day, entry.fact)
