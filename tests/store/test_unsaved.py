"""What is unsaved outlives its program, and is taken over by one other."""

import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

import pytest

from store.errors import BadValue, Refused
from store.plain_data import from_plain, to_plain
from store.unsaved import CUT_OFF_AFTER_S, LeftBehind, Unsaved, UnsavedFile
from store.vocabulary import Action, LevelMark

ONE = Unsaved("check_in", "", "Check-in of 12 Oct", {"gauges": {"a": 12.7}, "day": "2025-10-12"})
OTHER = Unsaved("site_check", "s1", "The site of Alder", {"answers": {"rim": None}})


def test_what_a_program_left_is_taken_over_once(tmp_path):
    gone, here, late = (UnsavedFile(tmp_path / "[my] book.db") for _ in range(3))
    gone.keep([ONE])
    gone.keep([ONE, OTHER])
    assert here.take_over() == LeftBehind(), "its program still runs"
    gone.let_go()
    assert here.take_over().unsaved == (ONE, OTHER)
    assert late.take_over() == LeftBehind(), "held by the one that took it over"
    assert [path.name for path in tmp_path.iterdir()] == [here.path.name]
    here.keep([])
    assert not list(tmp_path.iterdir()), "nothing unsaved leaves no file"


def test_a_process_that_is_killed_leaves_what_it_kept(tmp_path):
    script = (
        "import os, signal, sys; from pathlib import Path;"
        "from store.unsaved import Unsaved, UnsavedFile;"
        "UnsavedFile(Path(sys.argv[1])).keep([Unsaved('kit', '', 'Kit', {'a': 'b'})]);"
        "os.kill(os.getpid(), signal.SIGKILL)"
    )
    path = tmp_path / "book.db"
    done = subprocess.run([sys.executable, "-c", script, str(path)], check=False, timeout=60)
    assert done.returncode == -9
    assert UnsavedFile(path).take_over().unsaved == (Unsaved("kit", "", "Kit", {"a": "b"}),)


def test_the_file_is_its_owners_alone(tmp_path):
    file = UnsavedFile(tmp_path / "book.db")
    file.keep([ONE])
    assert file.path.stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize(
    "text",
    ["", "{", "[1]", '{"where": 1}', '[{"where": 1, "about": "", "title": "", "typed": {}}]'],
)
def test_a_damaged_file_is_told_of_and_set_aside(tmp_path, text):
    damaged = tmp_path / ".book.db.unsaved-1-00.json"
    damaged.write_text(text)
    file = UnsavedFile(tmp_path / "book.db")
    left = file.take_over()
    (told,) = left.told
    aside = tmp_path / (damaged.name + ".damaged")
    assert "damaged" in told
    assert str(aside) in told
    assert aside.read_text() == text
    assert file.take_over() == LeftBehind(), "told once"


def test_a_file_half_written_is_removed_when_it_is_old(tmp_path):
    part = tmp_path / ".book.db.unsaved-1-00.json.part"
    part.write_text("[")
    file = UnsavedFile(tmp_path / "book.db")
    assert file.take_over() == LeftBehind()
    assert part.exists(), "its program may be about to hold it"
    os.utime(part, (0.0, CUT_OFF_AFTER_S))
    file.take_over()
    assert not part.exists()


def test_a_folder_that_takes_no_file_is_told(tmp_path):
    file = UnsavedFile(tmp_path / "no such folder" / "book.db")
    with pytest.raises(Refused, match="cannot be kept until it is saved"):
        file.keep([ONE])


@dataclass(frozen=True)
class Shown:
    day: date
    mark: LevelMark | None = None
    done: frozenset[Action] = frozenset()
    by_id: Mapping[str, float] = field(default_factory=dict)
    ramp: bool | None = None
    visits: int = 0


def test_dataclasses_come_back_as_they_were():
    full = Shown(
        date(2025, 10, 12),
        LevelMark.HALF,
        frozenset({Action.BAILED, Action.LEFT}),
        {"a": 1.0},
        True,
    )
    for shown in (full, Shown(date(2025, 1, 1))):
        assert from_plain(Shown, to_plain(shown)) == shown


@pytest.mark.parametrize(
    "data",
    [
        {},
        [],
        None,
        {"day": "12 Oct"},
        {"day": 3},
        {"day": "2025-10-12", "mark": "brimming"},
        {"day": "2025-10-12", "visits": True},
        {"day": "2025-10-12", "ramp": 1},
        {"day": "2025-10-12", "by_id": {"a": "b"}},
        {"day": "2025-10-12", "more": 1},
    ],
)
def test_data_of_another_shape_is_refused(data):
    with pytest.raises(BadValue, match="damaged"):
        from_plain(Shown, data)
