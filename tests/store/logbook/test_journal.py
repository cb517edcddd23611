import sqlite3
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from store.errors import NotFound, Refused
from store.logbook.entries import entry_by_id, live_entries
from store.logbook.journal import redo, undo, write
from store.logbook.places import places
from store.logbook.schema import KINDS
from store.logbook.weather_rows import store_weather
from store.records import (
    BearVisit,
    CauseSetting,
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Draft,
    GaugeReading,
    KeptSetting,
    MonthlyNormals,
    Note,
    Photo,
    PromptAnswer,
    RampCheck,
    Reading,
    SeasonLimit,
    SeasonWindow,
    Sighting,
    SiteCheck,
    TankMeasures,
    TractFacts,
    WeatherImport,
    Withdrawal,
)
from store.vocabulary import (
    Action,
    AnimalClass,
    AnimalSize,
    Cause,
    ChoreKind,
    Decision,
    LevelMark,
    LimitKind,
    PromptKind,
    Response,
    Shape,
    Strength,
    UseSeen,
    WindowKind,
)
from store.weather.days import empty_weather

DAY = date(2026, 9, 20)
ODD_TEXT = """[red]"Bob's" [/ {x} \\n é 漢字 🦌 '; DROP TABLE entry; --""" + "y" * 450


def whats(logbook):
    return [entry.fact for entry in live_entries(logbook)]


def one_of_each(one):
    """Something to write of every kind that a person enters."""
    event_id = one.logbook.new_id()
    return [
        Reading(one.station_id, below_rim_mm=101.6),
        Reading(one.station_id, mark=LevelMark.HALF),
        Sighting(one.station_id, use=UseSeen.HEAVY),
        Sighting(one.station_id, camera_per_day=3.5),
        RampCheck(one.station_id, in_place=False),
        Chore(one.station_id, ChoreKind.FILL, 100.0, ODD_TEXT),
        Contamination(
            event_id,
            one.station_id,
            Cause.DROWNED_ANIMAL,
            note=ODD_TEXT,
            animal=AnimalClass.MAMMAL,
            animal_size=AnimalSize.SMALL,
            days_dead=2.0,
        ),
        ContaminationAction(event_id, one.station_id, Action.BAILED, 50.0),
        ContaminationSign(event_id, one.station_id, Strength.FAINT, None, Response.AVOIDED),
        BearVisit(one.station_id, 2),
        Photo(one.station_id, "pictures/tank [1].jpg", "0" * 64, event_id),
        CauseSetting(Cause.DYE, "clear_share", 0.1),
        KeptSetting("work kit", ODD_TEXT),
        SeasonWindow(one.tract_id, WindowKind.RAKE, "03-25", "04-20"),
        SeasonLimit(one.tract_id, LimitKind.VISIT_DAYS, 14.0),
        PromptAnswer(one.station_id, PromptKind.FILL, DAY, Decision.PUT_OFF, DAY, ODD_TEXT),
        SiteCheck(one.station_id, rim=True, bank=False, note=ODD_TEXT),
        PromptAnswer(one.station_id, PromptKind.CHECK, DAY, Decision.DECLINED),
        GaugeReading(one.tract_id, 12.7),
        MonthlyNormals(one.tract_id, 5, 80.0, 11.0, 8.0, 20.0),
        Note(one.station_id, ODD_TEXT),
    ]


def test_every_kind_comes_back_as_it_went_in(one):
    written = one_of_each(one)
    write(one.logbook, "All kinds", [Draft(DAY, what) for what in written])
    held = [entry.fact for entry in live_entries(one.logbook) if entry.day == DAY]
    assert held == written


def test_a_measured_table_comes_back_in_order(one):
    tank = TankMeasures(Shape.MEASURED, 762.0, depth_volume=((0, 0), (300.0, 90.0), (762.0, 400.0)))
    facts = one.facts(name="Measured", station_id=one.logbook.new_id(), tank=tank)
    write(one.logbook, "Add", [Draft(DAY, facts)])
    assert places(one.logbook).stations[facts.station_id] == facts


