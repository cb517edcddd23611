"""Readings, chores and contamination events from a CSV."""

import pytest

from store.errors import BadFile, BadLines, Refused
from store.logbook.entries import live_entries
from store.records import Chore, Contamination, Note, Reading
from store.transfer.importing import SheetKind, import_sheet
from store.units import litres_from_gallons
from store.vocabulary import Action, Cause, ChoreKind, LevelMark

READINGS, CHORES = "date,station,below_rim_in,level,note", "date,station,chore,gallons,note"
EVENTS = "date,station,cause,action,gallons,note"


@pytest.fixture
def add(book, save):
    def add(kind, *lines, name="sheet.csv"):
        return import_sheet(book, SheetKind(kind), save(*lines, name=name))

    return add


def _whats(book, kind):
    return [entry.fact for entry in live_entries(book, (kind,))]


def test_readings_measured_and_by_eye(book, add):
    done = add(
        "readings",
        READINGS,
        "2026-09-01,Oak,4.5,,",
        "2026-09-02,OAK,,Three-quarters,a [note]",
        "2026-09-03,North/Spring,,dry,",
    )
    first, second, third = _whats(book, Reading)
    assert done.written == 4
    assert first.below_rim_mm == pytest.approx(4.5 * 25.4)
    assert second.mark is LevelMark.THREE_QUARTERS
    assert third.mark is LevelMark.DRY
    assert [note.text for note in _whats(book, Note)] == ["a [note]"]


@pytest.mark.parametrize("heading", ["below_rim_cm", "Below rim (mm)"])
def test_metric_readings(book, add, heading):
    depth = "10" if "cm" in heading else "100"
    add("readings", f"date,station,{heading}", f"2026-09-01,Oak,{depth}")
    assert _whats(book, Reading)[0].below_rim_mm == pytest.approx(100.0)


def test_chores(book, add):
    add(
        "chores",
        CHORES,
        "2026-04-12,Oak,rake,,",
        "2026-10-01,Oak,fill,60,from the truck",
        "2026-09-30,South/Spring,Fill,,",
    )
    chores = {(chore.chore, chore.note): chore for chore in _whats(book, Chore)}
    assert chores[ChoreKind.FILL, "from the truck"].volume_l == litres_from_gallons(60.0)
    assert chores[ChoreKind.FILL, ""].volume_l is None
    assert (ChoreKind.RAKE, "") in chores


def test_litres_instead_of_gallons(book, add):
    add("chores", "date,station,chore,litres", "2026-04-12,Oak,fill,200")
    assert _whats(book, Chore)[0].volume_l == 200.0


def test_contamination(book, add):
    add(
        "contamination",
        EVENTS,
        "2026-08-03,Oak,drowned animal,carcass removed,,a fawn",
        "2026-08-04,North/Spring,dye,,,",
    )
    first, second = _whats(book, Contamination)
    assert (first.cause, first.action, first.note) == (
        Cause.DROWNED_ANIMAL,
        Action.REMOVED,
        "a fawn",
    )
    assert second.action is Action.LEFT
    assert first.event_id != second.event_id


@pytest.mark.parametrize(
    ("kind", "lines"),
    [
        ("readings", (READINGS, "2026-09-01,Oak,4,,seen", "2026-09-02,Oak,,half,")),
        ("chores", (CHORES, "2026-04-12,Oak,rake,,", "2026-04-12,Oak,fill,60,")),
        ("contamination", (EVENTS, "2026-08-03,Oak,dye,bailed,20,")),
    ],
)
def test_the_same_file_again_is_known(book, add, kind, lines):
    written = add(kind, *lines).written
    before = list(book.db.conn.iterdump())
    done = add(kind, *lines, name="copy.csv")
    assert (done.written, done.known) == (0, written)
    assert list(book.db.conn.iterdump()) == before


def test_only_what_is_new_is_added(add):
    add("readings", READINGS, "2026-09-01,Oak,4,,")
    done = add("readings", READINGS, "2026-09-01,Oak,4,,", "2026-09-08,Oak,5,,")
    assert (done.written, done.known) == (1, 1)


