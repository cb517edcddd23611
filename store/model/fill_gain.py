"""What water brought on a day buys: the chance to hold through heavy use, and wet days."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from store.model.board import Board
from store.model.ensembles import Fill
from store.model.heavy_use import hold_chance, until_its_end, wet_days


@dataclass(frozen=True)
class FillGain:
    """Chances, 0 to 1, to hold water through the heavy-use weeks, without and with a fill.

    `days` are the wet days of those weeks that the fill brings on average.
    """

    chance_before: float
    chance_after: float
    days: float


def fill_gain(board: Board, station_id: str, on: date, volume_l: float) -> FillGain | None:
    """What a fill of a station gains; None where the model cannot follow it.

    The same courses of the weather are lived through with the fill and without. After
    the heavy-use weeks a fill gains nothing in them.
    """
    today, weeks = board.snapshot.today, board.snapshot.heavy_use(station_id)
    left = until_its_end(board.levels, today, weeks, station_id)
    if left is None:
        return None
    before = hold_chance(left, weeks)
    if on > weeks.last:
        return FillGain(before, before, 0.0)
    filled = until_its_end(board.levels, today, weeks, station_id, Fill(on, volume_l))
    if filled is None:
        return None
    gained = float((wet_days(filled, weeks) - wet_days(left, weeks)).mean())
    return FillGain(before, hold_chance(filled, weeks), gained)
