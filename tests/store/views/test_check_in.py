"""Who is in service on a day, what the log holds of it, and which readings are unlikely."""

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.errors import BadValue
from store.model.assimilation import FilterCache
from store.model.levels import levels_of
from store.model.snapshot import Snapshot, supposing
from store.records import (
    Chore,
    Draft,
    Entry,
    GaugeReading,
    Reading,
    StationFacts,
    TankMeasures,
)
from store.units import METRIC_UNITS, US_UNITS, mm_from_inches
from store.views.check_in import (
    SURPRISING_SHARE,
    checked_below_rim_mm,
    checked_rain_mm,
    expected_below_rim_mm,
    gauge_entry,
    in_service,
    level_on,
    reading_entry,
    surprise,
)
from store.vocabulary import ChoreKind, LevelMark, Shape

TANK = TankMeasures(Shape.RECTANGULAR, depth_mm=762.0, length_mm=1219.2, width_mm=914.4)
FACTS = StationFacts("a", "t", "Oak flat", TANK, apron_area_m2=14.0)
depths = st.floats(0, 762)


def named(snapshot: Snapshot, name: str) -> str:
    return snapshot.places.find_station(name).station_id


def test_only_tanks_that_stood_that_day_are_in_service(snapshot: Snapshot) -> None:
    def names(day: date) -> list[str]:
        return [snapshot.places.label(facts) for facts in in_service(snapshot, day)]

    assert names(snapshot.today) == ["Beech", "Fern", "North/Oak", "Drum", "South/Oak"]
    assert names(date(2013, 5, 9)) == ["North/Oak"]
    retired = supposing(
        snapshot,
        named(snapshot, "Fern"),
        [Draft(date(2015, 10, 1), Chore(named(snapshot, "Fern"), ChoreKind.RETIRE))],
    )
    days = [date(2015, 10, 1), date(2015, 10, 2)]
    fern = ["Fern" in [retired.places.label(f) for f in in_service(retired, day)] for day in days]
    assert fern == [True, False]


def test_the_reading_of_a_day_is_the_one_written_last(snapshot: Snapshot) -> None:
    beech, day = named(snapshot, "Beech"), date(2015, 8, 20)
    again = supposing(snapshot, beech, [Draft(day, Reading(beech, mark=LevelMark.HALF))])
    found = reading_entry(again, beech, day, after_work=False)
    assert found is not None
    assert found.fact == Reading(beech, mark=LevelMark.HALF)
    assert reading_entry(again, beech, day + timedelta(days=1), after_work=False) is None


def test_the_gauge_reading_of_a_day_is_that_of_its_tract() -> None:
    day = date(2015, 10, 1)
    written = datetime(2015, 10, 1, tzinfo=UTC)
    entries = [
        Entry(f"{number}", "b", day, written, GaugeReading(tract, rain_mm))
        for number, (tract, rain_mm) in enumerate([("t", 1.0), ("u", 2.0), ("t", 3.0)])
    ]
    found = gauge_entry(entries, "t", day)
    assert found is not None
    assert found.entry_id == "2"
    assert gauge_entry(entries, "t", day + timedelta(days=1)) is None


def test_what_is_expected_leaves_out_the_reading_it_is_compared_with(
    snapshot: Snapshot, known: FilterCache
) -> None:
    beech, day = named(snapshot, "Beech"), date(2015, 8, 20)
    levels = levels_of(snapshot, known)
    read, before = level_on(levels, beech, day), level_on(levels, beech, day - timedelta(days=1))
    assert read is not None
    assert before is not None
    assert read.read_today
    assert read.below_rim_mm == pytest.approx(mm_from_inches(10), abs=0.1)
    assert expected_below_rim_mm(levels, beech, day) == before.below_rim_mm
    assert expected_below_rim_mm(levels, beech, day - timedelta(days=1)) == before.below_rim_mm
    assert level_on(levels, beech, date(2013, 5, 9)) is None
    assert level_on(levels, named(snapshot, "Later"), day) is None


@given(depths, depths)
def test_a_reading_surprises_when_it_is_a_quarter_of_the_depth_off(
    seen: float, said: float
) -> None:
    sentence = surprise(FACTS, Reading("a", below_rim_mm=seen), said, US_UNITS)
    assert (sentence is not None) == (abs(seen - said) > SURPRISING_SHARE * 762.0)
    if sentence is not None:
        assert ("leak" in sentence) == (seen > said)
        assert f"expected {said / 25.4:.1f} in" in sentence


def test_nothing_surprises_where_the_model_says_nothing() -> None:
    assert surprise(FACTS, Reading("a", mark=LevelMark.DRY), None, US_UNITS) is None


@pytest.mark.parametrize(
    ("mark", "inches"), [(LevelMark.FULL, 0), (LevelMark.QUARTER, 22.5), (LevelMark.DRY, 30)]
)
def test_a_mark_is_a_share_of_the_depth(mark: LevelMark, inches: float) -> None:
    below_mm = Reading("a", mark=mark).below_rim_of(FACTS.tank.depth_mm)
    assert below_mm == pytest.approx(mm_from_inches(inches))


def test_a_level_under_the_bottom_and_rain_past_any_record_are_refused() -> None:
    assert checked_below_rim_mm(FACTS, 762.0, US_UNITS) == 762.0
    with pytest.raises(BadValue, match=r"31\.0 in below the rim is under the bottom.*30\.0 in"):
        checked_below_rim_mm(FACTS, mm_from_inches(31), US_UNITS)
    with pytest.raises(BadValue, match=r"78\.0 cm .* 76\.2 cm deep"):
        checked_below_rim_mm(FACTS, 780.0, METRIC_UNITS)
    assert checked_rain_mm(0.0, US_UNITS) == 0.0
    with pytest.raises(BadValue, match="not possible"):
        checked_rain_mm(mm_from_inches(400), US_UNITS)
