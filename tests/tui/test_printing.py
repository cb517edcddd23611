"""Rows in print: whatever a name holds, neither terminal nor spreadsheet obeys it."""

import csv
import io
import sys
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from store.reports.report import Column, Measure, Report, Where
from store.units import METRIC_UNITS, US_UNITS
from tui.print_layout import folded, laid_out
from tui.printing import As, print_rows

ROW = ("=HYPERLINK(1)", -3.5, None, date(2015, 9, 30), "-2")
LEVELS = Report(
    (
        Column("station"),
        Column("volume_gal", "water", Measure.VOLUME, "volume_l", digits=2, printed=0),
        Column("tract", where=Where.WIDE),
        Column("hold_pct", "% holds", digits=1, chance=True),
        Column("read_mm", where=Where.FILE),
        Column("fill", "brought"),
    ),
    (("Gate", 400.0, "North", 99.97, 3.0, None), ("Ridge end", 37.85411784, "South", 0.1, 4.0, "")),
)


def printed(capsys, report, form, units=US_UNITS, *, wide=False):
    print_rows(report, form, units, wide=wide)
    return capsys.readouterr().out


def test_csv_cells_are_no_formulas_and_numbers_stay_numbers(capsys):
    columns = tuple(Column(name) for name in ("name", "level", "note", "day", "text"))
    _, row = csv.reader(io.StringIO(printed(capsys, Report(columns, (ROW,)), As.CSV)))
    assert row == ["'=HYPERLINK(1)", "-3.5", "", "2015-09-30", "-2"]


def test_json_keeps_text_as_it_is(capsys):
    report = Report((Column("name"),), (("=HYPERLINK(1)",),))
    assert '"=HYPERLINK(1)"' in printed(capsys, report, As.JSON)


def test_a_table_has_the_columns_that_matter_in_the_units_of_the_reader(capsys):
    assert printed(capsys, LEVELS, As.TABLE).splitlines() == [
        "           water      %",
        "station      gal  holds",
        "Gate         106    >99",
        "Ridge end     10     <1",
    ]
    assert "400" in printed(capsys, LEVELS, As.TABLE, METRIC_UNITS)
    wide = printed(capsys, LEVELS, As.TABLE, wide=True)
    assert {"North", "brought"} <= set(wide.split())
    assert "3.0" not in wide


def test_a_file_has_all_columns_named_for_their_units(capsys):
    for units, name, gate in (
        (US_UNITS, "volume_gal", "105.67"),
        (METRIC_UNITS, "volume_l", "400.0"),
    ):
        (first, _) = csv.DictReader(io.StringIO(printed(capsys, LEVELS, As.CSV, units)))
        assert (first[name], first["hold_pct"], first["read_mm"]) == (gate, "100.0", "3.0")


def test_where_the_encoding_is_narrow_a_table_is_plain_and_a_file_stays_whole(monkeypatch):
    report = Report((Column("station"),), (("Étang \N{CJK UNIFIED IDEOGRAPH-6C34} \u2026",),))
    for form, wanted in (
        (As.TABLE, b"station\nEtang ?? ~\n"),
        (As.CSV, "station\nÉtang \N{CJK UNIFIED IDEOGRAPH-6C34} \u2026\n".encode()),
    ):
        written = io.BytesIO()
        monkeypatch.setattr("sys.stdout", io.TextIOWrapper(written, encoding="latin-1"))
        print_rows(report, form, US_UNITS)
        sys.stdout.flush()
        assert written.getvalue() == wanted


@given(
    st.lists(
        st.tuples(st.text(max_size=60), st.sampled_from(["", "8", "1,200"]), st.text(max_size=90)),
        max_size=4,
    ),
    st.integers(40, 120),
)
def test_a_line_is_no_wider_than_asked_and_no_character_is_lost(rows, width):
    rows = [tuple("".join(c for c in cell if c.isprintable()) for cell in row) for row in rows]
    lines = list(laid_out(("name", "gal", "why"), rows, (False, True, False), 2, width))
    assert all(cell_len(line) <= width for line in lines)
    told = [c for row in rows for cell in row for c in cell if not c.isspace()]
    assert sorted(c for line in lines[1:] for c in line if not c.isspace()) == sorted(told)


@pytest.mark.parametrize("width", [10, 30])
def test_a_text_is_folded_between_words(width):
    lines = folded("Rake the apron by Saturday", width)
    assert " ".join(lines) == "Rake the apron by Saturday"
    assert max(map(len, lines)) <= width
