"""Spreadsheets saved as text, by every program and by none."""

import os
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.csv_text import MAX_MEGABYTES, column_name, harmless, read_table, read_text
from store.errors import BadFile


def _table(tmp_path, data):
    path = tmp_path / "sheet.csv"
    path.write_bytes(data)
    return read_table(path)


@pytest.mark.parametrize(
    "data",
    [
        b"a,b\n1,2\n",
        b"\xef\xbb\xbfa,b\n1,2\n",
        b"a;b\r\n1;2\r\n",
        b"a\tb\n1\t2",
        b"\n\n A , B \n\n 1 , 2 \n,\n",
        b"a,b\r1,2\r",
        b'"a","b"\n"1","2"\n',
    ],
    ids=["plain", "mark", "semicolons", "tabs", "blanks", "old line ends", "quotes"],
)
def test_one_table_in_many_dresses(tmp_path, data):
    table = _table(tmp_path, data)
    assert table.columns == ("a", "b")
    assert [dict(row.cells) for row in table.rows] == [{"a": "1", "b": "2"}]


def test_lines_are_counted_as_an_editor_counts_them(tmp_path):
    table = _table(tmp_path, b'a,b\n\n1,"two\nlines"\n3,4\n')
    assert [row.line for row in table.rows] == [3, 5]
    assert table.rows[0].cells["b"] == "two\nlines"


def test_a_decimal_comma_needs_semicolons_and_stays_as_written(tmp_path):
    assert _table(tmp_path, b"a;b\n1,5;2\n").rows[0].cells["a"] == "1,5"


def test_cells_beyond_the_header_are_reported(tmp_path):
    assert "" in _table(tmp_path, b"a,b\n1,2,3\n").rows[0].cells
    assert "" not in _table(tmp_path, b"a,b\n1,2,,\n").rows[0].cells


def test_western_letters_of_an_old_spreadsheet(tmp_path):
    assert _table(tmp_path, b"a\nCa\xf1on\n").rows[0].cells["a"] == "Cañon"


def test_headings_become_names():
    assert column_name(" Below rim (in) ") == "below_rim_in"
    assert column_name("GALLONS") == "gallons"


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "empty"),
        (b" \n\t\r\n", "empty"),
        (b"\xef\xbb\xbf", "empty"),
        (b"\xef\xbb\xbf\xc2\xa0\n", "empty"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "not a text file"),
        ("a,b\n1,2\n".encode("utf-16"), "not a text file"),
        (b"a,b,A\n1,2,3\n", "the column a twice"),
        (b'a,b\n1,"never closed\n2,3\n4,5\n', "check the quotes"),
    ],
    ids=["nothing", "blanks", "mark", "mark and blanks", "picture", "utf-16", "twice", "quote"],
)
def test_files_that_are_no_table(tmp_path, data, said):
    with pytest.raises(BadFile, match=said):
        _table(tmp_path, data)


def test_a_huge_file_is_refused_by_its_size_alone(tmp_path, monkeypatch):
    path = tmp_path / "huge.csv"
    path.touch()
    os.truncate(path, 100_000_000)

    def read_bytes(self):
        raise AssertionError(f"{self} was read")

    monkeypatch.setattr(type(path), "read_bytes", read_bytes)
    with pytest.raises(BadFile, match=f"100 MB, more than the {MAX_MEGABYTES} MB"):
        read_text(path)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        (".", "is a directory"),
        ("absent.csv", "cannot be read: No such file"),
        ("x" * 300, "cannot be read: File name too long"),
        ("/dev/zero", "a device or a pipe"),
    ],
)
def test_paths_that_are_no_file(tmp_path, name, said):
    with pytest.raises(BadFile, match=said):
        read_text(tmp_path / name)


def test_a_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(BadFile, match="a device or a pipe"):
        read_text(tmp_path / "pipe")


@given(st.binary(max_size=200))
def test_any_bytes_give_a_table_or_a_sentence(tmp_path_factory, data):
    path = tmp_path_factory.getbasetemp() / "any.csv"
    path.write_bytes(data)
    with suppress(BadFile):
        table = read_table(path)
        assert all(set(row.cells) <= {*table.columns, ""} for row in table.rows)


@pytest.mark.parametrize("text", ["=1+1", "+Oak", "-cmd|'/c'!A0", "@SUM(A1)", "\t=1"])
def test_a_text_cell_is_no_formula(text):
    assert harmless(text) == f"'{text}"


@pytest.mark.parametrize("text", ["", "Oak", "-3.5", "+2", "12", "a=b", "0"])
def test_numbers_and_plain_words_are_left_alone(text):
    assert harmless(text) == text
