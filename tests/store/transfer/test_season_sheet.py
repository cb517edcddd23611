"""Windows of tracts from a CSV."""

import pytest

from store.errors import BadLines
from store.model.snapshot import load
from store.transfer.importing import SheetKind, import_sheet

GOOD = "tract,window,first,last\nNorth,rake,5 April,2 May\nNorth,quiet weeks,10-15,11-20\n"


def read(logbook, tmp_path, text):
    path = tmp_path / "season.csv"
    path.write_text(text)
    return import_sheet(logbook, SheetKind.SEASON, path)


def seasons(logbook):
    snapshot = load(logbook)
    return {snapshot.places.tracts[key].name: season for key, season in snapshot.seasons.items()}


def test_windows_are_read_once_and_revised(book, tmp_path):
    found = read(book, tmp_path, GOOD)
    assert (found.written, found.known) == (2, 0)
    assert seasons(book)["North"].rake.first.day == 5
    again = read(book, tmp_path, GOOD)
    assert (again.written, again.known) == (0, 2)
    changed = read(book, tmp_path, GOOD.replace("5 April", "6 April"))
    assert (changed.written, changed.known) == (1, 1)
    assert seasons(book)["North"].rake.first.day == 6


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("West,rake,1 April,20 April", "no tract named West"),
        ("North,mow,1 April,20 April", "'mow' is no window of the season"),
        ("North,install,30 May,1 May", "swap its days"),
        ("North,rake,,1 April", "first"),
        ("North,install,31 April,2 May", "no day of the year"),
        ("North,fill,1 December,9 December", "no later than Early-December fill on 1 December"),
    ],
)
def test_a_bad_line_is_refused_with_its_place(book, tmp_path, line, sentence):
    before = seasons(book)
    with pytest.raises(BadLines) as refused:
        read(book, tmp_path, f"{GOOD}{line}\n")
    assert sentence in str(refused.value)
    assert seasons(book) == before


def test_a_window_met_twice_is_refused(book, tmp_path):
    with pytest.raises(BadLines, match="on an earlier line already"):
        read(book, tmp_path, f"{GOOD}north,rake,1 April,9 April\n")
