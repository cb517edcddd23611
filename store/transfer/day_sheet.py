"""A sheet that was taken along on a day of work, filled in: one row a station."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from enum import StrEnum
from pathlib import Path

from store.logbook.places import Places
from store.records import Chore, Entry, Fact, RampCheck, Reading, Sighting
from store.transfer.cells import VOLUME, Cells
from store.transfer.log_sheets import MOST_AT_ONCE, below_rim_mm, note_of, read_log_sheet
from store.transfer.sheets import DAY_SHEET, Imported
from store.vocabulary import ChoreKind, UseSeen

TICKED = (ChoreKind.RAKE, ChoreKind.INSTALL, ChoreKind.COVER, ChoreKind.UNCOVER)
"""Work that is told by a tick; a fill is told by its water."""


class Ramp(StrEnum):
    """What was seen of the escape ramp."""

    IN_PLACE = "in place"
    MISSING = "missing"


def read_day_sheet(path: Path, places: Places, live: Iterable[Entry], today: date) -> Imported:
    """What a sheet tells of each station; what the log holds already is passed over.

    Raises:
        BadFile: the file cannot be read or lacks a column.
        BadLines: any of its lines is rejected.
    """

    def whats(cells: Cells, station_id: str) -> list[Fact]:
        rejected_before = cells.rejected
        found: list[Fact] = []
        level_mm = below_rim_mm(cells, places.stations[station_id].tank)
        if level_mm is not None:
            found.append(Reading(station_id, level_mm))
        use, ramp = cells.word("use", UseSeen), cells.word("ramp", Ramp)
        if use is not None:
            found.append(Sighting(station_id, use))
        if ramp is not None:
            found.append(RampCheck(station_id, ramp is Ramp.IN_PLACE))
        found += [Chore(station_id, chore) for chore in _ticked(cells)]
        poured_l = cells.number("", VOLUME, most=MOST_AT_ONCE)
        if poured_l:
            found.append(Chore(station_id, ChoreKind.FILL, poured_l))
        found += note_of(cells, station_id)
        return [] if cells.rejected > rejected_before else found

    return read_log_sheet(path, DAY_SHEET, places, live, today, whats)


def _ticked(cells: Cells) -> list[ChoreKind]:
    """The chores of a cell such as `rake; uncover`."""
    chores = []
    for text in re.split(r"[;,]", cells.text("done")):
        word = text.strip().casefold()
        if word in TICKED:
            chores.append(ChoreKind(word))
        elif word:
            cells.reject("done", f"{word!r} is not one of {', '.join(TICKED)}")
    return chores
