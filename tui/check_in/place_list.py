"""The lines of the check-in's list: a place, and marks for what was entered there."""

from __future__ import annotations

from dataclasses import dataclass

from rich.text import Text

from store.model.board import Board
from store.records import Entry, Reading, StationFacts, TractFacts
from store.units import Units
from tui import words
from tui.check_in.entered import CheckIn, StationVisit
from tui.check_in.keys import key
from tui.widgets.cells import fit


@dataclass(frozen=True)
class View:
    """What a card is drawn from; `before` is what the log holds of that place and day."""

    board: Board
    sheet: CheckIn
    before: Entry | None
    wide: bool
    hauling: bool
    """Whether a fill is being entered."""
    typed_l: float | None = None
    """The litres typed so far; None to the rim."""

    @property
    def units(self) -> Units:
        return self.board.snapshot.units


def list_line(view: View, stop: TractFacts | StationFacts | None, width: int) -> Text:
    match stop:
        case TractFacts() as tract:
            return _gauge_line(view, tract, width)
        case StationFacts() as station:
            return _station_line(view, station, width)
        case None:
            return Text("Summary")


def _gauge_line(view: View, tract: TractFacts, width: int) -> Text:
    rain_mm = view.sheet.gauges.get(tract.tract_id)
    if rain_mm is not None:
        shown = words.rain(rain_mm, view.units)
    else:
        shown = f"({already(view)})" if view.before is not None else ""
    return Text(f"{fit(f'Rain {tract.name}', width - len(shown) - 1)} {shown}", no_wrap=True)


def _station_line(view: View, station: StationFacts, width: int) -> Text:
    seen = view.sheet.seen(station.station_id)
    marks = " ".join(short_marks(seen, view.units))
    if not marks and view.before is not None:
        marks = f"({already(view)})"
    room = max(8, width - len(marks) - 1)
    label = view.board.snapshot.places.label(station)
    return Text(f"{fit(label, room)} {marks}", no_wrap=True)


def short_marks(seen: StationVisit, units: Units) -> list[str]:
    """The level, then the key of each other thing that was entered."""
    marks = []
    if seen.has_level:
        marks.append(words.level_read(seen.mark, seen.below_rim_mm, units, short=True))
    if seen.use is not None:
        marks.append(key("use", seen.use.value))
    if seen.camera_per_day is not None:
        marks.append(f"{key('camera')}{seen.camera_per_day:g}")
    if seen.ramp is not None:
        marks.append(key("ramp") if seen.ramp else f"{key('ramp')}!")
    for present, action in ((seen.raked, "rake"), (seen.filled, "fill"), (seen.note, "note")):
        if present:
            marks.append(key(action))
    return marks


def said(seen: StationVisit, units: Units) -> list[str]:
    """Everything entered at a station, in words."""
    level = words.level_read(seen.mark, seen.below_rim_mm, units) if seen.has_level else ""
    fill = _fill_said(seen, units)
    parts = []
    if level and not seen.after_work:
        parts.append(f"{'found' if fill else 'level'} {level}")
    if seen.use is not None:
        parts.append(f"use {seen.use.value}")
    if seen.camera_per_day is not None:
        parts.append(f"camera {seen.camera_per_day:g} a day")
    if seen.ramp is not None:
        parts.append("ramp in place" if seen.ramp else "ramp MISSING")
    if seen.raked:
        parts.append("raked")
    if seen.drained:
        parts.append("drained")
    if seen.covered is not None:
        parts.append("cover put on" if seen.covered else "cover taken off")
    if fill:
        parts.append(f"then {fill}" if level and not seen.after_work else fill)
    if level and seen.after_work:
        parts.append(f"then {level}" if fill else f"level {level} after the fill")
    if seen.note:
        parts.append(f"note: {seen.note}")
    return parts


def _fill_said(seen: StationVisit, units: Units) -> str:
    if not seen.filled:
        return ""
    return f"filled {'to the rim' if seen.fill_l is None else words.volume(seen.fill_l, units)}"


def already(view: View) -> str:
    match view.before:
        case Entry(fact=Reading() as reading) if reading.mark is not None:
            return reading.mark.value
        case Entry(fact=Reading() as reading):
            return words.depth(reading.below_rim_mm or 0.0, view.units)
        case Entry(fact=what):
            return words.rain(getattr(what, "rain_mm", 0.0), view.units)
        case _:
            return ""
