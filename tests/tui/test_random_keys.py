"""Random keys on the screens; the long form is `python -m tests.bench.random_keys`."""

import shutil
from pathlib import Path

from store.logbook.opening import create_logbook
from tests.tui.conftest import TODAY
from tests.tui.random_keys import Run, fault_of, files_to_import, run_keys

KEYS = 50


def test_a_small_logbook(book, tmp_path, monkeypatch):
    press_on(Path(book.path), 7, tmp_path, monkeypatch)


def test_an_empty_logbook(tmp_path, monkeypatch):
    path = tmp_path / "empty.db"
    create_logbook(path).close()
    press_on(path, 11, tmp_path, monkeypatch)


def press_on(path, seed, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    before = Path(shutil.copy(path, tmp_path / "before.db"))
    run = Run(path, TODAY, seed)
    run_keys(run, KEYS, files_to_import(tmp_path))
    assert len(run.pressed) >= KEYS
    assert fault_of(run, before) is None, run.pressed


def test_what_is_lost_is_found_out(book, tmp_path):
    """The tester itself: a batch that was acknowledged and is not there is a fault."""
    before = Path(shutil.copy(book.path, tmp_path / "before.db"))
    run = Run(Path(book.path), TODAY, 1)
    assert fault_of(run, before) is None
    run.acknowledged.add("gone")
    assert fault_of(run, before) == "1 acknowledged batches are gone"
