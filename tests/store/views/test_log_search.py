"""The log of all stations and finding in it."""

import random
from datetime import date, timedelta
from time import perf_counter

from store.model.snapshot import supposing
from store.records import Draft, Note
from store.views.log_search import found_lines, whole_log
from tests.store.conftest import TODAY


def test_all_stations_or_one_newest_first(snapshot):
    log = whole_log(snapshot)
    days = [one.line.on for one in log.lines]
    assert days == sorted(days, reverse=True)
    beech = snapshot.places.find_station("Beech").station_id
    own = whole_log(snapshot, beech)
    assert [one.line for one in own.lines] == [
        one.line for one in log.lines if one.station_id == beech
    ]


def test_notes_kinds_stations_and_days_are_found(snapshot):
    beech = snapshot.places.find_station("Beech").station_id
    noted = supposing(snapshot, beech, [Draft(TODAY, Note(beech, "Wasps under the rim"))])
    log = whole_log(noted)
    assert [one.line.note for one in found_lines(log, "wasp")] == ["Wasps under the rim"]
    assert {one.line.what for one in found_lines(log, "fouled drowned")} == {
        "Fouled: drowned animal; carcass removed"
    }
    assert {one.label for one in found_lines(log, "beech")} == {"Beech"}
    assert {one.line.on for one in found_lines(log, "20 september 2015")} == {date(2015, 9, 20)}
    assert found_lines(log, "hornet") == []


def test_what_was_taken_back_is_not_found(snapshot):
    assert found_lines(whole_log(snapshot), "wasp") == []


def test_many_entries_are_found_at_once(snapshot):
    beech, rng = snapshot.places.find_station("Beech").station_id, random.Random(7)
    words = ("deer", "rub", "mud", "rain", "gate", "track", "fawn", "leaf", "bank", "wind")
    drafts = [
        Draft(TODAY - timedelta(days=n // 8), Note(beech, " ".join(rng.choices(words, k=12))))
        for n in range(20_000)
    ]
    noted = supposing(snapshot, beech, [*drafts, Draft(TODAY, Note(beech, "wasps"))])
    begun = perf_counter()
    log = whole_log(noted)
    made = perf_counter()
    assert len(found_lines(log, "wasp")) == 1
    assert made - begun < 5.0
    assert perf_counter() - made < 0.5
