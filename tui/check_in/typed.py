"""What was typed in a check-in, put where it belongs."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from store.errors import BadValue
from store.model.board import Board
from store.records import StationFacts, TractFacts
from store.typed import amount_typed, day_typed, number_from
from store.units import Quantity
from store.views.check_in import checked_below_rim_mm, checked_rain_mm, water_was_brought
from tui import words
from tui.base.typed_field import typed_volume_l
from tui.check_in.entered import CheckIn, StationVisit
from tui.check_in.stops import Stop


def with_typed(sheet: CheckIn, stop: Stop | None, asking: str, text: str, board: Board) -> CheckIn:
    """The sheet with a text taken that was typed at a place.

    Raises:
        BadValue: it is no number or day, or one that cannot be.
    """
    units = board.snapshot.units
    if asking == "date":
        return _on_day(sheet, text, board) if text else sheet
    if isinstance(stop, TractFacts):
        if not text:
            return sheet.with_gauge(stop.tract_id, None)
        rain_mm = checked_rain_mm(amount_typed(text, Quantity.RAIN, units), units)
        return sheet.with_gauge(stop.tract_id, rain_mm)
    if stop is None:
        return sheet

    def changed(change: Callable[[StationVisit], StationVisit]) -> CheckIn:
        return sheet.with_seen(stop.station_id, change)

    match asking:
        case "note":
            return changed(lambda seen: replace(seen, note=text))
        case "fill":
            fill_l = typed_volume_l(text, units)
            return changed(lambda seen: seen.with_fill(fill_l))
        case "camera":
            number = number_from(text) if text else None
            return changed(lambda seen: replace(seen, camera_per_day=number))
        case "below" if text:
            typed_mm = amount_typed(text, Quantity.DEPTH, units)
            below_mm = checked_below_rim_mm(stop, typed_mm, units)
            brought = water_was_brought(board.snapshot, stop.station_id, sheet.day)
            return changed(lambda seen: seen.measured(below_mm, after_fill=brought))
        case _:
            return sheet


def _on_day(sheet: CheckIn, text: str, board: Board) -> CheckIn:
    day = day_typed(text, board.snapshot.today)
    if day > board.snapshot.today:
        raise BadValue(f"{words.plain_day(day)} is still to come; type another day.")
    return replace(sheet, day=day)


def _label(stop: Stop, board: Board) -> str:
    """A place as the list names it."""
    if isinstance(stop, StationFacts):
        return board.snapshot.places.label(stop)
    return f"Rain {stop.name}"


def stop_named(board: Board, stops: Sequence[Stop], text: str, at: int) -> int:
    """The place of the next station after `at`, and round again, whose name has that part.

    Raises:
        BadValue: there is none.
    """
    wanted = text.casefold()
    order: list[int] = [*range(at + 1, len(stops)), *range(min(at + 1, len(stops)))]
    for index in order:
        stop = stops[index]
        if wanted in _label(stop, board).casefold():
            return index
    raise BadValue(f"No station here is named {text}; type part of a name.")