@pytest.mark.parametrize("dress", ["\ufeff{0}\r\n{1}\r\n", "\n{0}\n\n{1}"])
def test_marks_line_ends_and_semicolons(book, save, dress):
    head, row = READINGS.replace(",", ";"), "2026-09-01;Oak;4;;"
    path = save(dress.format(head, row))
    assert import_sheet(book, SheetKind.READINGS, path).written == 1


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("2026-02-30,Oak,4,,", "date: '2026-02-30' is not a date"),
        ("12/31/2025,Oak,4,,", "date: '12/31/2025' is not a date"),
        (",Oak,4,,", "date: is empty"),
        ("2026-10-02,Oak,4,,", "date: 2026-10-02 is still to come"),
        ("2026-09-01,,4,,", "station: is empty"),
        ("2026-09-01,Oka,4,,", "station: There is no station named Oka; did you mean Oak"),
        ("2026-09-01,Spring,4,,", "several stations named Spring; write North/Spring or South/"),
        ("2026-09-01,Oak,4x,,", "below_rim_in: '4x' is not a number"),
        ("2026-09-01,Oak,-4,,", "below_rim_in: -4 is not possible"),
        ("2026-09-01,Oak,31,,", "below_rim: is under the bottom of a tank 30.0 in deep"),
        ("2026-09-01,Oak,inf,,", "below_rim_in: 'inf' is not a number"),
        ("2026-09-01,Oak,,brimming,", "level: 'brimming' is not one of full"),
        ("2026-09-01,Oak,,,", "level: give either"),
        ("2026-09-01,Oak,4,full,", "level: give either"),
        ("2026-09-01,Oak,4,,a,b", "more cells than the header"),
    ],
)
def test_a_bad_reading_refuses_the_whole_file(add, refuses, line, said):
    lines = (READINGS, "2026-09-01,Oak,3,,", line)
    sentence = refuses(BadLines, lambda: add("readings", *lines))
    assert said in sentence
    assert "line 3" in sentence


def test_a_reading_of_the_very_bottom_is_taken(add):
    assert add("readings", READINGS, "2026-09-01,Oak,30,,").written == 1


@pytest.mark.parametrize(
    ("kind", "head", "line", "said"),
    [
        ("chores", CHORES, "2026-09-01,Oak,,,", "chore: is empty"),
        ("chores", CHORES, "2026-09-01,Oak,sweep,,", "'sweep' is not one of install, rake"),
        ("chores", CHORES, "2026-09-01,Oak,fill,-5,", "gallons: -5 is not possible"),
        ("contamination", EVENTS, "2026-09-01,Oak,,,,", "cause: is empty"),
        ("contamination", EVENTS, "2026-09-01,Oak,mud,,,", "'mud' is not one of drowned"),
        ("contamination", EVENTS, "2026-09-01,Oak,dye,prayed,,", "'prayed' is not one of left"),
        ("contamination", EVENTS, "2026-09-01,Oak,dye,bailed,lots,", "'lots' is not a number"),
    ],
)
def test_bad_chores_and_events(add, refuses, kind, head, line, said):
    assert said in refuses(BadLines, lambda: add(kind, head, line))


@pytest.mark.parametrize(
    ("kind", "head", "said"),
    [
        ("readings", "date,station,note", "below_rim_in or below_rim_cm or below_rim_mm or level"),
        ("readings", "station,level", "no column date"),
        ("chores", "date,chore", "no column station"),
        ("contamination", "date,station,note", "no column cause"),
    ],
)
def test_missing_columns(add, refuses, kind, head, said):
    assert said in refuses(BadFile, lambda: add(kind, head, "x,y,z"))


def test_outside_the_years_of_service(add, refuses):
    add("chores", CHORES, "2026-05-09,Oak,install,,", "2026-09-01,Oak,retire,,")
    said = refuses(BadLines, lambda: add("readings", READINGS, "2026-05-08,Oak,4,,"))
    assert "line 2, date: Oak was installed on 2026-05-09" in said
    said = refuses(Refused, lambda: add("readings", READINGS, "2026-09-02,Oak,4,,"))
    assert "correct one of the dates" in said
