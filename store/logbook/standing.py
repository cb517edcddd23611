"""Which batches stand and which are undone, the same whoever's file they are in.

A batch that somebody saved, the undos of it and their redos are one family: the last
word in it says whether the batch stands. The order of all batches is that of their ids,
which rise with time, but for one rule: what undoes a batch comes after it. So two people
whose logbooks hold the same batches agree, in whatever order the batches came in.
"""

from __future__ import annotations

from dataclasses import dataclass

from store.logbook.connection import Connection


@dataclass(frozen=True)
class Batch:
    """One transaction: everything that was saved, and is undone, together."""

    batch_id: str
    title: str
    undoes: str | None = None


@dataclass(frozen=True)
class Standing:
    """The last words of the families of batches, each list in their order.

    `done` is what an undo would reverse, last first; `undone` what a redo would, which is
    nothing that came before the latest batch somebody saved. `saved` are the batches that
    stand, as they were saved.
    """

    done: tuple[Batch, ...]
    undone: tuple[Batch, ...]
    saved: frozenset[str]


def batches_in_order(db: Connection) -> list[Batch]:
    """All batches of a logbook, in the order that every copy of them has."""
    rows = db.execute("SELECT batch_id, title, undoes FROM batch_as_saved")
    by_id = {row[0]: Batch(*row) for row in rows}
    return sorted(by_id.values(), key=lambda batch: _place(batch, by_id))


def _place(batch: Batch, by_id: dict[str, Batch]) -> tuple[str, int, str]:
    family = _family(batch, by_id)
    return max(one.batch_id for one in family), len(family), batch.batch_id


def _family(batch: Batch, by_id: dict[str, Batch]) -> list[Batch]:
    """A batch and what it undoes, down to what somebody saved."""
    family = [batch]
    while (before := family[-1].undoes) is not None:
        family.append(by_id[before])
    return family


def standing(db: Connection) -> Standing:
    """What stands in a logbook, and what an undo and a redo would reverse."""
    batches = batches_in_order(db)
    by_id = {batch.batch_id: batch for batch in batches}
    words: dict[str, tuple[Batch, bool]] = {}
    undone: list[str] = []
    for batch in batches:
        family = _family(batch, by_id)
        saved, stands = family[-1].batch_id, len(family) % 2 == 1
        words.pop(saved, None)
        words[saved] = batch, stands
        if batch.undoes is None:
            undone.clear()
        elif saved in undone:
            undone.remove(saved)
        if not stands:
            undone.append(saved)
    return Standing(
        done=tuple(batch for batch, stands in words.values() if stands),
        undone=tuple(words[saved][0] for saved in undone),
        saved=frozenset(saved for saved, (_, stands) in words.items() if stands),
    )


def saved_after(db: Connection, reversed_batch: Batch) -> frozenset[str]:
    """The saved batches that stand once the last word of a family was reversed."""
    by_id = {batch.batch_id: batch for batch in batches_in_order(db)}
    family = _family(reversed_batch, by_id)
    return standing(db).saved ^ {family[-1].batch_id}
