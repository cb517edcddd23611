"""A logbook in a folder that cannot be written is read there, and nothing is left beside it."""

import multiprocessing
import os
import shutil
import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path

import pytest

from store.errors import BrimbookError
from store.logbook.backups import copy_to
from store.logbook.entries import live_entries
from store.logbook.opening import logbook_at
from store.logbook.settings import keep_setting
from tests.store.logbook.durability import TODAY, check_in, make_book

NOBODY = 65534
_ways = multiprocessing.get_context("fork")


@pytest.fixture
def folder():
    """A folder that everybody may look into, unlike those for tests."""
    made = Path(tempfile.mkdtemp(prefix="brimbook-read-only-"))
    made.chmod(0o755)
    yield made
    made.chmod(0o700)
    shutil.rmtree(made)


def without_rights(work):
    """What `work` gives in a process that may write nowhere but where all may."""

    def run(told):
        if os.getuid() == 0:
            os.setgroups([])
            os.setgid(NOBODY)
            os.setuid(NOBODY)
        try:
            told.send(work())
        except BrimbookError as error:
            told.send(f"refused: {error}")

    here, there = _ways.Pipe(duplex=False)
    child = _ways.Process(target=run, args=(there,))
    child.start()
    there.close()
    said = here.recv()
    child.join()
    return said


def shut(folder):
    for file in folder.iterdir():
        file.chmod(0o444)
    folder.chmod(0o555)


def test_it_is_read_and_copied_but_not_written(folder):
    path = folder / "book.db"
    stations = make_book(path)
    with logbook_at(path, TODAY) as logbook:
        check_in(logbook, stations, 1)
        entries = len(live_entries(logbook))
    shut(folder)
    target = Path(tempfile.gettempdir()) / f"{folder.name}.db"

    def read():
        with logbook_at(path, TODAY) as logbook:
            return len(live_entries(logbook)), logbook.only_read

    def write():
        with logbook_at(path, TODAY) as logbook:
            check_in(logbook, stations, 2)

    def copy():
        copy_to(path, target)
        with logbook_at(target, TODAY) as logbook:
            found = len(live_entries(logbook))
        target.unlink()
        return found

    count, why = without_rights(read)
    assert count == entries
    assert "can be looked at but not changed" in why
    assert "make it writable" in without_rights(write)
    assert without_rights(copy) == entries
    assert [file.name for file in folder.iterdir()] == ["book.db"]


def test_what_was_written_last_is_never_left_out_in_silence(folder):
    path, aside = folder / "book.db", folder / "aside"
    make_book(path)
    aside.mkdir()
    with logbook_at(path, TODAY) as logbook:
        keep_setting(logbook, "units", "metric")
        for ending in ("", "-wal"):
            shutil.copy(f"{path}{ending}", aside / f"book.db{ending}")
    shut(aside)

    def read():
        with logbook_at(aside / "book.db") as logbook:
            return len(live_entries(logbook))

    said = without_rights(read)
    aside.chmod(0o755)
    assert "book.db-wal" in said
    assert "copy both" in said
    copy = folder / "copy.db"
    for ending in ("", "-wal"):
        shutil.copyfile(aside / f"book.db{ending}", f"{copy}{ending}")
    with closing(sqlite3.connect(copy)) as db:
        assert db.execute("SELECT value FROM setting").fetchall() == [("metric",)]
