"""Text, canvas, braille and day columns: what every drawing stands on."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from tui.widgets.axis import Axis, month_line, moved_by_months
from tui.widgets.braille import braille_cells, line_dots
from tui.widgets.canvas import Canvas
from tui.widgets.cells import crop, fit, one_cell, one_line


@given(text=st.text(max_size=40), width=st.integers(0, 30))
def test_fitted_text_is_exactly_as_wide_as_asked(text: str, width: int) -> None:
    assert cell_len(fit(text, width)) == width
    assert cell_len(crop(text, width)) <= width


def test_text_stays_literal_and_on_one_line() -> None:
    assert one_line("a\nb\tc\x1b[0m") == "a b c [0m"
    assert fit("[red]x[/", 9) == "[red]x[/ "
    assert fit("水槽水槽", 5) == "水槽…"
    assert crop("x" * 500, 4) == "xxx…"


@pytest.mark.parametrize(
    ("glyph", "drawn"), [("R", "R"), ("●", "●"), ("🦌", "•"), ("", "•"), (" ", "•"), ("RF", "•")]
)
def test_a_mark_is_always_one_visible_cell(glyph: str, drawn: str) -> None:
    assert one_cell(glyph) == drawn


def test_wide_label_keeps_the_row_as_wide_as_the_canvas() -> None:
    canvas = Canvas(8, 1)
    assert canvas.write(1, 0, "水槽", "label")
    canvas.put(2, 0, "x", "")
    canvas.put(1, 0, "x", "")
    assert not canvas.write(4, 0, "ab", "")
    assert not canvas.write(6, 0, "abc", "")
    row = "".join(run.text for run in canvas.runs(0))
    assert (row, cell_len(row)) == (" 水槽   ", 8)


def test_runs_join_cells_of_one_style() -> None:
    canvas = Canvas(4, 1)
    canvas.put(1, 0, "a", "ink")
    canvas.put(2, 0, "b", "ink")
    canvas.fill_ground(2, 0, "band")
    canvas.put(9, 9, "x", "ink")
    assert [(run.text, run.ink, run.ground) for run in canvas.runs(0)] == [
        (" ", "", ""),
        ("a", "ink", ""),
        ("b", "ink", "band"),
        (" ", "", ""),
    ]


def test_braille_dots_are_numbered_as_in_unicode() -> None:
    """Unicode Standard, Braille Patterns: U+2800 plus one bit a dot, dots 7 and 8 lowest."""
    assert braille_cells([(0, 0)]) == {(0, 0): "⠁"}
    assert braille_cells([(1, 3)]) == {(0, 0): "⢀"}
    assert braille_cells([(0, 3), (2, 4)]) == {(0, 0): "⡀", (1, 1): "⠁"}


def test_line_of_dots_has_no_gap() -> None:
    dots = line_dots(0, 0, 2, 9)
    assert {y for _, y in dots} == set(range(10))


@given(
    first=st.dates(date(1990, 1, 1), date(2040, 1, 1)),
    length=st.integers(0, 800),
    step=st.sampled_from([1, 2, 3, 7]),
)
def test_columns_share_out_every_day_once(first: date, length: int, step: int) -> None:
    axis = Axis(first, first + timedelta(days=length), step)
    days = [
        axis.first(column) + timedelta(days=offset)
        for column in range(axis.columns)
        for offset in range((axis.last(column) - axis.first(column)).days + 1)
    ]
    assert days == [first + timedelta(days=offset) for offset in range(length + 1)]
    assert all(axis.first(axis.column(day)) <= day <= axis.last(axis.column(day)) for day in days)


def test_week_columns_begin_on_monday() -> None:
    axis = Axis(date(2026, 1, 1), date(2026, 12, 31), 7)
    assert axis.columns == 53
    assert (axis.first(0), axis.first(1)) == (date(2026, 1, 1), date(2026, 1, 5))


def test_month_name_sticks_to_the_left_edge() -> None:
    axis = Axis(date(2026, 8, 1), date(2027, 3, 1))
    assert month_line(axis, 10, 40) == "Aug 2026             Sep".ljust(40)
    assert month_line(axis, 29, 12) == "  Sep".ljust(12)
    assert month_line(axis, 140, 30).strip() == "Dec 2026     Jan 2027"


@pytest.mark.parametrize("start", range(0, 60, 7))
def test_month_line_is_as_wide_as_asked(start: int) -> None:
    axis = Axis(date(2026, 8, 1), date(2026, 9, 30))
    assert len(month_line(axis, start, 25)) == 25


def test_a_month_on_ends_at_the_last_day() -> None:
    assert moved_by_months(date(2026, 1, 31), 1) == date(2026, 2, 28)
