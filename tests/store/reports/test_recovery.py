"""The choices of a station's open events as rows, and the plan they are reckoned with."""

import pytest

from store.contamination.choices import Way
from store.errors import BadValue, NotFound
from store.model.assimilation import FilterCache
from store.model.board import Board
from store.model.snapshot import Snapshot
from store.reports.contamination import recovery_rows
from store.reports.report import Cell, Report, file_table
from store.units import US_UNITS, gallons_from_litres, litres_from_gallons
from store.views.planned_recovery import bail_share, bailed_l, bailing_plan, replanned


def column(answer: Report, name: str) -> list[Cell]:
    columns, rows = file_table(answer, US_UNITS)
    at = columns.index(name)
    return [row[at] for row in rows]


def test_every_choice_is_a_row_with_the_dates_of_the_board(
    snapshot: Snapshot, board: Board, known: FilterCache
) -> None:
    rows = recovery_rows(snapshot, "North/Oak", memory=known)
    station = snapshot.places.find_station("North/Oak")
    (found,) = board.recoveries.of_station(station.station_id)
    choices = found.outlook.choices
    assert column(rows, "choice") == [choice.way.value for choice in choices]
    assert column(rows, "clear_p50") == [choice.clear.median for choice in choices]
    assert column(rows, "used_p90") == [choice.used.high for choice in choices]
    assert column(rows, "visits") == [choice.cost.visits for choice in choices]
    assert set(column(rows, "back_by")) == {found.wanted}
    assert "safety unknown" in rows.notes[0]


def test_where_no_vehicle_gets_no_refill_is_offered(snapshot: Snapshot, known: FilterCache) -> None:
    assert Way.REFILL.value not in column(recovery_rows(snapshot, "Beech", memory=known), "choice")
    assert Way.REFILL.value in column(recovery_rows(snapshot, "North/Oak", memory=known), "choice")


def test_a_station_without_an_open_event_has_no_rows_but_a_sentence(
    snapshot: Snapshot, known: FilterCache
) -> None:
    answer = recovery_rows(snapshot, "Drum", memory=known)
    assert answer.rows == ()
    assert "no open contamination event" in answer.notes[0]
    with pytest.raises(NotFound):
        recovery_rows(snapshot, "Nowhere", memory=known)


@pytest.mark.parametrize("percent", [140.0, 100.5, 0.9, 0.0, -10.0, float("nan")])
def test_a_bail_that_cannot_be_is_refused(snapshot: Snapshot, percent: float) -> None:
    for refuse in (bail_share, lambda p: recovery_rows(snapshot, "North/Oak", p)):
        with pytest.raises(BadValue, match="percent cannot be: no tank gives more"):
            refuse(percent)


def test_all_the_water_cannot_be_planned_and_no_load_is_nothing(snapshot: Snapshot) -> None:
    assert bail_share(100.0) == 1.0
    with pytest.raises(BadValue, match="look at draining"):
        bailing_plan(snapshot.today, 100.0)
    for load_l in (0.0, float("nan"), float("inf")):
        with pytest.raises(BadValue, match="cannot be carried"):
            bailing_plan(snapshot.today, load_l=load_l)


def test_the_plan_changes_the_refill_alone(snapshot: Snapshot, known: FilterCache) -> None:
    usual = recovery_rows(snapshot, "North/Oak", memory=known)
    little = recovery_rows(snapshot, "North/Oak", 50.0, litres_from_gallons(20.0), memory=known)
    refill = column(usual, "choice").index(Way.REFILL.value)
    wait = column(usual, "choice").index(Way.WAIT.value)
    assert usual.rows[wait] == little.rows[wait]
    # Halving takes five rounds to 5 percent, nine tenths two (2 ** -5 < 0.05 < 2 ** -4).
    gallons, tenths = (float(str(column(a, "gallons")[refill])) for a in (little, usual))
    assert gallons / tenths == pytest.approx(5 * 0.5 / (2 * 0.9), rel=0.05)
    assert column(little, "loads")[refill] == -(-gallons // 20.0)


def test_one_event_replanned_is_the_row_of_that_plan(
    snapshot: Snapshot, board: Board, known: FilterCache
) -> None:
    station = snapshot.places.find_station("North/Oak")
    (found,) = board.recoveries.of_station(station.station_id)
    again = replanned(board, found.event.event_id, bailing_plan(snapshot.today, 50.0))
    assert again is not None
    refill = again.way(Way.REFILL)
    assert refill is not None
    rows = recovery_rows(snapshot, "North/Oak", 50.0, memory=known)
    at = column(rows, "choice").index(Way.REFILL.value)
    assert column(rows, "gallons")[at] == round(gallons_from_litres(refill.cost.water_l), 1)
    assert column(rows, "used_p50")[at] == refill.used.median
    assert replanned(board, "no event", bailing_plan(snapshot.today)) is None


def test_a_bail_in_percent_is_of_the_water_of_its_day(snapshot: Snapshot, board: Board) -> None:
    station = snapshot.places.find_station("North/Oak")
    levels = board.levels.by_station[station.station_id]
    half = bailed_l(board.levels, station, snapshot.today, 50.0)
    assert half == pytest.approx(levels.volume_l[-1] / 2.0)


def test_the_event_most_likely_to_miss_the_season_comes_first(board: Board) -> None:
    found = board.recoveries.by_miss_chance()
    chances = [one.miss_chance for one in found]
    assert len(found) == 3
    assert chances == sorted(chances, reverse=True)
    for one in found:
        soonest = min(c.used.median for c in one.outlook.choices if c.used.median is not None)
        assert one.best.used.median == soonest
