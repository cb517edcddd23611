"""What lies ahead is worked out again only where something it depends on is new."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from store.model import foresight, recoveries
from store.model.assimilation import FilterCache
from store.model.shelf import FolderShelf
from store.model.snapshot import supposing
from store.model.working_out import board_of
from store.records import Chore, Draft, Reading
from store.units import UnitSystem, units
from store.vocabulary import ChoreKind
from tests.store.conftest import TODAY, snapshot_on


@pytest.fixture
def worked_on(monkeypatch):
    """The stations whose days ahead, or whose recovery, are worked out."""
    stations = []
    worth, forecast = foresight.fill_worth, recoveries._event_forecast
    monkeypatch.setattr(
        foresight, "fill_worth", lambda *asked: stations.append(asked[3]) or worth(*asked)
    )
    monkeypatch.setattr(
        recoveries,
        "_event_forecast",
        lambda *asked: stations.append(asked[3].station_id) or forecast(*asked),
    )
    return stations


@pytest.fixture
def kept(snapshot, memory, tmp_path):
    """The board of the snapshot with what it keeps, on a shelf of its own."""
    own = FilterCache(memory, FolderShelf(tmp_path))
    return board_of(snapshot, own), own


def test_other_units_work_nothing_out(snapshot, kept, worked_on):
    board, memory = kept
    metric = replace(snapshot, units=units(UnitSystem.METRIC))
    again = board_of(metric, memory)
    assert not worked_on
    assert again.outlooks == board.outlooks
    assert again.prompts == board.prompts


def test_a_reading_works_out_its_own_station(snapshot, kept, worked_on):
    board, memory = kept
    beech = snapshot.places.find_station("Beech").station_id
    read = supposing(snapshot, beech, [Draft(TODAY, Reading(beech, below_rim_mm=120.0))])
    warm = board_of(read, memory)
    assert beech in worked_on
    elsewhere = snapshot.places.find_station("South/Oak").station_id
    assert elsewhere not in worked_on, "its own tract"
    assert warm.ahead[elsewhere] is board.ahead[elsewhere]
    cold = board_of(read)
    assert warm.outlooks == cold.outlooks
    assert warm.prompts == cold.prompts
    for station_id, future in cold.ahead.items():
        assert future is not warm.ahead[station_id]
        assert np.array_equal(future.volume_l, warm.ahead[station_id].volume_l)
    assert warm.recoveries.by_station.keys() == cold.recoveries.by_station.keys()
    for key, recovery in cold.recoveries.by_event.items():
        assert warm.recoveries.by_event[key].outlook.choices == recovery.outlook.choices


def test_a_new_start_takes_what_is_kept_and_gives_the_same(snapshot, kept, worked_on):
    board, memory = kept
    again = board_of(snapshot, FilterCache(memory, memory.shelf))
    assert set(worked_on) == {one.station.station_id for one in board.recoveries.by_event.values()}
    assert again.outlooks == board.outlooks
    for station_id, future in board.ahead.items():
        assert np.array_equal(again.ahead[station_id].volume_l, future.volume_l)


@pytest.mark.parametrize("content", [b'{"a": 1}', b'{"a": {}}', b"[]", b"{"])
def test_what_is_kept_and_spoilt_is_made_again(snapshot, kept, worked_on, content):
    board, memory = kept
    for file in memory.shelf.folder.iterdir():
        memory.shelf.put(file.name, content)
    again = board_of(snapshot, FilterCache(memory, memory.shelf))
    assert len(set(worked_on)) == len(board.ahead)
    assert again.outlooks == board.outlooks


def test_another_day_or_event_is_another_outlook(book_path, snapshot, kept, worked_on):
    _, memory = kept
    board_of(snapshot_on(book_path, TODAY + timedelta(days=1)), memory)
    assert worked_on
    worked_on.clear()
    board_of(snapshot, memory)
    worked_on.clear()
    drum = snapshot.places.find_station("South/Oak").station_id
    drained = supposing(snapshot, drum, [Draft(TODAY, Chore(drum, ChoreKind.DRAIN))])
    warm, cold = board_of(drained, memory), board_of(drained)
    assert warm.outlooks == cold.outlooks
    for key, recovery in cold.recoveries.by_event.items():
        assert warm.recoveries.by_event[key].outlook.choices == recovery.outlook.choices
