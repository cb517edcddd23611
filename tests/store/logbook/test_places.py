"""Tracts and stations by the names people give them."""

import pytest

from store.errors import NotFound
from store.logbook.journal import write
from store.logbook.places import places
from store.records import Draft, StationFacts, TractFacts

from .conftest import TANK, TODAY


@pytest.fixture
def known(empty):
    drafts = []
    for tract, names in (("south", ("Spring", "Ash")), ("North", ("spring", "Oak [2]"))):
        tract_id = empty.new_id()
        drafts.append(Draft(TODAY, TractFacts(tract_id, tract)))
        drafts += [
            Draft(TODAY, StationFacts(empty.new_id(), tract_id, name, TANK, 10.0)) for name in names
        ]
    write(empty, "Set up", drafts)
    return places(empty)


def test_order_is_by_name_whatever_the_case(known):
    assert [tract.name for tract in known.tracts.values()] == ["North", "south"]
    names = [station.name for station in known.stations.values()]
    assert names == ["Oak [2]", "spring", "Ash", "Spring"]


def test_a_label_names_the_tract_only_where_it_must(known):
    labels = [known.label(station) for station in known.stations.values()]
    assert labels == ["Oak [2]", "North/spring", "Ash", "south/Spring"]


def test_every_label_finds_its_station(known):
    for station in known.stations.values():
        assert known.find_station(known.label(station)) == station
        assert known.find_station(f" {known.tract_of(station).name}/{station.name} ") == station


def test_names_are_found_in_any_case(known):
    assert known.find_station("oak [2]").name == "Oak [2]"
    assert known.find_tract(" NORTH ").name == "North"


def test_what_cannot_be_found_is_said_with_what_comes_close(known):
    with pytest.raises(NotFound, match=r"several stations named SPRING; write North/spring or "):
        known.find_station("SPRING")
    with pytest.raises(NotFound, match="did you mean Ash"):
        known.find_station("Ashe")
    with pytest.raises(NotFound, match="did you mean North"):
        known.find_tract("Nort")
    with pytest.raises(NotFound, match=r"no tract named Q\."):
        known.find_tract("Q")


def test_entries_are_the_ones_to_revise(empty, known):
    tract = known.find_tract("north")
    entry_id = known.tract_entries[tract.tract_id]
    renamed = TractFacts(tract.tract_id, "Far north")
    write(empty, "Rename", [Draft(TODAY, renamed, revises=entry_id)])
    after = places(empty)
    assert after.find_tract("far north") == renamed
    assert after.tract_entries[tract.tract_id] != entry_id
