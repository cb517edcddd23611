"""Write entries, undo and redo: all of it by adding rows.

Undoing a batch adds a batch that puts back what each of its entries replaced, so
nothing is ever lost and an undo can itself be undone.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime

from store.errors import NotFound, Refused
from store.logbook.checks import refuse_contradictions, tolerated
from store.logbook.entries import entry_by_id, held_entries
from store.logbook.forks import forks, held_in, root_of, tree_from
from store.logbook.ids import MakeId, just_after
from store.logbook.inserting import add_anchors, insert_batch, insert_row
from store.logbook.needed import needed_after, needed_before
from store.logbook.opening import Logbook
from store.logbook.rows import columns_of, kind_of
from store.logbook.standing import Batch, saved_after, standing
from store.records import (
    Draft,
    Entry,
    StationFacts,
    Withdrawal,
)


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
    try:
        with logbook.writing():
            next_id = _rising_ids(logbook)
            batch = Batch(next_id(logbook.clock()), title, undoes)
            before = tolerated(held_entries(logbook, needed_before(drafts)))
            written = _stamp(logbook.clock())
            insert_batch(logbook.db, batch.batch_id, title, written, undoes)
            for draft in drafts:
                if undoes is None and draft.revises is not None:
                    _refuse_stale(logbook, draft.revises)
                _write_entry(logbook, batch, draft, next_id)
            if undoes is None:
                held = needed_after(logbook, drafts)
                refuse_contradictions(drafts, held, logbook.today, before)
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


def _rising_ids(logbook: Logbook) -> MakeId:
    """Ids after all that the logbook holds, even where the clock was set back meanwhile."""
    newest = max(
        logbook.db.execute(f"SELECT ifnull(max({key}), '') FROM {table}").fetchone()[0]
        for table, key in (("batch", "batch_id"), ("entry", "entry_id"))
    )

    def next_id(moment: datetime) -> str:
        nonlocal newest
        made = logbook.make_id(moment)
        newest = made if made > newest else logbook.make_id(just_after(newest))
        return newest

    return next_id


def _write_entry(logbook: Logbook, batch: Batch, draft: Draft, next_id: MakeId) -> None:
    now = logbook.clock()
    entry_id = next_id(now)
    add_anchors(logbook.db, draft.fact)
    insert_row(
        logbook.db,
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
    insert_row(
        logbook.db, kind_of(type(draft.fact)), {"entry_id": entry_id, **columns_of(draft.fact)}
    )
    if isinstance(draft.fact, StationFacts):
        for depth_mm, volume_l in draft.fact.tank.depth_volume:
            row = {"entry_id": entry_id, "depth_mm": depth_mm, "volume_l": volume_l}
            insert_row(logbook.db, "tank_depth_volume", row)


def _refuse_stale(logbook: Logbook, entry_id: str) -> None:
    known = logbook.db.execute("SELECT 1 FROM entry WHERE entry_id = ?", [entry_id])
    if known.fetchone() is None:
        raise NotFound(f"There is no entry {entry_id} to change; look at the log again.")
    later = logbook.db.execute("SELECT 1 FROM entry WHERE revises = ?", [entry_id])
    forked = forks(logbook.db)
    stale = entry_id not in forked.holding and later.fetchone() is not None
    if stale or entry_id in forked.members - forked.holding:
        raise Refused("That entry was changed meanwhile; look at the log again and repeat it.")


def undo(logbook: Logbook) -> Batch:
    """Take back the latest batch that still stands.

    Raises:
        Refused: there is nothing left to undo, or the file cannot be written.
    """
    with _sole_writer(logbook):
        done = standing(logbook.db).done
        if not done:
            raise Refused("There is nothing to undo.")
        return _reverse(logbook, done[-1], f"Undo: {plain_title(done[-1])}")


def redo(logbook: Logbook) -> Batch:
    """Put back the batch undone last, unless something was written since.

    Raises:
        Refused: there is nothing to redo, or the file cannot be written.
    """
    with _sole_writer(logbook):
        undone = standing(logbook.db).undone
        if not undone:
            raise Refused("There is nothing to redo.")
        return _reverse(logbook, undone[-1], f"Redo: {plain_title(undone[-1])}")


@contextmanager
def _sole_writer(logbook: Logbook) -> Iterator[None]:
    """Hold off other writers, so that what is undone is still the latest when it is."""
    try:
        with logbook.writing():
            yield
    except sqlite3.OperationalError as error:
        raise Refused(
            f"The logbook could not be written ({error}); nothing was changed. Close other "
            "programs that use it and try again."
        ) from error


def plain_title(batch: Batch) -> str:
    """What a batch is about, without saying that it was undone or redone."""
    return batch.title.removeprefix("Undo: ").removeprefix("Redo: ")


def _reverse(logbook: Logbook, batch: Batch, title: str) -> Batch:
    ids = logbook.db.execute(
        "SELECT entry_id FROM entry WHERE batch_id = ? ORDER BY rowid DESC", [batch.batch_id]
    ).fetchall()
    forked = forks(logbook.db).members
    saved = saved_after(logbook.db, batch) if forked else frozenset()
    drafts = [
        _put_back(logbook, entry_id, saved)
        if entry_id in forked
        else _reversed(logbook, entry_by_id(logbook, entry_id))
        for (entry_id,) in ids
    ]
    return _write(logbook, title, drafts, undoes=batch.batch_id)


def _reversed(logbook: Logbook, entry: Entry) -> Draft:
    """What puts back the state before `entry`, written over whatever stands now."""
    latest = _latest_revision(logbook, entry.entry_id)
    if entry.revises is None:
        return Draft(entry.day, Withdrawal("undone"), revises=latest)
    before = entry_by_id(logbook, entry.revises)
    return Draft(before.day, before.fact, revises=latest)


def _put_back(logbook: Logbook, entry_id: str, saved: frozenset[str]) -> Draft:
    """What holds in a tree that forks once only the `saved` batches stand."""
    latest = _latest_revision(logbook, entry_id)
    held = held_in(tree_from(logbook.db, root_of(logbook.db, entry_id)), saved)
    if held is None:
        day = entry_by_id(logbook, entry_id).day
        return Draft(day, Withdrawal("undone"), revises=latest)
    entry = entry_by_id(logbook, held.entry_id)
    return Draft(entry.day, entry.fact, revises=latest)


def _latest_revision(logbook: Logbook, entry_id: str) -> str:
    sql = "SELECT entry_id FROM entry WHERE revises = ? ORDER BY entry_id DESC"
    while (later := logbook.db.execute(sql, [entry_id]).fetchone()) is not None:
        entry_id = later[0]
    return entry_id


def _stamp(moment: datetime) -> str:
    return moment.strftime("%Y-%m-%dT%H:%M:%S.%f+00:00")
