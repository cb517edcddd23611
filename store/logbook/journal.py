"""Write entries, read the ones that hold, undo and redo: all of it by adding rows.

An entry holds ("is live") when it is no withdrawal and no later entry revises it.
Undoing a batch adds a batch that puts back what each of its entries replaced, so
nothing is ever lost and an undo can itself be undone.
"""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from store.errors import NotFound, Refused
from store.logbook.checks import CHECKED_KINDS, refuse_contradictions
from store.logbook.opening import Logbook
from store.logbook.rows import FACT_TYPES, columns_of, fact_from, kind_of
from store.records import (
    Contamination,
    Draft,
    Entry,
    Fact,
    StationFacts,
    TractFacts,
    WeatherImport,
    Withdrawal,
)


@dataclass(frozen=True)
class Batch:
    """One transaction: everything that was saved, and is undone, together."""

    batch_id: str
    title: str
    undoes: str | None = None


def write(logbook: Logbook, title: str, drafts: Sequence[Draft]) -> Batch:
    """Write drafts as one transaction; when this returns they are on disk.

    Raises:
        Refused: nothing to write, an entry to revise no longer holds, or the
            tables refuse a row. Nothing is written then.
    """
    if not drafts:
        raise Refused("There is nothing to save; enter something first.")
    return _write(logbook, title, drafts, undoes=None)


def _write(logbook: Logbook, title: str, drafts: Sequence[Draft], undoes: str | None) -> Batch:
    """Write a batch; only what an undo puts back need not be checked anew."""
    logbook.refuse_only_read()
    batch = Batch(logbook.new_id(), title, undoes)
    try:
        with logbook.db.atomic():
            _insert(
                logbook,
                "batch",
                {
                    "batch_id": batch.batch_id,
                    "title": title,
                    "written_utc": _stamp(logbook.clock()),
                    "undoes": undoes,
                },
            )
            for draft in drafts:
                _write_entry(logbook, batch, draft)
            if undoes is None:
                refuse_contradictions(drafts, live_entries(logbook, CHECKED_KINDS), logbook.today)
    except sqlite3.IntegrityError as error:
        raise Refused(
            f"{title}: the logbook refused it ({error}); nothing was saved. Correct it and "
            "save again."
        ) from error
    except sqlite3.OperationalError as error:
        raise Refused(
            f"{title}: the logbook could not be written ({error}); nothing was saved. "
            "Close other programs that use it, see that the disk has room, and save again."
        ) from error
    return batch


def _write_entry(logbook: Logbook, batch: Batch, draft: Draft) -> None:
    if draft.revises is not None:
        _refuse_stale(logbook, draft.revises)
    now = logbook.clock()
    entry_id = logbook.make_id(now)
    _add_anchors(logbook, draft.fact)
    _insert(
        logbook,
        "entry",
        {
            "entry_id": entry_id,
            "batch_id": batch.batch_id,
            "kind": kind_of(type(draft.fact)),
            "about": draft.day.isoformat(),
            "written_utc": _stamp(now),
            "revises": draft.revises,
        },
    )
    _insert(logbook, kind_of(type(draft.fact)), {"entry_id": entry_id, **columns_of(draft.fact)})
    if isinstance(draft.fact, StationFacts):
        for depth_mm, volume_l in draft.fact.tank.depth_volume:
            row = {"entry_id": entry_id, "depth_mm": depth_mm, "volume_l": volume_l}
            _insert(logbook, "tank_depth_volume", row)


def _insert(logbook: Logbook, table: str, row: dict[str, Any]) -> None:
    names = ", ".join(f'"{name}"' for name in row)
    values = ", ".join("?" for _ in row)
    logbook.db.execute(f'INSERT INTO "{table}" ({names}) VALUES ({values})', list(row.values()))


def _add_anchors(logbook: Logbook, fact: Fact) -> None:
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
        logbook.db.execute(f"INSERT OR IGNORE INTO {table} ({column}) VALUES (?)", [anchor])


def _refuse_stale(logbook: Logbook, entry_id: str) -> None:
    known = logbook.db.execute("SELECT 1 FROM entry WHERE entry_id = ?", [entry_id])
    if known.fetchone() is None:
        raise NotFound(f"There is no entry {entry_id} to change; look at the log again.")
    later = logbook.db.execute("SELECT 1 FROM entry WHERE revises = ?", [entry_id])
    if later.fetchone() is not None:
        raise Refused("That entry was changed meanwhile; look at the log again and repeat it.")


def live_entries(logbook: Logbook, kinds: Iterable[type[Fact]] | None = None) -> list[Entry]:
    """Entries that hold, by date they are about and then as written; some kinds or all."""
    names = [kind_of(kind) for kind in kinds] if kinds is not None else list(FACT_TYPES)
    entries = [entry for kind in names for entry in _entries(logbook, kind, "live_entry")]
    return sorted(entries, key=lambda entry: (entry.day, entry.entry_id))


def entry_by_id(logbook: Logbook, entry_id: str) -> Entry:
    """One entry, live or not.

    Raises:
        NotFound: there is none of that id.
    """
    row = logbook.db.execute("SELECT kind FROM entry WHERE entry_id = ?", [entry_id]).fetchone()
    if row is None:
        raise NotFound(f"There is no entry {entry_id}.")
    return next(_entries(logbook, row[0], "entry", "entry.entry_id = ?", [entry_id]))


