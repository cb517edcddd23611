"""What water brought on a day buys: the chance to hold through heavy use, and wet days."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from store.model.board import Board
from store.model.ensembles import Fill, ensemble_runs
from store.model.fill_worth import wet_days


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
    left = board.ahead.get(station_id)
    if left is None:
        return None
    today, weeks = board.snapshot.today, board.snapshot.heavy_use(station_id)
    length = (weeks.last - weeks.first).days + 1
    wet = wet_days(left, weeks)
    before = float((wet == length).mean())
    if on > weeks.last:
        return FillGain(before, before, 0.0)
    ((_, run),) = ensemble_runs(
        board.levels,
        today,
        days=(weeks.last - today).days,
        members=left.volume_l.shape[1],
        fills={station_id: Fill(on, volume_l)},
        only=(station_id,),
    )
    brought = wet_days(run.future, weeks)
    members = min(len(wet), len(brought))
    gained = float((brought[:members] - wet[:members]).mean())
    return FillGain(before, float((brought == length).mean()), gained)
