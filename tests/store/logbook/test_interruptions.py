"""Stopped in the midst of a restore or a backup, the logbook is the old or the new one, whole."""

import random

import pytest

from store.errors import BadFile
from store.logbook.backups import back_up
from store.logbook.restoring import restore
from tests.store.logbook import interruptions
from tests.store.logbook.interruptions import WORKS, fault_in, make_books, stop_midway

KILLS = 5


@pytest.fixture
def books(tmp_path):
    return make_books(tmp_path / "book.db")


@pytest.mark.parametrize("work", WORKS, ids=lambda work: work.__name__)
def test_after_a_sudden_end(books, work):
    luck = random.Random(work.__name__)
    for _ in range(KILLS):
        assert stop_midway(work, books, luck) is None
    restore(books.path, books.backups[1])
    assert fault_in(books) is None, "and the next restore clears up and goes through"


def test_a_logbook_that_is_gone_or_torn_would_be_found(books):
    whole = books.path.read_bytes()
    books.path.write_bytes(whole[:-4096])
    assert "the logbook" in fault_in(books)
    books.path.write_bytes(interruptions.DAMAGED)
    assert "cannot be read" in fault_in(books)
    books.path.unlink()
    assert fault_in(books) == "the logbook is gone"
    with pytest.raises(BadFile):
        back_up(books.path, interruptions.Why.ASKED)