def _entries(
    logbook: Logbook, kind: str, source: str, where: str = "1", values: Sequence[str] = ()
) -> Iterator[Entry]:
    measured = _depth_volumes(logbook) if kind == kind_of(StationFacts) else {}
    sql = (
        f"SELECT entry.batch_id, entry.about, entry.written_utc, entry.revises, detail.* "
        f"FROM {source} AS entry JOIN {kind} AS detail USING (entry_id) WHERE {where}"
    )
    cursor = logbook.db.execute(sql, list(values))
    names = [column[0] for column in cursor.description]
    for values_of_row in cursor:
        row = dict(zip(names, values_of_row, strict=True))
        yield Entry(
            entry_id=row["entry_id"],
            batch_id=row["batch_id"],
            day=date.fromisoformat(row["about"]),
            written_utc=datetime.fromisoformat(row["written_utc"]),
            fact=fact_from(kind, row, measured.get(row["entry_id"], ())),
            revises=row["revises"],
        )


def _depth_volumes(logbook: Logbook) -> dict[str, tuple[tuple[float, float], ...]]:
    tables: dict[str, list[tuple[float, float]]] = defaultdict(list)
    sql = "SELECT entry_id, depth_mm, volume_l FROM tank_depth_volume ORDER BY depth_mm"
    for entry_id, depth_mm, volume_l in logbook.db.execute(sql):
        tables[entry_id].append((depth_mm, volume_l))
    return {entry_id: tuple(pairs) for entry_id, pairs in tables.items()}


def undo(logbook: Logbook) -> Batch:
    """Take back the latest batch that still stands.

    Raises:
        Refused: there is nothing left to undo, or the file cannot be written.
    """
    with _sole_writer(logbook):
        done, _ = standing(logbook)
        if not done:
            raise Refused("There is nothing to undo.")
        return _reverse(logbook, done[-1], f"Undo: {_plain(done[-1].title)}")


def redo(logbook: Logbook) -> Batch:
    """Put back the batch undone last, unless something was written since.

    Raises:
        Refused: there is nothing to redo, or the file cannot be written.
    """
    with _sole_writer(logbook):
        _, undone = standing(logbook)
        if not undone:
            raise Refused("There is nothing to redo.")
        return _reverse(logbook, undone[-1], f"Redo: {_plain(undone[-1].title)}")


@contextmanager
def _sole_writer(logbook: Logbook) -> Iterator[None]:
    """Hold off other writers, so that what is undone is still the latest when it is."""
    logbook.refuse_only_read()
    try:
        logbook.db.conn.execute("BEGIN IMMEDIATE")
        yield
        logbook.db.conn.commit()
    except sqlite3.OperationalError as error:
        raise Refused(
            f"The logbook could not be written ({error}); nothing was changed. Close other "
            "programs that use it and try again."
        ) from error
    finally:
        logbook.db.conn.rollback()


def _plain(title: str) -> str:
    return title.removeprefix("Undo: ").removeprefix("Redo: ")


def standing(logbook: Logbook) -> tuple[list[Batch], list[Batch]]:
    """Batches an undo would reverse, and undoing batches a redo would reverse."""
    done: list[Batch] = []
    undone: list[Batch] = []
    rows = logbook.db.execute("SELECT batch_id, title, undoes FROM batch ORDER BY rowid")
    for batch in (Batch(*row) for row in rows):
        taken_back = [one for one in undone if one.batch_id == batch.undoes]
        if batch.undoes is None:
            done.append(batch)
            undone.clear()
        elif taken_back:
            undone.remove(taken_back[0])
            done.append(batch)
        else:
            done = [one for one in done if one.batch_id != batch.undoes]
            undone.append(batch)
    return done, undone


def _reverse(logbook: Logbook, batch: Batch, title: str) -> Batch:
    ids = logbook.db.execute(
        "SELECT entry_id FROM entry WHERE batch_id = ? ORDER BY rowid DESC", [batch.batch_id]
    ).fetchall()
    drafts = [_reversed(logbook, entry_by_id(logbook, entry_id)) for (entry_id,) in ids]
    return _write(logbook, title, drafts, undoes=batch.batch_id)


def _reversed(logbook: Logbook, entry: Entry) -> Draft:
    """What puts back the state before `entry`, written over whatever stands now."""
    latest = _latest_revision(logbook, entry.entry_id)
    if entry.revises is None:
        return Draft(entry.day, Withdrawal("undone"), revises=latest)
    before = entry_by_id(logbook, entry.revises)
    return Draft(before.day, before.fact, revises=latest)


def _latest_revision(logbook: Logbook, entry_id: str) -> str:
    sql = "SELECT entry_id FROM entry WHERE revises = ?"
    while (later := logbook.db.execute(sql, [entry_id]).fetchone()) is not None:
        entry_id = later[0]
    return entry_id


def _stamp(moment: datetime) -> str:
    return moment.strftime("%Y-%m-%dT%H:%M:%S.%f+00:00")
