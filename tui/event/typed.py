"""What is typed about a contamination event, read into its sheet."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from store.errors import BadValue
from store.model.board import Board
from store.typed import day_typed, number_from
from store.views.planned_recovery import bailed_l
from tui.base.typed_field import typed_volume_l
from tui.event.entered import EventDraft

MOST_DAYS_DEAD = 365
MOST_VISITS = 50
"""Beyond these a number is a slip of the finger (assumed)."""


def with_typed(sheet: EventDraft, asking: str, text: str, board: Board) -> EventDraft:
    """The sheet with a typed text where it belongs; an empty one takes an answer back.

    Raises:
        BadValue: it is no number, no date, a date to come, or cannot be.
    """
    units = board.snapshot.units
    match asking:
        case "note":
            return replace(sheet, note=text)
        case "refill":
            return sheet.refilled(typed_volume_l(text, units))
        case "days dead":
            return replace(sheet, days_dead=_days_dead(text) if text else None)
        case "bears":
            return replace(sheet, bears=_visits(text) if text else 0)
        case "bail":
            return _bailed(sheet, text, board)
        case _:
            return replace(sheet, day=_typed_day(text, board.snapshot.today))


def _bailed(sheet: EventDraft, text: str, board: Board) -> EventDraft:
    if not text:
        return replace(sheet, bailed_percent=None, bailed_l=None)
    percent = number_from(text)
    station = board.snapshot.places.stations[sheet.station_id]
    return sheet.bailed(percent, bailed_l(board.levels, station, sheet.day, percent))


def _days_dead(text: str) -> float:
    days = number_from(text)
    if not 0.0 <= days <= MOST_DAYS_DEAD:
        raise BadValue(f"{text} days cannot be told of a carcass; type 0 to {MOST_DAYS_DEAD}.")
    return days


def _visits(text: str) -> int:
    visits = number_from(text)
    if not (0.0 <= visits <= MOST_VISITS and visits == int(visits)):
        raise BadValue(f"{text} is no number of visits in a day; type 0 to {MOST_VISITS}.")
    return int(visits)


def _typed_day(text: str, today: date) -> date:
    day = day_typed(text, today)
    if day > today:
        raise BadValue("That day is still to come; an event is found today or earlier.")
    return day
