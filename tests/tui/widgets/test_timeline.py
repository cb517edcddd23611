"""The season timeline: rows, header, cursor, zoom and messages."""

from collections.abc import Callable, Coroutine
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from rich.cells import cell_len
from textual.app import App, ComposeResult
from textual.pilot import Pilot

from tests.tui.driving import NARROW, drive
from tui.widgets.timeline import Timeline
from tui.widgets.timeline_data import (
    SPAN_GLYPHS,
    Mark,
    Row,
    Span,
    TimelineData,
    Window,
)
from tui.widgets.timeline_painting import lanes_of, paint_header, paint_row

JAN, DEC, TODAY = date(2026, 1, 1), date(2026, 12, 31), date(2026, 10, 14)
FILL = Window(date(2026, 10, 10), date(2026, 10, 20), "fill [all]", "fill")
USE = Window(date(2026, 10, 18), date(2026, 11, 10), "heaviest use", "use")


def season(*rows: Row, windows: tuple[Window, ...] = (FILL, USE)) -> TimelineData:
    return TimelineData(JAN, DEC, TODAY, tuple(replace(row, windows=windows) for row in rows))


def row_text(data: TimelineData, days_per_column: int = 1) -> str:
    canvas = paint_row(data, data.axis(days_per_column), data.rows[0])
    return "".join(run.text for run in canvas.runs(0))


def column(day: date) -> int:
    return (day - JAN).days


def test_every_kind_of_span_has_its_own_glyph() -> None:
    assert len(set(SPAN_GLYPHS.values())) == len(SPAN_GLYPHS)
    assert {cell_len(glyph) for glyph in SPAN_GLYPHS.values()} == {1}


def test_spans_fill_their_days_and_the_graver_one_shows() -> None:
    dry = Span(date(2026, 8, 3), date(2026, 8, 10), "dry", "modeled dry")
    out = Span(date(2026, 8, 6), date(2026, 8, 7), "contaminated", "out of use")
    text = row_text(season(Row("a", "A", (), (out, dry))))
    start = column(dry.first)
    assert text[start - 1 : start + 9] == f" ░░░{2 * SPAN_GLYPHS['contaminated']}░░░ "


def test_unknown_kinds_are_drawn_plainly() -> None:
    span = Span(JAN, JAN + timedelta(days=2), "strange", "strange")
    assert row_text(season(Row("a", "A", (Mark(DEC, "Z", "odd", "z"),), (span,))))[:3] == "───"


def test_spans_outside_the_season_are_cut() -> None:
    span = Span(date(2025, 1, 1), date(2025, 12, 31), "dry", "before")
    mark = Mark(date(2027, 1, 1), "R", "chore", "after")
    text = row_text(season(Row("a", "A", (mark,), (span,))))
    assert len(text) == 365
    assert "░" not in text
    assert "R" not in text


def test_several_marks_in_a_cell_are_not_hidden_silently() -> None:
    monday = date(2026, 8, 3)
    marks = (
        Mark(monday, "R", "chore", "raked"),
        Mark(monday + timedelta(days=1), "!", "contamination", "found"),
        Mark(monday + timedelta(days=9), "F", "chore", "filled"),
    )
    data = season(Row("a", "A", marks))
    assert row_text(data)[column(monday) :][:2] == "R!"
    week = data.axis(7).column(monday)
    assert row_text(data, 7)[week - 1 : week + 2] == "+!F"
    runs = paint_row(data, data.axis(7), data.rows[0]).runs(0)
    assert any(run.ink == "underlined-mark-contamination" for run in runs)


def test_today_is_marked_in_rows_and_header() -> None:
    data = season(Row("a", "A"))
    assert row_text(data)[column(TODAY)] == "│"
    header = paint_header(data, data.rows[0].windows, data.axis(1), column(TODAY) - 5, 20)
    assert "".join(run.text for run in header.runs(1))[5] == "▼"


def header_lines(data: TimelineData, days: int, start: int, width: int) -> list[str]:
    canvas = paint_header(data, data.rows[0].windows, data.axis(days), start, width)
    return ["".join(run.text for run in canvas.runs(y)) for y in range(canvas.height)]


def test_header_draws_windows_as_brackets() -> None:
    lines = header_lines(season(Row("a", "A")), 1, column(date(2026, 10, 1)), 50)
    assert lines[0].startswith("Oct 2026")
    assert lines[1].startswith("    5      12▼")
    assert lines[2][9:20] == "├fill─────┤"
    assert lines[3][17:41] == "├heaviest use──────────┤"


def test_window_names_stay_in_view_and_shrink() -> None:
    inside = header_lines(season(Row("a", "A")), 1, column(date(2026, 10, 25)), 30)
    assert inside[3].startswith("heaviest use")
    weeks = header_lines(season(Row("a", "A")), 7, 0, 53)
    assert "├F" not in weeks[2]
    assert "fi" in weeks[2]
    assert "├use" in weeks[3]


