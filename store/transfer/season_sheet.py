"""The windows of tracts from a CSV, one line a window."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path

from store.errors import BadValue, NotFound, Problem
from store.logbook.places import Places
from store.records import Draft, Entry, SeasonLimit, SeasonWindow, TractFacts
from store.season.month_day import month_days
from store.season.tract_season import span_of, tract_season
from store.transfer.cells import Cells
from store.transfer.sheets import SEASON, Imported, raise_problems, read_sheet
from store.vocabulary import WindowKind


def read_season(
    path: Path,
    places: Places,
    live: Iterable[Entry],
    latitudes: Mapping[str, float | None],
    today: date,
) -> Imported:
    """Read windows, and revise those the logbook holds where they differ.

    `latitudes` of tracts, by id, say what holds where nothing is set.

    Raises:
        BadFile: the file cannot be read, or lacks a column.
        BadLines: any of its lines is rejected, or the windows of a tract contradict it.
    """
    table, warnings = read_sheet(path, SEASON)
    problems: list[Problem] = []
    held = [entry for entry in live if isinstance(entry.fact, SeasonWindow | SeasonLimit)]
    read: dict[tuple[str, WindowKind], SeasonWindow] = {}
    last_cells: dict[str, Cells] = {}
    for row in table.rows:
        cells = Cells(row, problems)
        tract, kind = _tract(cells, places), _window(cells)
        days = f"{cells.text('first', required=True)} to {cells.text('last', required=True)}"
        if tract is None or kind is None or cells.rejected:
            continue
        if (tract.tract_id, kind) in read:
            cells.reject("window", f"{tract.name} has {kind} on an earlier line already")
            continue
        try:
            first, last = month_days(days)
            span_of(kind, first, last)
        except BadValue as error:
            cells.reject("first", str(error).rstrip("."))
            continue
        window = SeasonWindow(tract.tract_id, kind, str(first), str(last))
        read[tract.tract_id, kind] = window
        last_cells[tract.tract_id] = cells
    drafts, known = _drafts(read, held, today)
    revised = {draft.revises for draft in drafts}
    kept = [entry.fact for entry in held if entry.entry_id not in revised]
    settings = [*kept, *(draft.fact for draft in drafts)]
    for tract_id, cells in last_cells.items():
        facts = [fact for fact in settings if isinstance(fact, SeasonWindow | SeasonLimit)]
        try:
            tract_season(places.tracts[tract_id], facts, latitudes.get(tract_id))
        except BadValue as error:
            cells.reject("window", str(error).rstrip("."))
    raise_problems(path, problems)
    return Imported(tuple(drafts), known, warnings)


def _drafts(
    read: Mapping[tuple[str, WindowKind], SeasonWindow], held: list[Entry], today: date
) -> tuple[list[Draft], int]:
    """What changes, and how many windows the logbook has already."""
    before = {
        (entry.fact.tract_id, entry.fact.window): entry
        for entry in held
        if isinstance(entry.fact, SeasonWindow)
    }
    drafts, known = [], 0
    for key, window in read.items():
        entry = before.get(key)
        if entry is not None and entry.fact == window:
            known += 1
        else:
            drafts.append(Draft(today, window, None if entry is None else entry.entry_id))
    return drafts, known


def _tract(cells: Cells, places: Places) -> TractFacts | None:
    name = cells.text("tract", required=True)
    if not name:
        return None
    try:
        return places.find_tract(name)
    except NotFound as error:
        cells.reject("tract", str(error).rstrip("."))
        return None


def _window(cells: Cells) -> WindowKind | None:
    text = cells.text("window", required=True).casefold()
    if not text:
        return None
    if text in set(WindowKind):
        return WindowKind(text)
    known = ", ".join(WindowKind)
    cells.reject("window", f"{text!r} is no window of the season; write one of {known}")
    return None
