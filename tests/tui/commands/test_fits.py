"""Every printed table of the demo fits 80 columns, in both unit systems."""

import csv
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from rich.cells import cell_len

from store.logbook.backups import Why, back_up
from store.model.board import Board
from store.model.known_levels import Levels
from store.model.snapshot import Snapshot
from store.model.working_out import board_of
from store.reports import (
    budget,
    contamination,
    due,
    learned,
    levels,
    outlook,
    review,
    timeline,
    what_if,
    work_day,
)
from tui.cli import main

DEMO = Path(__file__).parents[3] / "demo.db"
TODAY = ("--today", "2025-10-12")
STATION = "Hayfield corner"
ASKED = {
    "levels": TODAY,
    "due": TODAY,
    "timeline": (*TODAY, "--from", "2025-06-01"),
    "workday": TODAY,
    "kit": (),
    "review": TODAY,
    "whatif": (STATION, *TODAY),
    "budget": (STATION, *TODAY),
    "learned": TODAY,
    "events": TODAY,
    "recovery": ("Quarry rim", *TODAY),
    "outlook": (*TODAY, "--fill", f"{STATION}=40"),
    "outlook --daily": (*TODAY, "--daily", "--until", "2025-10-20"),
    "log readings": (),
    "log chores": (),
    "log contamination": (),
    "log sheet": (),
    "stations": (),
    "backups": (),
    "merge": ("{theirs}", "--dry-run"),
}
NO_TABLE = {
    *("open", "demo", "new", "import", "serve", "backup", "restore", "text", "from-text"),
    *("calendar", "places", "sheet", "weather", "keys"),
}
"""Commands that answer with a sentence, a screen or a file; `weather` is tried beside a server."""

_worked_out: list[Board] = []


def _board(snapshot: Snapshot, memory: object = None) -> Board:  # noqa: ARG001 - as board_of
    """The board of the demo: worked out once, told in the units that are asked for."""
    if not _worked_out:
        _worked_out.append(board_of(snapshot))
    return replace(_worked_out[0], snapshot=snapshot)


def _levels(snapshot: Snapshot, memory: object = None) -> Levels:
    return _board(snapshot, memory).levels


@pytest.fixture
def printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Callable[..., tuple[list[str], str]]:
    monkeypatch.delenv("COLUMNS", raising=False)
    for module in (budget, contamination, due, learned, levels, outlook, review, timeline,
                   what_if, work_day):  # fmt: skip
        for name, known in (("board_of", _board), ("levels_of", _levels)):
            if hasattr(module, name):
                monkeypatch.setattr(module, name, known)
    book = Path(shutil.copy(DEMO, tmp_path / "mine.db"))

    def run(command: str, *asked: str) -> tuple[list[str], str]:
        name, *words = command.split()
        if name == "backups":
            back_up(book, Why.ASKED)
        given = [*ASKED[command], *asked]
        theirs = shutil.copy(DEMO, tmp_path / "theirs.db")
        given = [one.format(theirs=theirs) for one in given]
        done = CliRunner().invoke(main, [name, str(book), *words, *given])
        assert done.exit_code == 0, done.output
        return done.stdout.splitlines(), done.stderr

    return run


def test_every_command_is_either_here_or_answers_with_no_table() -> None:
    assert {command.split()[0] for command in ASKED} | NO_TABLE == set(main.commands)


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("command", ASKED)
def test_a_table_fits_80_columns(printed, command: str, units: str) -> None:
    lines, _ = printed(command, "--units", units)
    assert lines
    assert [line for line in lines if cell_len(line) > 80] == []
    for other in {"us": ("cm", "L", "kg"), "metric": ("gal", "lb", "ft2")}[units]:
        heading = "\n".join(lines[:4]).split()
        assert other not in heading


def test_names_are_whole_and_all_columns_are_there_on_asking(printed) -> None:
    lines, _ = printed("due")
    assert any(line.startswith(f"{STATION}  ") for line in lines)
    wide, _ = printed("due", "--wide")
    assert wide[0].split() == [
        *("station", "tract", "work", "state", "from", "by", "gal", "lb", "why"),
    ]
    assert max(map(len, wide)) > 120


def test_numbers_given_are_in_the_units_asked_for(printed) -> None:
    for units, column in (("us", "fill_gal"), ("metric", "fill_l")):
        lines, _ = printed("outlook", "--units", units, "--as", "csv")
        (row,) = (row for row in csv.DictReader(lines) if row["station"] == STATION)
        assert row[column] == "40.0"


def test_levels_are_of_a_month_and_an_outlook_ends_with_heavy_use(printed) -> None:
    days = {line[:10] for line in printed("levels")[0] if line.startswith("20")}
    assert (min(days), max(days), len(days)) == ("2025-09-12", "2025-10-12", 31)
    _, said = printed("outlook")
    assert f"Until {_worked_out[0].snapshot.heavy_use_end}." in said