def test_a_window_cut_by_the_season_has_an_open_end() -> None:
    windows = (
        Window(date(2025, 12, 1), date(2026, 1, 9), "early", "e"),
        Window(date(2025, 3, 1), date(2025, 3, 9), "gone", "g"),
        Window(date(2026, 12, 28), date(2027, 1, 9), "late", "l"),
    )
    assert header_lines(season(Row("a", "A"), windows=windows), 1, 0, 12)[2] == "early───┤   "
    assert (
        header_lines(season(Row("a", "A"), windows=windows), 1, 355, 10)[2]
        == "      ├late"[:6] + "├l──"
    )


def test_overlapping_windows_get_lanes_of_their_own() -> None:
    axis = season().axis(1)
    assert lanes_of((FILL, USE), axis) == [[FILL], [USE]]
    later = Window(date(2026, 11, 11), date(2026, 11, 12), "later", "l")
    assert lanes_of((later, FILL, USE), axis) == [[FILL, later], [USE]]


def test_a_season_that_ends_before_it_begins_is_refused() -> None:
    with pytest.raises(ValueError, match="timeline"):
        TimelineData(DEC, JAN, TODAY)


class TimelineApp(App[None]):
    def __init__(self, data: TimelineData | None) -> None:
        super().__init__()
        self.shown = data
        self.moves: list[Timeline.CursorMoved] = []
        self.selected: list[tuple[str, date]] = []

    def compose(self) -> ComposeResult:
        yield Timeline(self.shown)

    def on_timeline_cursor_moved(self, message: Timeline.CursorMoved) -> None:
        self.moves.append(message)

    def on_timeline_selected(self, message: Timeline.Selected) -> None:
        self.selected.append((message.row_key, message.day))


NAMES = ("Oak [bench]", "水槽 東の谷の奥の水槽", "x" * 500, "two\nlines")
ROWS = tuple(
    Row(f"k{number}", NAMES[number] if number < len(NAMES) else f"Station {number}")
    for number in range(60)
)


def in_app(
    data: TimelineData | None,
    flow: Callable[[TimelineApp, Timeline, Pilot[None]], Coroutine[Any, Any, None]],
    size: tuple[int, int] = NARROW,
) -> None:
    app = TimelineApp(data)

    async def steps(pilot: Pilot[None]) -> None:
        await flow(app, app.query_one(Timeline), pilot)

    drive(app, steps, size)


def test_names_are_literal_and_lines_exact() -> None:
    async def flow(_: TimelineApp, timeline: Timeline, __: Pilot[None]) -> None:
        width = timeline.size.width
        lines = [timeline.render_line(y) for y in range(timeline.size.height)]
        assert {line.cell_length for line in lines} == {width}
        assert {cell_len(line.text) for line in lines} == {width}
        assert lines[0].text.startswith("2026")
        assert lines[1].text.startswith("1 day a column")
        assert lines[4].text.startswith("▸Oak [bench]")
        assert lines[5].text.startswith(" 水槽 東の谷の奥…│")
        assert lines[6].text.startswith(" " + "x" * 15 + "…│")
        assert lines[7].text.startswith(" two lines ")
        assert "▼" in lines[1].text

    in_app(season(*ROWS), flow)


def test_keys_move_the_cursor_and_scroll() -> None:
    async def flow(app: TimelineApp, timeline: Timeline, pilot: Pilot[None]) -> None:
        assert [(move.row_key, move.day) for move in app.moves] == [("k0", TODAY)]
        app.moves.clear()
        await pilot.press("right", "down", "left_square_bracket", "enter")
        assert [(move.row_key, move.day) for move in app.moves] == [
            ("k0", date(2026, 10, 15)),
            ("k1", date(2026, 10, 15)),
            ("k1", date(2026, 9, 15)),
        ]
        assert app.selected == [("k1", date(2026, 9, 15))]
        await pilot.press("pagedown", "home")
        page = timeline.size.height - 4 - 1
        assert (timeline.cursor_key, timeline.cursor_day) == (f"k{1 + page}", JAN)
        assert timeline.scroll_offset == (0, 1)
        assert timeline.render_line(timeline.size.height - 1).text.startswith(
            f"▸Station {1 + page}"
        )
        await pilot.press("end")
        timeline.move_to_day(TODAY)
        await pilot.pause()
        assert [move.day for move in app.moves[-2:]] == [DEC, TODAY]

    in_app(season(*ROWS), flow)


def test_a_year_of_weeks_fits_eighty_columns() -> None:
    async def flow(app: TimelineApp, timeline: Timeline, pilot: Pilot[None]) -> None:
        await pilot.press("minus", "minus", "minus")
        assert timeline.days_per_column == 7
        assert timeline.virtual_size.width <= timeline.size.width
        assert timeline.scroll_offset.x == 0
        assert (app.moves[-1].day, app.moves[-1].last_day) == (
            date(2026, 10, 12),
            date(2026, 10, 18),
        )
        await pilot.press("left")
        assert timeline.cursor_day == TODAY - timedelta(days=7)

    in_app(season(*ROWS), flow)


