"""A day of work on the real New York record: stops, loads, reasons."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from store.errors import BadValue
from store.haul.problem import Limits
from store.model.work_kit import WorkKit
from store.units import METRIC_UNITS, litres_from_gallons
from store.views.work_cautions import work_cautions
from store.views.work_day import work_day
from store.vocabulary import Access, PromptKind
from tests.store.conftest import TODAY

TRAILER = WorkKit(
    by=Access.VEHICLE, payload_kg=900.0, tank_l=600.0, start_latitude_deg=41.0,
    start_longitude_deg=-74.0, asked=True,
)  # fmt: skip


@pytest.fixture(scope="module")
def placed(board):
    """The board with coordinates, a few kilometres between the tracts."""
    at = {"Oak": 0.0, "Beech": 0.01, "Fern": 0.02, "Drum": 0.05, "Later": 0.06}
    stations = {
        key: replace(one, latitude_deg=41.0 + at[one.name], longitude_deg=-74.0)
        for key, one in board.snapshot.places.stations.items()
    }
    places = replace(board.snapshot.places, stations=stations)
    return replace(board, snapshot=replace(board.snapshot, places=places))


def labels(stops):
    return [stop.label for stop in stops]


def test_a_day_serves_all_that_is_due_within_the_payload(placed):
    day = work_day(placed, TRAILER, TODAY)
    assert {"Beech", "North/Oak", "Drum"} <= set(labels(day.served))
    assert "Later" not in labels(day.stops)
    (load,) = day.plan.loads
    assert load.weight_kg <= TRAILER.payload_kg
    drum = next(stop for stop in day.served if stop.label == "Drum")
    assert load.water_l == pytest.approx(drum.need_l)
    assert [prompt.kind for prompt in drum.prompts] == [PromptKind.FILL, PromptKind.RAMP]
    assert day.notes == ()
    assert 0.0 < day.hours < 24.0


def test_a_fill_raises_the_chance_to_hold_through_heavy_use(placed):
    drum = next(stop for stop in work_day(placed, TRAILER, TODAY).stops if stop.need_l)
    assert 0.0 <= drum.gain.chance_before < drum.gain.chance_after <= 1.0
    assert drum.gain.days > 1.0


def test_a_fill_after_heavy_use_gains_nothing_in_it(placed):
    after = placed.snapshot.heavy_use_end + timedelta(days=1)
    drum = next(stop for stop in work_day(placed, TRAILER, after).stops if stop.need_l)
    assert drum.gain.chance_after == drum.gain.chance_before
    assert drum.gain.days == 0.0


def test_no_water_is_brought_on_foot(placed):
    day = work_day(placed, TRAILER, TODAY)
    for stop in day.stops:
        assert not (stop.on_foot and stop.need_l)
        assert (stop.walk_minutes > 0.0) == (
            stop.station.name == "Beech" or stop.label == "South/Oak"
        )


def test_a_walk_starts_at_the_nearest_place_the_vehicle_reaches(placed):
    beech = next(s for s in work_day(placed, TRAILER, TODAY).stops if s.label == "Beech")
    assert beech.place.latitude_deg == pytest.approx(41.0)
    kilometres = 2.0 * 0.01 * 111.195 * TRAILER.detour
    assert beech.walk_minutes == pytest.approx(kilometres / 4.0 * 60.0, rel=1e-4)


def test_a_look_at_a_ramp_alone_is_no_reason_to_go(placed):
    day = work_day(placed, TRAILER, TODAY)
    assert "Fern" not in labels(day.stops)
    assert "waits for other work" in next(one.why for one in day.not_done if one.label == "Fern")


def test_where_no_vehicle_of_the_kit_gets_no_water_goes(board):
    stations = {
        key: replace(one, access=Access.ATV) if one.name == "Drum" else one
        for key, one in board.snapshot.places.stations.items()
    }
    places = replace(board.snapshot.places, stations=stations)
    board = replace(board, snapshot=replace(board.snapshot, places=places))
    day = work_day(board, TRAILER, TODAY)
    assert any("No vehicle gets to Drum" in one.why for one in day.not_done)
    assert day.plan.loads == ()
    assert work_day(board, replace(TRAILER, by=Access.ATV), TODAY).plan.loads


@pytest.mark.parametrize(
    ("limits", "said"),
    [
        (Limits(loads=0), "1 load instead of 0"),
        (Limits(water_l=litres_from_gallons(5.0)), "28 gal instead of 5"),
        (Limits(minutes=10.0), "hours instead of 0.2"),
    ],
)
def test_what_is_left_out_says_why(placed, limits, said):
    day = work_day(placed, TRAILER, TODAY, limits)
    why = next(one.why for one in day.not_done if one.label == "Drum")
    assert said in why
    assert "wet days for 28 gal" in why
    assert "Drum" not in labels(day.served)


def test_reasons_are_in_the_units_of_the_reader(placed):
    metric = replace(placed, snapshot=replace(placed.snapshot, units=METRIC_UNITS))
    day = work_day(metric, TRAILER, TODAY, Limits(water_l=5.0))
    assert any("L instead of 5" in one.why for one in day.not_done)


def test_without_coordinates_the_order_is_kept_and_said(board):
    day = work_day(board, WorkKit(), TODAY)
    assert labels(day.served) == labels(day.stops)
    assert any("are assumed" in note for note in day.notes)
    assert any("No coordinates are known of Beech" in note for note in day.notes)
    assert day.hours > 3.0
    backwards = tuple(reversed([stop.station.station_id for stop in day.stops]))
    assert labels(work_day(board, WorkKit(), TODAY, only=backwards).served) == list(
        reversed(labels(day.served))
    )


def test_only_the_place_of_the_source_missing_is_said(placed):
    day = work_day(placed, WorkKit(asked=True), TODAY)
    assert any("known of the water source" in note for note in day.notes)


def test_a_day_in_the_quiet_weeks_says_so(placed):
    day = work_day(placed, TRAILER, date(2015, 10, 25))
    assert any("25 October 2015 lies in the quiet weeks of North" in note for note in day.notes)


@pytest.mark.parametrize(
    ("on", "limits", "said"),
    [
        (TODAY - timedelta(days=1), Limits(), "is past"),
        (TODAY + timedelta(days=61), Limits(), "too far ahead"),
        (TODAY, Limits(minutes=-1.0), "hours of a day cannot be -1"),
        (TODAY, Limits(loads=-1), "loads of a day cannot be -1"),
        (TODAY, Limits(water_l=float("nan")), "water of a day cannot be nan"),
    ],
)
def test_days_that_cannot_be_planned_are_refused(placed, on, limits, said):
    with pytest.raises(BadValue, match=said):
        work_day(placed, TRAILER, on, limits)


def test_each_caution_stands_once_hauling_first(placed):
    day = work_day(placed, TRAILER, TODAY)
    subjects = [caution.subject for caution in work_cautions(placed, day)]
    assert subjects[:2] == ["Hauling water", "Towing"]
    assert {"Carcass", "Escape ramp", "Working alone"} <= set(subjects)
    assert len(subjects) == len(set(subjects))
    dry = work_day(placed, TRAILER, TODAY, Limits(loads=0))
    assert "Towing" not in [caution.subject for caution in work_cautions(placed, dry)]
    assert work_cautions(placed, work_day(placed, TRAILER, TODAY, only=())) == ()
