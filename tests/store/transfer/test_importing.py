"""Files that are not what they were taken for, for every kind of import alike."""

import os

import pytest

from store.errors import BadFile, BadLines
from store.transfer.importing import SheetKind, import_sheet, keep_import, read_import
from store.transfer.weather import import_weather
from store.weather.files import ReadOptions

IMPORTS = {
    kind.value: lambda book, path, kind=kind: import_sheet(book, kind, path) for kind in SheetKind
} | {"weather": lambda book, path: import_weather(book, path, ReadOptions())}


@pytest.fixture(params=IMPORTS.values(), ids=IMPORTS.keys())
def bring(request):
    return request.param


def test_a_directory(book, refuses, bring, tmp_path):
    assert "is a directory" in refuses(BadFile, lambda: bring(book, tmp_path))


def test_no_such_file(book, refuses, bring, tmp_path):
    said = refuses(BadFile, lambda: bring(book, tmp_path / "absent.csv"))
    assert "No such file" in said


def test_an_empty_file(book, refuses, bring, save):
    assert "is empty" in refuses(BadFile, lambda: bring(book, save()))
    assert "is empty" in refuses(BadFile, lambda: bring(book, save("\ufeff")))


def test_a_binary_file(book, refuses, bring, tmp_path):
    path = tmp_path / "picture.csv"
    path.write_bytes(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR" + bytes(range(256)))
    assert "not a text file" in refuses(BadFile, lambda: bring(book, path))


def test_a_huge_file_is_refused_by_its_size(book, refuses, bring, tmp_path):
    path = tmp_path / "huge.csv"
    path.touch()
    os.truncate(path, 100_000_000)
    assert "100 MB" in refuses(BadFile, lambda: bring(book, path))


def test_a_logbook_is_no_sheet(book, refuses, bring):
    assert "not a text file" in refuses(BadFile, lambda: bring(book, book.path))


def test_prose_is_no_sheet(book, refuses, bring, save):
    path = save("Dear diary, today I walked to the tanks.", "All of them were full.")
    sentence = refuses(BadFile, lambda: bring(book, path))
    assert "has no column" in sentence or "neither GPX nor GeoJSON" in sentence


def test_a_header_of_separators_only(book, refuses, bring, save):
    refuses(BadFile, lambda: bring(book, save(",,,,", ",,,")))


def test_reading_a_sheet_writes_nothing(book, save):
    before = list(book.db.conn.iterdump())
    path = save("date,station,below_rim_in", "2026-09-01,Oak,4")
    imported = read_import(book, SheetKind.READINGS, path)
    assert list(book.db.conn.iterdump()) == before
    assert keep_import(book, SheetKind.READINGS, path, imported).written == 1


def test_a_sheet_of_another_kind_says_which_column_it_lacks(book, refuses, save):
    path = save("date,station,chore", "2026-09-01,Oak,rake")
    said = refuses(BadFile, lambda: import_sheet(book, SheetKind.CONTAMINATION, path))
    assert "no column cause; its header reads date, station, chore" in said


def test_one_bad_line_among_many_good_ones(book, refuses, save):
    good = [f"2026-09-{day:02},Oak,4" for day in range(1, 20)]
    path = save("date,station,below_rim_in", *good, "2026-09-20,Oak,four")
    with pytest.raises(BadLines) as raised:
        import_sheet(book, SheetKind.READINGS, path)
    (problem,) = raised.value.problems
    assert (problem.line, problem.field) == (21, "below_rim_in")
    refuses(BadLines, lambda: import_sheet(book, SheetKind.READINGS, path))
