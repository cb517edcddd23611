"""Read the entries of a logbook that hold.

An entry holds ("is live") when it is no withdrawal and no later entry revises it; where
several entries revise the same one, `forks` says which of them holds.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime

from store.errors import NotFound
from store.logbook.belonging import PLACE_KINDS, without_orphans
from store.logbook.connecting import stored
from store.logbook.forks import forks
from store.logbook.opening import Logbook
from store.logbook.rows import FACT_TYPES, fact_from, kind_of
from store.records import Entry, Fact, StationFacts


def live_entries(logbook: Logbook, kinds: Iterable[type[Fact]] | None = None) -> list[Entry]:
    """Entries that hold, by date they are about and then as written; some kinds or all.

    Left out are those about a tract, a station or an event that does not hold.
    """
    held = held_entries(logbook, kinds)
    return without_orphans(held, held_entries(logbook, PLACE_KINDS)) if held else held


def held_entries(
    logbook: Logbook, kinds: Iterable[type[Fact]] | None = None, where: str = "1"
) -> list[Entry]:
    """`live_entries`, with those that belong to nothing.

    `where` is a condition in SQL on `detail`, their rows; where an entry forks it is not
    looked at.
    """
    names = [kind_of(kind) for kind in kinds] if kinds is not None else list(FACT_TYPES)
    forked = forks(logbook.db)
    entries = [
        entry
        for kind in names
        for entry in _entries(logbook, kind, "live_entry", where)
        if entry.entry_id not in forked.members
    ]
    holding = (entry_by_id(logbook, entry_id) for entry_id in forked.holding)
    entries += (entry for entry in holding if kind_of(type(entry.fact)) in names)
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
            day=stored(date.fromisoformat, row["about"]),
            written_utc=stored(datetime.fromisoformat, row["written_utc"]),
            fact=fact_from(kind, row, measured.get(row["entry_id"], ())),
            revises=row["revises"],
        )


def _depth_volumes(logbook: Logbook) -> dict[str, tuple[tuple[float, float], ...]]:
    tables: dict[str, list[tuple[float, float]]] = defaultdict(list)
    sql = "SELECT entry_id, depth_mm, volume_l FROM tank_depth_volume ORDER BY depth_mm"
    for entry_id, depth_mm, volume_l in logbook.db.execute(sql):
        tables[entry_id].append((depth_mm, volume_l))
    return {entry_id: tuple(pairs) for entry_id, pairs in tables.items()}