def test_a_click_moves_the_cursor() -> None:
    async def flow(_: TimelineApp, timeline: Timeline, pilot: Pilot[None]) -> None:
        timeline.action_first_day()
        await pilot.click(Timeline, offset=(18 + 9, 4 + 2))
        assert (timeline.cursor_key, timeline.cursor_day) == ("k2", date(2026, 1, 10))
        await pilot.click(Timeline, offset=(3, 4 + 1))
        assert (timeline.cursor_key, timeline.cursor_day) == ("k1", date(2026, 1, 10))

    in_app(season(*ROWS), flow)


def test_other_data_keeps_the_row_and_the_day() -> None:
    async def flow(_: TimelineApp, timeline: Timeline, __: Pilot[None]) -> None:
        timeline.move_to_key("k5", date(2026, 3, 1))
        timeline.move_to_key("unknown")
        timeline.load(season(*reversed(ROWS)))
        assert (timeline.cursor_key, timeline.cursor_day) == ("k5", date(2026, 3, 1))
        timeline.load(season(ROWS[0]))
        assert timeline.cursor_key == "k0"

    in_app(season(*ROWS), flow)


def test_without_data_or_rows_nothing_breaks() -> None:
    async def flow(app: TimelineApp, timeline: Timeline, pilot: Pilot[None]) -> None:
        await pilot.press("right", "minus", "enter", "t")
        assert timeline.render_line(0).text.strip() == ""
        timeline.load(season())
        await pilot.press("down", "end", "enter")
        assert (app.moves, app.selected, timeline.cursor_key) == ([], [], None)
        assert timeline.render_line(0).text.startswith("2026 ")

    in_app(None, flow)


def test_a_change_of_theme_repaints() -> None:
    async def flow(app: TimelineApp, timeline: Timeline, pilot: Pilot[None]) -> None:
        before = list(timeline.render_line(5))
        app.theme = "textual-light"
        await pilot.pause()
        assert list(timeline.render_line(5)) != before

    in_app(season(*ROWS), flow)


@pytest.mark.parametrize("size", [(5, 2), (18, 4), (19, 5), (200, 60)])
def test_any_size_is_filled_exactly(size: tuple[int, int]) -> None:
    async def flow(_: TimelineApp, timeline: Timeline, __: Pilot[None]) -> None:
        lines = [timeline.render_line(y) for y in range(timeline.size.height)]
        assert {cell_len(line.text) for line in lines} <= {timeline.size.width}

    in_app(season(*ROWS), flow, size)


def test_a_row_shows_how_full_the_tank_was_and_where_that_is_unsure() -> None:
    def level_on(day: date) -> tuple[float, float] | None:
        if day.month == 1:
            return None
        return (1.0, 0.1) if day < date(2026, 3, 1) else (0.05 if day.month < 5 else 0.5, 0.4)

    text = row_text(season(Row("a", "A", level_on=level_on), windows=()))
    assert text[: column(date(2026, 2, 1))].strip(" ┊") == ""
    february = text[column(date(2026, 2, 2)) : column(date(2026, 3, 1))]
    assert set(february) == {"█"}
    assert set(text[column(date(2026, 3, 2)) : column(date(2026, 4, 1))]) == {"▁", "~"}
    assert "~▅~▅" in text[column(date(2026, 5, 2)) :]
    over = Span(date(2026, 2, 3), date(2026, 2, 4), "contaminated", "out of use")
    covered = row_text(season(Row("a", "A", (), (over,), level_on=level_on), windows=()))
    assert covered[column(over.first) : column(over.last) + 1] == 2 * SPAN_GLYPHS["contaminated"]


def test_quiet_weeks_are_shaded_in_the_rows() -> None:
    quiet = Window(date(2026, 10, 19), date(2026, 11, 17), "quiet", "q", shaded=True)
    data = season(Row("a", "A"), windows=(quiet, FILL))
    runs = paint_row(data, data.axis(1), data.rows[0]).runs(0)
    shaded = sum(len(run.text) for run in runs if run.ground == "shaded")
    assert shaded == (quiet.last - quiet.first).days + 1


def test_a_short_name_stands_out_beyond_its_days() -> None:
    short = Window(date(2026, 9, 15), date(2026, 9, 25), "Ready by late September", "Ready")
    after = Window(date(2026, 10, 8), date(2026, 10, 18), "fill", "Fill")
    axis = season(Row("a", "A")).axis(7)
    assert lanes_of((short, after), axis) == [[short], [after]]
    assert lanes_of((short, after), season(Row("a", "A")).axis(1)) == [[short, after]]
    lines = header_lines(season(Row("a", "A"), windows=(short, after)), 7, 30, 20)
    assert "Ready" in lines[2]
    assert "Fill" in lines[3]
