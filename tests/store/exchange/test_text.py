"""Out as text and in again: the same logbook; and what is told of a damaged text."""

import json
import tracemalloc
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlite_utils import Database

from store.errors import BadFile, BadLines, BrimbookError, Refused
from store.exchange.text_in import logbook_from_text
from store.exchange.text_out import text_lines, write_text
from store.logbook.entries import live_entries
from store.logbook.journal import redo, undo
from store.logbook.opening import create_logbook, logbook_at
from store.logbook.weather_rows import store_weather, weather_layers
from store.records import WeatherImport
from store.weather.days import empty_weather
from tests.store.exchange.full_logbook import make_full
from tests.store.logbook.schema_fixtures import RECORD


def text_of(path):
    with logbook_at(path) as logbook:
        return b"".join(text_lines(logbook))


@pytest.fixture
def text(full, tmp_path):
    file = tmp_path / "full.jsonl"
    write_text(full, file)
    return file


def brought(file, tmp_path):
    path = tmp_path / "again.db"
    logbook_from_text(file, path)
    return path


def test_out_and_in_gives_the_same_logbook(full, text, tmp_path):
    path = brought(text, tmp_path)
    assert text_of(path) == text.read_bytes() == b"".join(text_lines(full))
    with logbook_at(path, full.today) as again:
        assert live_entries(again) == live_entries(full)
        assert [repr(layer) for layer in weather_layers(again, RECORD)] == [
            repr(layer) for layer in weather_layers(full, RECORD)
        ]
        undone = redo(full), redo(again)
        assert undone[0].title == undone[1].title == "Redo: Rake"
        for one in (full, again):
            undo(one)
            undo(one)
        assert [e.fact for e in live_entries(again)] == [e.fact for e in live_entries(full)]
        assert again.db.execute("PRAGMA foreign_key_check").fetchall() == []


def test_all_tables_say_the_same(full, text, tmp_path):
    rows = lambda db, table: sorted(map(repr, db.execute(f"SELECT * FROM {table}")))  # noqa: E731
    with logbook_at(brought(text, tmp_path)) as again:
        tables = [
            name
            for name in Database(full.db.conn).table_names()
            if not name.startswith(("_", "sqlite"))
        ]
        assert len(tables) > 30
        for table in tables:
            assert rows(again.db, table) == rows(full.db, table), table


def test_the_first_and_last_lines_say_what_it_is(text):
    first, *_, last = map(json.loads, text.read_text().splitlines())
    assert first["format"] == "brimbook logbook"
    assert first["version"] == 1
    assert first["application"] == "brimbook"
    assert first["schema"].startswith("m0")
    assert last == {"end": True, "lines": len(text.read_text().splitlines()) - 1}


def edited(text, change):
    lines = text.read_bytes().splitlines(keepends=True)
    changed = change(lines)
    text.write_bytes(b"".join(lines if changed is None else changed))
    return text


def with_field(kind, name, value):
    """Give one fact of a kind another value."""

    def change(lines):
        at = next(n for n, line in enumerate(lines) if f'"kind":"{kind}"'.encode() in line)
        row = json.loads(lines[at])
        target = row if name in ("about", "written", "revises", "kind", "entry") else row["fact"]
        target[name] = value
        lines[at] = json.dumps(row).encode() + b"\n"

    return change


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (with_field("reading", "below_rim_mm", "wet"), "below_rim_mm: 'wet' is not a number"),
        (with_field("reading", "below_rim_mm", -1), "below_rim_mm: cannot be so"),
        (with_field("reading", "colour", 1), "colour: is no field of such a line"),
        (with_field("reading", "station_id", 7), "station_id: 7 is not text"),
        (with_field("reading", "about", "2026-02-30"), "about: '2026-02-30' is no date"),
        (with_field("reading", "written", "noon"), "written: 'noon' is no moment"),
        (with_field("reading", "kind", "dream"), "kind: 'dream' is no kind of entry"),
        (with_field("reading", "entry", "x"), "entry: 'x' is no version 7 UUID"),
        (with_field("chore", "chore", "dance"), "chore: 'dance' is not one of cover, drain"),
        (with_field("chore", "note", None), "note: is missing"),
        (with_field("station_facts", "depth_volume", [[1]]), "depth_volume: is no list of pairs"),
        (with_field("ramp_check", "in_place", True), "in_place: True is not a whole number"),
        (
            with_field("reading", "station_id", "01890000-0000-7000-8000-000000000000"),
            "station_id: 01890000-0000-7000-8000-000000000000 is named here",
        ),
        (
            with_field("reading", "revises", "01890000-0000-7000-8000-000000000000"),
            "revises: 01890000-0000-7000-8000-000000000000 is named here",
        ),
        (lambda lines: lines.insert(5, lines[4]), "line 6, entry: stands in the text twice"),
        (lambda lines: lines.insert(5, b"<<<<<<< mine\n"), "line 6: is damaged at character 1"),
        (lambda lines: lines.insert(5, b"[1]\n"), "line 6: is no set of named fields"),
        (lambda lines: lines.insert(5, b'{"a":NaN}\n'), "line 6: is damaged (NaN is no number)"),
        (lambda lines: lines.insert(5, b'{"a":1,"a":1}\n'), "a field stands in it twice"),
        (lambda lines: lines[:6] + lines[7:], "lines: says"),
        (lambda lines: lines[:-1], "ends without its last line"),
        (lambda lines: lines + lines[-1:], "comes after the end"),
        (lambda lines: lines[1:], "is not the text of a Brimbook logbook"),
        (lambda _: [], "is empty"),
        (lambda lines: [*lines[:3], b"\xff\xfe\n"], "is not text in UTF-8"),
        (lambda lines: [*lines[:3], b"1" * 1_000_001], "line 4 is too long"),
    ],
)
def test_a_damaged_text_is_refused_with_its_line_and_field(text, tmp_path, change, told):
    with pytest.raises(BadFile) as caught:
        brought(edited(text, change), tmp_path)
    assert told in str(caught.value)
    assert not (tmp_path / "again.db").exists()
    assert not list(tmp_path.glob(".brimbook*"))


