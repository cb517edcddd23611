"""The chain on real weather: files in, levels out."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from store.errors import BadValue, NotFound
from store.model import following
from store.model.assimilation import FilterCache
from store.model.levels import levels_of
from store.model.snapshot import supposing
from store.records import Chore, Draft, Reading
from store.reports.levels import level_rows
from store.units import gallons_from_litres, inches_from_mm, litres_from_gallons
from store.vocabulary import ChoreKind, LevelMark
from store.water.geometry import volume_below_rim_l
from tests.store.conftest import TODAY, snapshot_on


@pytest.fixture(scope="module")
def answer(snapshot):
    return levels_of(snapshot)


def named(answer, snapshot, name):
    return answer.by_station[snapshot.places.find_station(name).station_id]


def test_levels_run_from_the_install_to_today(answer, snapshot):
    oak = named(answer, snapshot, "North/Oak")
    assert oak.first_day == date(2012, 5, 5)
    assert oak.first_day + timedelta(days=len(oak.volume_l) - 1) == TODAY
    assert oak.low_l[0] < 0.2 * oak.high_l[0], "nobody said how much water it was dug in with"
    assert np.isfinite(oak.volume_l).all()
    assert (oak.volume_l >= 0).all()
    assert (oak.volume_l <= oak.station.tank.capacity_l + 1e-9).all()


def test_a_reading_sets_the_level_of_its_day(answer, snapshot):
    beech = named(answer, snapshot, "Beech")
    day = (date(2015, 8, 20) - beech.first_day).days
    assert inches_from_mm(beech.below_rim_mm[day]) == pytest.approx(10.0)
    assert beech.read[day]
    assert not beech.read[day - 1]
    assert beech.volume_l[day] == pytest.approx(volume_below_rim_l(beech.station.tank, 254.0))


def test_a_fill_adds_to_the_level_it_found(answer, snapshot):
    oak = named(answer, snapshot, "North/Oak")
    before, after = (
        oak.volume_l[(day - oak.first_day).days] for day in (date(2015, 9, 20), date(2015, 9, 21))
    )
    assert gallons_from_litres(after - before) == pytest.approx(20.0, abs=6.0)
    assert oak.share[(date(2015, 9, 20) - oak.first_day).days] == pytest.approx(0.5)


def test_a_level_seen_after_a_fill_is_the_level_of_that_evening(snapshot):
    beech = snapshot.places.find_station("Beech").station_id
    day = TODAY - timedelta(days=1)
    found = Reading(beech, mark=LevelMark.QUARTER)
    brought = Chore(beech, ChoreKind.FILL, litres_from_gallons(20))
    half = Reading(beech, mark=LevelMark.HALF, after_work=True)

    def share(*facts):
        levels = levels_of(supposing(snapshot, beech, [Draft(day, fact) for fact in facts]))
        own = levels.of(beech)
        assert own.read[(day - own.first_day).days]
        return own.share[(day - own.first_day).days]

    on_coming = share(replace(half, after_work=False), brought)
    assert share(brought, half) == pytest.approx(0.5)
    assert share(found, brought, half) == pytest.approx(0.5)
    assert on_coming > 0.6
    assert share(found, brought) == pytest.approx(0.25 + on_coming - 0.5, abs=0.02)


def test_without_an_apron_rain_alone_keeps_less(answer, snapshot):
    fern, beech = (named(answer, snapshot, name) for name in ("Fern", "Beech"))
    assert fern.share[:700].mean() < beech.share[:700].mean() - 0.2


def test_a_station_never_installed_says_why_it_has_no_level(answer, snapshot):
    later = snapshot.places.find_station("Later")
    assert "no install or reading" in answer.without[later.station_id]
    assert later.station_id not in answer.by_station


def test_dry_spells_are_runs_of_dry_days(answer, snapshot):
    drum = named(answer, snapshot, "Drum")
    spells = drum.dry_spells()
    assert spells
    days = sum((last - first).days + 1 for first, last in spells)
    assert days == (drum.share < 0.05).sum()
    assert all(first <= last for first, last in spells)


def test_levels_do_not_depend_on_the_other_stations(snapshot, answer):
    from dataclasses import replace

    oak = snapshot.places.find_station("North/Oak")
    alone = replace(
        snapshot,
        places=replace(snapshot.places, stations={oak.station_id: oak}),
    )
    assert np.array_equal(
        levels_of(alone).by_station[oak.station_id].volume_l,
        answer.by_station[oak.station_id].volume_l,
    )


def test_later_entries_do_not_change_an_earlier_day(book_path, answer, snapshot):
    earlier = snapshot_on(book_path, date(2015, 9, 1))
    beech = named(levels_of(earlier), earlier, "Beech")
    whole = named(answer, snapshot, "Beech")
    assert beech.median_l == pytest.approx(whole.median_l[: len(beech.median_l)])


def test_the_band_is_narrow_after_a_reading_and_widens(answer, snapshot):
    oak = named(answer, snapshot, "South/Oak")
    day = (date(2015, 9, 25) - oak.first_day).days
    run = answer.followed[oak.station.facts.station_id]
    width = (run.p90_l - run.p10_l)[:, 0]
    assert width[day] < 0.3 * width[day - 1]
    assert width[day + 17] > 2.0 * width[day]
    assert (oak.low_l <= oak.median_l).all()
    assert (oak.median_l <= oak.high_l).all()


def test_only_what_is_new_is_followed_again(snapshot, monkeypatch):
    memory = FilterCache()
    first = levels_of(snapshot, memory)
    beech = snapshot.places.find_station("Beech").station_id
    followed = []
    follow = following.follow
    monkeypatch.setattr(
        following,
        "follow",
        lambda ids, *rest, **more: followed.extend(ids) or follow(ids, *rest, **more),
    )
    again = levels_of(snapshot, memory)
    assert not followed
    supposed = supposing(snapshot, beech, [Draft(TODAY, Reading(beech, below_rim_mm=120.0))])
    changed = levels_of(supposed, memory)
    assert beech in followed
    assert snapshot.places.find_station("North/Oak").station_id not in followed
    for station_id, before in first.by_station.items():
        assert np.array_equal(before.median_l, again.by_station[station_id].median_l)
    assert changed.by_station[beech].volume_l[-1] != first.by_station[beech].volume_l[-1]


def test_another_thread_may_clear_the_memory_meanwhile(snapshot, monkeypatch):
    memory = FilterCache()
    levels_of(snapshot, memory)
    beech = snapshot.places.find_station("Beech").station_id
    supposed = supposing(snapshot, beech, [Draft(TODAY, Reading(beech, below_rim_mm=120.0))])
    follow = following.follow
    monkeypatch.setattr(
        following, "follow", lambda *asked, **more: memory.clear() or follow(*asked, **more)
    )
    assert beech in levels_of(supposed, memory).by_station
    assert len(memory) == len(snapshot.places.stations) - 1, "all in service"


def test_rows_for_print_cover_the_days_asked_for(snapshot):
    printed = level_rows(snapshot, date(2015, 9, 19), date(2015, 9, 21), "North/Oak")
    assert [row[0].day for row in printed.rows] == [19, 20, 21]
    assert [row[6] for row in printed.rows] == ["modeled", "read", "modeled"]
    assert printed.columns[6] == "source"


def test_rows_for_print_refuse_what_makes_no_sense(snapshot):
    with pytest.raises(NotFound, match="did you mean"):
        level_rows(snapshot, None, None, "Beach")
    with pytest.raises(BadValue, match="swap them"):
        level_rows(snapshot, date(2015, 9, 2), date(2015, 9, 1), None)


def test_days_past_the_record_are_filled_and_counted(book_path):
    snapshot = snapshot_on(book_path, date(2016, 1, 20))
    printed = level_rows(snapshot, date(2016, 1, 1), None, "Beech")
    assert len(printed.rows) == 20
    assert "20 of 20 days" in printed.notes[0]
