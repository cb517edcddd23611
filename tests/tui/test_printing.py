"""Rows in print: whatever a name holds, neither terminal nor spreadsheet obeys it."""

import csv
import io
from datetime import date

from tui.printing import As, print_rows

ROW = ("=HYPERLINK(1)", -3.5, None, date(2015, 9, 30), "-2")


def test_csv_cells_are_no_formulas_and_numbers_stay_numbers(capsys):
    print_rows(("name", "level", "note", "day", "text"), [ROW], As.CSV)
    _, row = csv.reader(io.StringIO(capsys.readouterr().out))
    assert row == ["'=HYPERLINK(1)", "-3.5", "", "2015-09-30", "-2"]


def test_json_keeps_text_as_it_is(capsys):
    print_rows(("name",), [("=HYPERLINK(1)",)], As.JSON)
    assert '"=HYPERLINK(1)"' in capsys.readouterr().out
