"""The chance to hold is one number, wherever it is told."""

from datetime import date
from pathlib import Path

import pytest

from store.logbook.opening import logbook_at, working_copy
from store.model.fill_gain import fill_gain
from store.model.snapshot import load
from store.model.working_out import board_of
from store.views.outlook import outlooks
from store.views.overview import overview_row

DEMO = Path(__file__).parents[3] / "demo.db"


@pytest.mark.parametrize("day", [date(2025, 10, 12), date(2025, 10, 28)], ids=["before", "within"])
def test_overview_outlook_and_work_day_tell_the_same_chance(day: date) -> None:
    with working_copy(DEMO) as copy, logbook_at(copy, day) as logbook:
        board = board_of(load(logbook))
    snapshot = board.snapshot
    told = {
        one.station.station_id: one.hold_chance
        for one in outlooks(snapshot, board.levels, snapshot.heavy_use_end)
    }
    assert len(told) > 10
    for station_id, chance in told.items():
        row = overview_row(board, snapshot.places.stations[station_id])
        gain = fill_gain(board, station_id, snapshot.top_up_day(station_id), 100.0)
        assert gain is not None
        assert row.hold_chance == pytest.approx(chance)
        assert gain.chance_before == pytest.approx(chance)
