"""The CSV of a sheet that was filled in: read, read twice, and edited by hand."""

import pytest

from store.errors import BadLines
from store.logbook.entries import live_entries
from store.logbook.journal import undo
from store.records import Chore, Note, RampCheck, Reading, Sighting
from store.transfer.importing import SheetKind, import_sheet
from store.units import litres_from_gallons
from store.vocabulary import ChoreKind, UseSeen

HEAD = "date,station,below_rim_in,use,ramp,gallons,done,note"
FULL = '"2026-09-30","Oak","6.5","heavy","in place","45","rake; uncover","sign of a ""bear"", old"'
KINDS = (Reading, Sighting, RampCheck, Chore, Note)


def whats(book):
    return [entry.fact for entry in live_entries(book, KINDS)]


def bring(book, path):
    return import_sheet(book, SheetKind.SHEET, path)


def test_a_row_tells_of_level_use_ramp_work_and_water(book, save):
    done = bring(book, save(HEAD, FULL))
    level, use, ramp, rake, uncover, fill, note = whats(book)
    assert (done.written, done.known) == (7, 0)
    assert level.below_rim_mm == pytest.approx(6.5 * 25.4)
    assert use.use is UseSeen.HEAVY
    assert ramp.in_place
    assert (rake.chore, uncover.chore, fill.chore) == (
        ChoreKind.RAKE, ChoreKind.UNCOVER, ChoreKind.FILL,
    )  # fmt: skip
    assert fill.volume_l == pytest.approx(litres_from_gallons(45.0))
    assert note.text == 'sign of a "bear", old'


def test_the_same_file_twice_changes_nothing(book, save):
    path = save(HEAD, FULL, "2026-09-30,North/Spring,,,missing,,,", "2026-09-30,South/Spring,,,,,,")
    assert bring(book, path).written == 8
    before = list(book.db.conn.iterdump())
    again = bring(book, path)
    assert (again.written, again.known) == (0, 8)
    assert list(book.db.conn.iterdump()) == before


def test_one_undo_takes_the_whole_sheet_back(book, save):
    bring(book, save(HEAD, FULL))
    undo(book)
    assert whats(book) == []


def test_metric_columns_are_read(book, save):
    bring(book, save("date,station,below_rim_cm,litres", "2026-09-30,Oak,10,170"))
    level, fill = whats(book)
    assert level.below_rim_mm == pytest.approx(100.0)
    assert fill.volume_l == pytest.approx(170.0)


def test_no_water_is_no_fill(book, save):
    assert bring(book, save(HEAD, "2026-09-30,Oak,,,,0,,")).written == 0


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("2026-13-01,Oak,6,,,,,", "line 2, date: '2026-13-01' is not a date"),
        ("2026-10-02,Oak,6,,,,,", "line 2, date: 2026-10-02 is still to come"),
        (",Oak,6,,,,,", "line 2, date: is empty"),
        ("2026-09-30,Elm,6,,,,,", "line 2, station: There is no station named Elm"),
        ("2026-09-30,Spring,6,,,,,", "line 2, station: There are several stations"),
        ("2026-09-30,Oak,deep,,,,,", "line 2, below_rim_in: 'deep' is not a number"),
        ("2026-09-30,Oak,-1,,,,,", "line 2, below_rim_in: -1 is not possible"),
        ("2026-09-30,Oak,31,,,,,", "line 2, below_rim: is under the bottom"),
        ("2026-09-30,Oak,,much,,,,", "line 2, use: 'much' is not one of none, light, heavy"),
        ("2026-09-30,Oak,,,gone,,,", "line 2, ramp: 'gone' is not one of in place, missing"),
        ("2026-09-30,Oak,,,,9999,,", "line 2, gallons: 9999 is not possible"),
        ("2026-09-30,Oak,,,,,burn,", "line 2, done: 'burn' is not one of rake, install, cover"),
        ("2026-09-30,Oak,6,,,,,,x", "line 2: more cells than the header has columns"),
    ],
)
def test_a_row_spoilt_by_hand_is_told_with_its_place(book, save, refuses, row, said):
    path = save(HEAD, row, FULL)
    sentence = refuses(BadLines, lambda: bring(book, path))
    assert said in sentence
    assert "nothing was imported" in sentence
