"""Monthly normals of a tract from a CSV."""

import pytest

from store.errors import BadFile, BadLines, BadValue
from store.logbook.entries import live_entries
from store.logbook.journal import undo
from store.logbook.places import places
from store.model.snapshot import load
from store.records import MonthlyNormals
from store.transfer.importing import SheetKind, import_sheet
from store.transfer.normals import MONTHS

HEAD = "month,rain_mm,wet_days,tmin_c,tmax_c"
YEAR = tuple(f"{month},{80 + month},10,{month - 10},{month + 5}" for month in range(1, 13))


@pytest.fixture
def add(book, save):
    def add(*lines, tract="North", latitude=None):
        return import_sheet(book, SheetKind.NORMALS, save(*lines), tract, latitude)

    return add


def _normals(book):
    return {
        entry.fact.month: entry.fact
        for entry in live_entries(book, (MonthlyNormals,))
        if isinstance(entry.fact, MonthlyNormals)
    }


def test_twelve_months_are_kept_at_once(book, add):
    done = add(HEAD, *YEAR)
    assert (done.written, done.known) == (12, 0)
    north = places(book).find_tract("North").tract_id
    assert _normals(book)[4] == MonthlyNormals(north, 4, 84.0, 10.0, -6.0, 9.0)
    assert load(book).weather[north].normals is not None
    undo(book)
    assert _normals(book) == {}


def test_names_of_months_and_us_units(book, add):
    lines = [f"{name[: 3 + 9 * (n % 2)]},4,10,41,68" for n, name in enumerate(MONTHS)]
    assert add("Month,rain_in,Wet days,tmin_f,tmax_f", *lines).written == 12
    july = _normals(book)[7]
    assert (july.rain_mm, july.tmin_c, july.tmax_c) == pytest.approx((101.6, 5.0, 20.0))


def test_both_units_may_stand_side_by_side_near_zero(add):
    lines = [f"{month},4,10,0.1,32,68" for month in range(1, 13)]
    assert add("month,rain_in,wet_days,tmin_c,tmin_f,tmax_f", *lines).written == 12


def test_only_what_differs_is_revised(book, add):
    add(HEAD, *YEAR)
    before = list(book.db.conn.iterdump())
    assert (add(HEAD, *YEAR).written, list(book.db.conn.iterdump())) == (0, before)
    done = add(HEAD, "1,200,12,-9,6", *YEAR[1:])
    assert (done.written, done.known) == (1, 11)
    assert len(live_entries(book, (MonthlyNormals,))) == 12
    assert _normals(book)[1].rain_mm == 200.0


def test_a_new_tract_is_made_and_a_known_one_keeps_its_latitude(book, add):
    assert add(HEAD, *YEAR, tract=" West ", latitude=43.0).written == 13
    assert places(book).find_tract("West").latitude_deg == 43.0
    (warning,) = add(HEAD, *YEAR, latitude=50.0).warnings
    assert "North lies at 42 degrees already" in warning
    assert places(book).find_tract("North").latitude_deg == 42.0


def test_a_tract_without_a_latitude_gets_it(book, add):
    add(HEAD, *YEAR, tract="West")
    assert add(HEAD, *YEAR, tract="West", latitude=44.0).written == 1
    assert places(book).find_tract("West").latitude_deg == 44.0


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("13,90,10,1,12", "'13' is not a month"),
        ("Mai,90,10,1,12", "'Mai' is not a month"),
        (",90,10,1,12", "month: is empty"),
        ("5,,10,1,12", "rain: is empty"),
        ("5,-1,10,1,12", "rain: is outside 0 to 5000 mm"),
        ("5,90,29,1,12", "wet_days: is outside 0 to 28 days"),
        ("5,90,0,1,12", "has at least some wet days"),
        ("5,90,10,13,12", "the low 13.0 C is above the high 12.0 C"),
        ("5,90,10,-91,12", "tmin: is outside -90 to 60 C"),
        ("5,90,10,1,warm", "'warm' is not a number"),
        ("4,90,10,1,12", "April stands on line 5 already"),
    ],
)
def test_a_bad_month_refuses_the_whole_file(add, refuses, line, said):
    sentence = refuses(BadLines, lambda: add(HEAD, *YEAR[:4], line, *YEAR[5:]))
    assert said in sentence
    assert "line 6" in sentence


def test_the_extremes_that_are_taken_can_be_lived_through(book, add):
    add(
        HEAD, *(f"{m},5000,28,-90,60" for m in range(1, 7)), *(f"{m},0,0,0,0" for m in range(7, 13))
    )
    assert next(iter(load(book).weather.values())).normals is not None


def test_all_months_and_a_tract_are_needed(add, refuses):
    said = refuses(BadFile, lambda: add(HEAD, *YEAR[:10]))
    assert "lacks November, December; all twelve months are needed" in said
    assert "which tract" in refuses(BadValue, lambda: add(HEAD, *YEAR, tract=None))
    assert "no column wet_days" in refuses(BadFile, lambda: add("month,rain_mm", "1,2"))