def test_ids_rise_in_the_order_of_writing(one):
    notes = [Draft(DAY, Note(one.station_id, str(number))) for number in range(50)]
    write(one.logbook, "Many", notes)
    held = live_entries(one.logbook, (Note,))
    assert [entry.fact.text for entry in held] == [str(number) for number in range(50)]
    assert {entry.entry_id[14] for entry in held} == {"7"}


def test_a_revision_replaces_and_keeps(one):
    write(one.logbook, "Reading", [Draft(DAY, Reading(one.station_id, below_rim_mm=100.0))])
    first = live_entries(one.logbook, (Reading,))[0]
    better = Reading(one.station_id, below_rim_mm=200.0)
    write(one.logbook, "Correct", [Draft(DAY, better, revises=first.entry_id)])
    (held,) = live_entries(one.logbook, (Reading,))
    assert held.fact == better
    assert entry_by_id(one.logbook, first.entry_id) == first
    with pytest.raises(Refused, match="changed meanwhile"):
        write(one.logbook, "Again", [Draft(DAY, better, revises=first.entry_id)])


def test_undo_and_redo_walk_back_and_forth(one):
    states = [whats(one.logbook)]
    write(one.logbook, "Rake", [Draft(DAY, Chore(one.station_id, ChoreKind.RAKE))])
    states.append(whats(one.logbook))
    rake = live_entries(one.logbook, (Chore,))[0]
    write(one.logbook, "Drop", [Draft(DAY, Withdrawal("wrong tank"), revises=rake.entry_id)])
    states.append(whats(one.logbook))
    assert states[0] == states[2] != states[1]

    for expected in (states[1], states[0]):
        undo(one.logbook)
        assert whats(one.logbook) == expected
    for expected in (states[1], states[2]):
        redo(one.logbook)
        assert whats(one.logbook) == expected
    for expected in (states[1], states[0], []):
        undo(one.logbook)
        assert whats(one.logbook) == expected
    with pytest.raises(Refused, match="nothing to undo"):
        undo(one.logbook)


def test_writing_after_an_undo_leaves_nothing_to_redo(one):
    write(one.logbook, "Rake", [Draft(DAY, Chore(one.station_id, ChoreKind.RAKE))])
    undo(one.logbook)
    write(one.logbook, "Note", [Draft(DAY, Note(one.station_id, "seen"))])
    with pytest.raises(Refused, match="nothing to redo"):
        redo(one.logbook)
    assert undo(one.logbook).title == "Undo: Note"


def test_an_undo_that_crossed_another_save_leaves_undo_working(one):
    """Two terminals: the batch undone need not be the latest one in the file."""
    write(one.logbook, "First", [Draft(DAY, Note(one.station_id, "first"))])
    first = one.logbook.db.execute("SELECT batch_id FROM batch ORDER BY rowid DESC").fetchone()[0]
    write(one.logbook, "Second", [Draft(DAY, Note(one.station_id, "second"))])
    one.logbook.db.execute(
        "INSERT INTO batch VALUES (?, 'Undo: First', '2026-10-01T00:00:00Z', ?)",
        [one.logbook.new_id(), first],
    )
    assert undo(one.logbook).title == "Undo: Second"
    assert redo(one.logbook).title == "Redo: Second"
    assert [entry.fact.text for entry in live_entries(one.logbook, (Note,))] == ["first", "second"]


def test_a_batch_is_all_or_nothing(one):
    before = whats(one.logbook)
    good = Draft(DAY, Note(one.station_id, "kept out too"))
    with pytest.raises(Refused, match="nothing was saved"):
        write(one.logbook, "Mixed", [good, Draft(DAY, Chore(one.station_id, ChoreKind.FILL, -1.0))])
    assert whats(one.logbook) == before
    with pytest.raises(NotFound):
        write(one.logbook, "Lost", [good, Draft(DAY, Withdrawal(), revises="no-such-entry")])
    assert whats(one.logbook) == before