def test_an_entry_that_revises_itself_is_refused(text, tmp_path):
    def change(lines):
        at = next(n for n, line in enumerate(lines) if b'"kind":"note"' in line)
        row = json.loads(lines[at])
        lines[at] = json.dumps(row | {"revises": row["entry"]}).encode() + b"\n"

    with pytest.raises(BadLines, match="comes after itself"):
        brought(edited(text, change), tmp_path)


@pytest.mark.parametrize("change", [{"version": 2}, {"schema": "m999_later"}])
def test_a_text_from_a_newer_version_is_refused(text, tmp_path, change):
    def newer(lines):
        lines[0] = json.dumps(json.loads(lines[0]) | change).encode() + b"\n"
        lines[1] = b'{"something new":1}\n'

    with pytest.raises(Refused, match="written by a newer Brimbook"):
        brought(edited(text, newer), tmp_path)
    assert not (tmp_path / "again.db").exists()


def test_line_ends_and_mark_of_other_systems_are_taken(text, tmp_path):
    before = text.read_bytes()
    text.write_bytes(b"\xef\xbb\xbf" + before.replace(b"\n", b"\r\n"))
    assert text_of(brought(text, tmp_path)) == before


def test_neither_a_logbook_nor_a_text_is_written_over(full, text):
    with pytest.raises(BadFile, match="is a logbook"):
        write_text(full, full.path)
    with pytest.raises(Refused, match="exists already"):
        logbook_from_text(text, full.path)
    with pytest.raises(Refused, match="newer"):
        list(text_lines(replace(full, only_read="a newer Brimbook wrote it")))


@settings(max_examples=15, deadline=None)
@given(data=st.data())
def test_a_text_damaged_by_hand_never_makes_half_a_logbook(data, made_text, tmp_path_factory):
    folder = tmp_path_factory.mktemp("damaged")
    at = data.draw(st.integers(0, len(made_text) - 1))
    more = data.draw(st.binary(max_size=3))
    file = folder / "text"
    file.write_bytes(made_text[:at] + more + made_text[at + data.draw(st.integers(0, 9)) :])
    try:
        logbook_from_text(file, folder / "again.db")
    except BrimbookError:
        assert [path.name for path in folder.iterdir()] == ["text"]
    else:
        with logbook_at(folder / "again.db") as logbook:
            assert list(text_lines(logbook))
            live_entries(logbook)
            assert logbook.db.execute("PRAGMA foreign_key_check").fetchall() == []


@pytest.fixture(scope="module")
def made_text(tmp_path_factory):
    folder = tmp_path_factory.mktemp("made")
    logbook = make_full(folder / "full.db")
    text = b"".join(text_lines(logbook))
    logbook.close()
    return text


def peak_of(days, folder):
    """The most memory, in bytes, that writing and reading the text of so many days takes."""
    folder.mkdir()
    logbook = create_logbook(folder / "long.db")
    weather = empty_weather(date(1990, 1, 1), days)
    weather.rain_mm[:] = 1.0
    fact = WeatherImport(logbook.new_id(), RECORD, "Barn", "barn.csv")
    store_weather(logbook, fact, weather)
    tracemalloc.start()
    write_text(logbook, folder / "long.jsonl")
    logbook.close()
    logbook_from_text(folder / "long.jsonl", folder / "again.db")
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert text_of(folder / "again.db") == (folder / "long.jsonl").read_bytes()
    return peak


def test_a_longer_text_takes_no_more_memory(tmp_path):
    """A hundred thousand lines are read by `tests.bench.long_text`."""
    peak_of(10, tmp_path / "warm")
    few = peak_of(500, tmp_path / "few")
    many = peak_of(4_000, tmp_path / "many")
    assert (tmp_path / "many" / "long.jsonl").stat().st_size > 300_000
    assert many - few < 50_000
