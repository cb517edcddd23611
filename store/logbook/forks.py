"""What holds of an entry that two people revised, each in a copy of their own.

An entry and all that revises it are a tree. Most trees are a chain, and its last entry
holds. Where a tree forks, what somebody saved counts if its batch stands, undos count for
nothing by themselves, and of several revisions side by side the one saved last holds.
The others stay in the logbook. So undoing the last one brings back the one before it,
whoever wrote it, and everybody who has the same batches sees the same.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from store.logbook.connection import Connection
from store.logbook.standing import standing

WITHDRAWAL = "withdrawal"


@dataclass(frozen=True)
class Said:
    """One entry of a tree; `revises` is None for the one it began with."""

    entry_id: str
    batch_id: str
    kind: str
    revises: str | None


@dataclass(frozen=True)
class Forks:
    """The entries of all trees that fork, and those of them that hold."""

    members: frozenset[str]
    holding: frozenset[str]


def forks(db: Connection) -> Forks:
    """What holds where entries were revised more than once."""
    trees = forked_trees(db)
    if not trees:
        return Forks(frozenset(), frozenset())
    saved = standing(db).saved
    held = (held_in(tree, saved) for tree in trees)
    return Forks(
        members=frozenset(one.entry_id for tree in trees for one in tree),
        holding=frozenset(one.entry_id for one in held if one and one.kind != WITHDRAWAL),
    )


def forked_trees(db: Connection) -> list[tuple[Said, ...]]:
    """Every tree that forks, in the order of the entries they began with."""
    twice = db.execute(
        "SELECT revises FROM entry WHERE revises IS NOT NULL GROUP BY revises HAVING count(*) > 1"
    ).fetchall()
    return [tree_from(db, root) for root in sorted({root_of(db, one) for (one,) in twice})]


def root_of(db: Connection, entry_id: str) -> str:
    """The entry that a tree began with."""
    sql = "SELECT revises FROM entry WHERE entry_id = ?"
    while (before := db.execute(sql, [entry_id]).fetchone()[0]) is not None:
        entry_id = before
    return entry_id


def tree_from(db: Connection, root: str) -> tuple[Said, ...]:
    """The entry a tree began with, and all that revises it, in the order of their ids."""
    sql = """
        WITH RECURSIVE tree (entry_id) AS (
            SELECT ? UNION ALL
            SELECT entry.entry_id FROM tree JOIN entry ON entry.revises = tree.entry_id
        )
        SELECT entry_id, batch_id, kind, revises FROM tree JOIN entry USING (entry_id)
        ORDER BY entry_id
    """
    return tuple(Said(*row) for row in db.execute(sql, [root]))


def held_in(tree: Iterable[Said], saved: Collection[str]) -> Said | None:
    """What was said last in a tree by the batches that stand, be it a withdrawal."""
    by_id = {one.entry_id: one for one in tree}
    counts = {one.entry_id: one for one in by_id.values() if one.batch_id in saved}
    replaced: set[str] = set()
    for one in counts.values():
        before = one.revises
        while before is not None and before in by_id and before not in replaced:
            replaced.add(before)
            before = by_id[before].revises
    last = [one for one in counts.values() if one.entry_id not in replaced]
    return max(last, key=lambda one: (one.batch_id, one.entry_id), default=None)
