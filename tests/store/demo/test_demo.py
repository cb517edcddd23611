"""The shipped demo: built the same every time, and showing what it is there to show."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import date, timedelta
from enum import StrEnum
from pathlib import Path

import pytest

from store.demo.__main__ import main
from store.demo.build import build_demo
from store.logbook.entries import live_entries
from store.logbook.opening import Logbook, logbook_at
from store.logbook.rows import FACT_TYPES
from store.logbook.settings import is_demo
from store.model.board import Board
from store.model.site_weather import FEWEST_YEARS
from store.model.snapshot import Snapshot, load
from store.model.water_log import reading_volume_l
from store.model.working_out import board_of
from store.records import Reading
from store.season.prompt import PromptState
from store.views.due import due_lines
from store.vocabulary import (
    Access,
    Action,
    AnimalClass,
    AnimalSize,
    ApronSurface,
    Cause,
    ChoreKind,
    ExpectedUse,
    Exposure,
    LevelMark,
    PromptKind,
    Response,
    Shape,
    Strength,
    UseSeen,
)
from store.water.geometry import below_rim_mm

SHIPPED = Path(__file__).parents[3] / "demo.db"
INTERESTING_DAY = date(2025, 10, 12)
RAKING_LATE_DAY = date(2025, 5, 24)
GAP = (date(2025, 7, 19), date(2025, 7, 27))


def dump(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as connection:
        return list(connection.iterdump())


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("built") / "demo.db"
    build_demo(path)
    return path


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """A copy of the shipped file."""
    return Path(shutil.copy(SHIPPED, tmp_path / "demo.db"))


@pytest.fixture
def logbook(demo: Path) -> Iterator[Logbook]:
    with logbook_at(demo, INTERESTING_DAY) as opened:
        yield opened


def snapshot_on(path: Path, day: date) -> Snapshot:
    with logbook_at(path, day) as opened:
        return load(opened)


@pytest.fixture(scope="module")
def board(built: Path) -> Board:
    return board_of(snapshot_on(built, INTERESTING_DAY))


def open_prompts(board: Board) -> set[tuple[str, PromptKind, PromptState]]:
    names = board.snapshot.places.stations
    prompts = (line.prompt for line in due_lines(board))
    return {(names[p.station_id].name, p.kind, p.state) for p in prompts}


def test_a_fresh_build_holds_the_rows_of_the_shipped_file(built: Path) -> None:
    assert dump(built) == dump(SHIPPED), "rebuild it: python -m store.demo demo.db"


def test_the_command_replaces_an_older_file_and_leaves_nothing_else(
    tmp_path: Path, built: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "demo.db"
    path.write_bytes(b"an older demo")

    assert main([str(path)]) == 0

    assert dump(path) == dump(built)
    assert [found.name for found in tmp_path.iterdir()] == ["demo.db"]
    assert str(path) in capsys.readouterr().out


def test_the_command_says_what_is_wrong(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 2
    assert main([str(tmp_path / "no such folder" / "demo.db")]) == 1
    assert "cannot be built" in capsys.readouterr().err


def test_the_shipped_file_is_one_small_file_that_opens_as_the_demo(logbook: Logbook) -> None:
    assert is_demo(logbook)
    assert SHIPPED.stat().st_size < 1_500_000
    assert logbook.db.execute("PRAGMA journal_mode").fetchone()[0] == "delete"
    assert logbook.db.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
    assert logbook.db.execute("PRAGMA foreign_key_check").fetchall() == []


def test_every_kind_of_entry_occurs(logbook: Logbook) -> None:
    kinds = {kind for (kind,) in logbook.db.execute("SELECT DISTINCT kind FROM entry")}

    assert kinds == set(FACT_TYPES)


@pytest.mark.parametrize(
    ("table", "column", "words"),
    [
        ("station_facts", "shape", Shape),
        ("station_facts", "apron_surface", ApronSurface),
        ("station_facts", "exposure", Exposure),
        ("station_facts", "access", Access),
        ("station_facts", "expected_use", ExpectedUse),
        ("chore", "chore", ChoreKind),
        ("contamination", "cause", Cause),
        ("contamination", "animal", AnimalClass),
        ("contamination", "animal_size", AnimalSize),
        ("contamination_sign", "smell", Strength),
        ("contamination_sign", "colour", Strength),
        ("contamination_sign", "response", Response),
        ("sighting", '"use"', UseSeen),
    ],
)
def test_every_word_occurs(logbook: Logbook, table: str, column: str, words: type[StrEnum]) -> None:
    sql = f"SELECT DISTINCT {column} FROM {table} WHERE {column} IS NOT NULL"

    assert {word for (word,) in logbook.db.execute(sql)} == set(words)


def test_every_action_and_some_marks_occur(logbook: Logbook) -> None:
    sql = "SELECT action FROM contamination UNION SELECT action FROM contamination_action"
    actions = {word for (word,) in logbook.db.execute(sql)}
    marks = {word for (word,) in logbook.db.execute("SELECT DISTINCT mark FROM reading")}

    assert actions == set(Action)
    assert len(marks & set(LevelMark)) >= 3


def test_it_holds_revisions_and_undone_batches(logbook: Logbook) -> None:
    revised = {
        kind for (kind,) in logbook.db.execute("SELECT kind FROM entry WHERE revises IS NOT NULL")
    }
    (undone,) = logbook.db.execute("SELECT count(undoes) FROM batch").fetchone()

    assert revised >= {"reading", "chore", "station_facts", "withdrawal"}
    assert undone >= 1


def test_the_stations_are_as_different_as_in_the_field(board: Board) -> None:
    stations = board.snapshot.places.stations.values()

    assert len(stations) == 14
    assert len(board.snapshot.places.tracts) == 3
    assert sum(facts.access is Access.FOOT for facts in stations) == 7
    assert any(facts.rim_above_ground_mm > 0 for facts in stations)
    assert any(facts.bear_country for facts in stations)
    assert any("[" in facts.name and "]" in facts.name for facts in stations)
    assert any(facts.tank.bottom_length_mm is not None for facts in stations)
    retired = [h.retired for h in board.snapshot.histories.values() if h.retired is not None]
    assert [day.year for day in retired] == [2024]
    assert [h.facts.name for h in board.snapshot.histories.values() if h.installed is None] == [
        "Far corner"
    ]


def test_a_note_holds_quotes_and_an_emoji(logbook: Logbook) -> None:
    notes = [text for (text,) in logbook.db.execute("SELECT text FROM note")]

    assert any('"' in text and "\N{DEER}" in text for text in notes)


def test_prompts_of_the_interesting_day(board: Board) -> None:
    assert open_prompts(board) >= {
        ("Clover strip", PromptKind.RAMP, PromptState.DUE),
        ("Beech bench", PromptKind.CONTAMINATION, PromptState.DUE),
        ("Quarry rim", PromptKind.CONTAMINATION, PromptState.DUE),
        ("Gate", PromptKind.FILL, PromptState.DUE),
        ("Ridge end", PromptKind.RUN_DRY, PromptState.DUE),
        ("Saddle", PromptKind.UNCOVER, PromptState.DUE),
    }
    to_fill = {name for name, kind, _ in open_prompts(board) if kind is PromptKind.FILL}
    assert "Culvert [north]" not in to_fill


def test_a_rake_is_overdue_in_may(built: Path) -> None:
    late = board_of(snapshot_on(built, RAKING_LATE_DAY))

    assert ("Hayfield corner", PromptKind.RAKE, PromptState.OVERDUE) in open_prompts(late)


def test_tanks_stand_at_different_levels(board: Board) -> None:
    shares = [float(levels.share[-1]) for levels in board.levels.by_station.values()]

    assert min(shares) < 0.05
    assert max(shares) > 0.8
    assert sum(0.3 < share < 0.75 for share in shares) >= 3


def test_the_days_ahead_come_from_more_than_ten_weather_years(board: Board) -> None:
    assert board.ahead
    for future in board.ahead.values():
        years, _, words = future.basis.partition(" ")
        assert words == "weather years"
        assert int(years) > FEWEST_YEARS


def test_the_record_has_a_gap_and_ends_before_the_day(logbook: Logbook, board: Board) -> None:
    days = {date.fromisoformat(day) for (day,) in logbook.db.execute("SELECT day FROM weather_day")}
    silent = {GAP[0] + timedelta(days=number) for number in range((GAP[1] - GAP[0]).days + 1)}

    assert not days & silent
    assert {GAP[0] - timedelta(days=1), GAP[1] + timedelta(days=1)} <= days
    assert timedelta(days=3) <= INTERESTING_DAY - max(days) <= timedelta(days=10)
    assert sum(weather.gauge_days >= 28 for weather in board.snapshot.weather.values()) == 1


def test_the_last_entry_lies_some_days_back(logbook: Logbook) -> None:
    last = max(entry.day for entry in live_entries(logbook))

    assert timedelta(days=3) <= INTERESTING_DAY - last <= timedelta(days=10)


def test_readings_agree_with_the_model_but_for_the_leak(board: Board) -> None:
    """Half of the tape readings within 2 in of the model; the ledge's last far below it."""
    off_mm: list[float] = []
    last_at_ledge = 0.0
    for station_id, levels in board.levels.by_station.items():
        for entry in board.snapshot.log[station_id]:
            day = (entry.day - levels.first_day).days
            if isinstance(entry.fact, Reading) and entry.fact.mark is None and day > 0:
                tank = levels.station.tank
                read = float(below_rim_mm(tank, reading_volume_l(tank, entry.fact)))
                off = read - float(levels.below_rim_mm[day - 1])
                off_mm.append(abs(off))
                if levels.station.facts.name == "Ledge":
                    last_at_ledge = off
    off_mm.sort()

    assert len(off_mm) > 30
    assert 0.0 < off_mm[len(off_mm) // 2] < 50.8
    assert last_at_ledge > 150.0