def test_entries_are_only_ever_added(one):
    write(one.logbook, "All kinds", [Draft(DAY, what) for what in one_of_each(one)])
    undo(one.logbook)
    tank = TankMeasures(Shape.MEASURED, 762.0, depth_volume=((0, 0), (762.0, 400.0)))
    measured = one.facts(name="Measured", station_id=one.logbook.new_id(), tank=tank)
    write(one.logbook, "Measured", [Draft(DAY, measured)])
    what = WeatherImport(one.logbook.new_id(), one.logbook.new_id(), "record", "file")
    weather = replace(empty_weather(DAY, 1), rain_mm=np.array([1.0]))
    store_weather(one.logbook, what, weather)
    for table in ("batch", "entry", *KINDS, "tank_depth_volume", "weather_day"):
        rows = one.logbook.db.execute(f'SELECT * FROM "{table}"')
        assert rows.fetchone(), f"no row of {table} to try it on"
        column = rows.description[0][0]
        for sql in (f'UPDATE "{table}" SET "{column}" = "{column}"', f'DELETE FROM "{table}"'):
            with pytest.raises(sqlite3.IntegrityError, match="only ever added"):
                one.logbook.db.execute(sql)


@pytest.mark.parametrize(
    "sql",
    [
        pytest.param("reading VALUES ('{e}', 'reading', '{s}', 5.0, 'full', 0)", id="both ways"),
        pytest.param("reading VALUES ('{e}', 'reading', '{s}', NULL, NULL, 0)", id="neither way"),
        pytest.param(
            "reading VALUES ('{e}', 'reading', '{s}', NULL, 'brimming', 0)", id="odd word"
        ),
        pytest.param("reading VALUES ('{e}', 'reading', 'nobody', 5.0, NULL, 0)", id="no station"),
        pytest.param("reading VALUES ('{e}', 'reading', '{s}', 'deep', NULL, 0)", id="text"),
        pytest.param("reading VALUES ('{e}', 'reading', '{s}', 5.0, NULL, 2)", id="odd time"),
        pytest.param("chore VALUES ('{e}', 'chore', '{s}', 'rake', NULL, '')", id="other kind"),
    ],
)
def test_the_tables_refuse_bad_rows(one, sql):
    db = one.logbook.db
    entry_id, batch_id = one.logbook.new_id(), one.logbook.new_id()
    moment = "2026-01-01T00:00:00+00:00"
    db.execute("BEGIN")
    db.execute("INSERT INTO batch VALUES (?, 'x', ?, NULL)", [batch_id, moment])
    db.execute(
        "INSERT INTO entry VALUES (?, ?, 'reading', '2026-01-01', ?, NULL)",
        [entry_id, batch_id, moment],
    )
    with pytest.raises(sqlite3.IntegrityError):
        db.execute("INSERT INTO " + sql.format(e=entry_id, s=one.station_id))
    db.conn.rollback()


def test_the_date_of_an_entry_must_be_a_date(one):
    with pytest.raises(sqlite3.IntegrityError):
        one.logbook.db.execute(
            "INSERT INTO entry SELECT 'x' || substr(entry_id, 2), batch_id, kind, '2026-02-30', "
            "written_utc, NULL FROM entry LIMIT 1"
        )


def test_text_that_steers_the_terminal_is_neither_stored_nor_read(empty):
    tract = TractFacts(empty.new_id(), "North \x1b[2J", latitude_deg=40.0)
    write(empty, "A tract", [Draft(empty.today, tract)])
    stored = empty.db.execute("SELECT name FROM tract_facts").fetchone()[0]
    assert stored == "North \ufffd[2J"
    empty.db.execute("DROP TRIGGER tract_facts_is_kept_on_update")
    empty.db.execute("UPDATE tract_facts SET name = ?", ["Old \x9b2J"])
    (entry,) = live_entries(empty)
    assert entry.fact.name == "Old \ufffd2J"
