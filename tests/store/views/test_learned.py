from datetime import date

from store.model.levels import levels_of
from store.model.snapshot import supposing
from store.records import Draft, Reading
from store.views.budget import station_budget
from store.views.learned import learned_lines
from tests.store.conftest import TODAY


def station_id(snapshot, name):
    return snapshot.places.find_station(name).station_id


def test_what_a_station_without_an_apron_taught_says_nothing_of_one(snapshot, board):
    answer = board.levels
    fern, _ = learned_lines(snapshot, answer, station_id(snapshot, "Fern"))
    beech, _ = learned_lines(snapshot, answer, station_id(snapshot, "Beech"))
    assert "apron_yield" not in {lesson.parameter for lesson in fern}
    assert "apron_yield" in {lesson.parameter for lesson in beech}


def test_a_leak_is_worth_a_look_only_when_there_is_one(snapshot, board):
    beech = station_id(snapshot, "Beech")
    found, _ = learned_lines(snapshot, board.levels, beech)
    (leak,) = [lesson for lesson in found if lesson.parameter == "leak_mm_d"]
    assert "look for a crack" not in leak.text


def test_a_hardly_possible_reading_is_pointed_out_and_kept(snapshot, known):
    beech = station_id(snapshot, "Beech")
    read = ((date(2015, 9, 5), 200.0), (TODAY, 740.0))
    entries = [Draft(day, Reading(beech, below_rim_mm=below)) for day, below in read]
    odd = supposing(snapshot, beech, entries)
    answer = levels_of(odd, known)
    _, doubted = learned_lines(odd, answer, beech)
    assert [reading.on for reading in doubted] == [TODAY]
    assert "was expected" in doubted[0].text
    assert answer.by_station[beech].read[-1], "on its own day a reading is shown as read"
    past = [(date(2015, 9, 1), 200.0), (date(2015, 9, 5), 740.0), (date(2015, 9, 6), 205.0)]
    entries = [Draft(day, Reading(beech, below_rim_mm=below)) for day, below in past]
    later = levels_of(supposing(snapshot, beech, entries), known).by_station[beech]
    read = [bool(later.read[(day - later.first_day).days]) for day, _ in past]
    assert read == [True, False, True]


def test_a_budget_closes(board):
    answer = board.levels
    for key, station in answer.by_station.items():
        found = station_budget(answer, key, station.station.first, station.station.last)
        assert abs(found.residual_l) < 1e-6
