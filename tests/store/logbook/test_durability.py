"""What was acknowledged is there: after a kill, on a full disk, in a file not to be written."""

import random

import pytest

from store.errors import BrimbookError
from store.logbook.opening import logbook_at
from tests.store.logbook import durability
from tests.store.logbook.durability import Told, fault_of, fill_the_disk, make_book, stop_suddenly

KILLS = 10


@pytest.fixture
def path(tmp_path):
    return tmp_path / "book.db"


def test_after_sudden_ends(path):
    stations, told, luck = make_book(path), Told(), random.Random(1)
    for _ in range(KILLS):
        stop_suddenly(path, stations, told, luck)
        assert fault_of(path, told) is None
    assert len(told.checkins) >= KILLS
    assert told.refusals == []


@pytest.mark.parametrize("room", [0, 30_000])
def test_on_a_full_disk(path, room):
    stations, told = make_book(path), Told()
    fill_the_disk(path, stations, told, room)
    assert len(told.refusals) == 1
    assert fault_of(path, told) is None
    with logbook_at(path, durability.TODAY) as logbook:
        durability.check_in(logbook, stations, 999)
    told.checkins.add(999)
    assert fault_of(path, told) is None, "once there is room it goes on"


def test_in_a_file_not_to_be_written(path):
    stations = make_book(path)
    path.chmod(0o400)
    before = path.read_bytes()
    with pytest.raises(BrimbookError, match="read-only"), logbook_at(path) as logbook:
        durability.check_in(logbook, stations, 1)
    assert path.read_bytes() == before


def test_a_loss_would_be_found(path):
    make_book(path)
    assert "lost: [7]" in fault_of(path, Told({7}))
