"""The level chart: what is painted where, and the keys."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta

import pytest
from rich.cells import cell_len
from textual.app import App, ComposeResult
from textual.pilot import Pilot

from tests.tui.driving import drive
from tui.widgets.chart_data import ChartData, ChartMark, ChartReading, Threshold, describe
from tui.widgets.chart_painting import axis_ticks, paint_chart
from tui.widgets.level_chart import LevelChart

FIRST = date(2026, 9, 1)
TODAY = date(2026, 9, 21)


def chart_data(**changes: object) -> ChartData:
    values = tuple(float(min(30, day)) for day in range(60))
    data = ChartData(
        first_day=FIRST,
        values=values,
        today=TODAY,
        at_rim=0.0,
        at_bottom=30.0,
        y_label="in below the rim",
        low=tuple(value + 3 for value in values),
        high=tuple(value - 3 for value in values),
        readings=(ChartReading(date(2026, 9, 11), 2.0),),
        marks=(
            ChartMark(date(2026, 9, 6), "R", "raked [all]"),
            ChartMark(date(2026, 10, 4), "F", "filled"),
        ),
        thresholds=(Threshold(24.0, "low 水"),),
    )
    return replace(data, **changes)  # type: ignore[arg-type]


def painted(data: ChartData, step: int = 1, start: int = 0, shaded: bool = False) -> list[str]:
    canvas = paint_chart(data, data.axis(step), start, 63, 12, shaded=shaded)
    return ["".join(run.text for run in canvas.runs(y)) for y in range(12)]


def test_rim_is_at_the_top_and_the_line_falls() -> None:
    rows = painted(chart_data(low=(), high=(), thresholds=(), marks=(), readings=()))
    assert rows[0].startswith(" 0┤⠉⠢⢄")
    assert rows[9].startswith("30┤ ")
    assert "⠉" in rows[9] or "⠒" in rows[9] or "⣀" in rows[9] or "⡀" in rows[9]


def test_percent_axis_runs_the_other_way() -> None:
    data = chart_data(at_rim=100.0, at_bottom=0.0, values=(100.0, 50.0, 0.0), low=(), high=())
    assert [data.share(value) for value in data.values] == [1.0, 0.5, 0.0]
    assert painted(data)[0].startswith("100┤")


def test_every_row_is_as_wide_as_the_canvas() -> None:
    for step in (1, 2, 7):
        assert {cell_len(row) for row in painted(chart_data(), step)} == {63}


def test_layers() -> None:
    rows = painted(chart_data())
    assert rows[0][3 + 10] == "●"
    assert rows[8].rstrip().endswith("low 水")
    assert "╌╌╌" in rows[8]
    assert rows[5][3 + 5] == "┆"
    assert rows[9][3 + 20] == "│"
    assert "today" in rows[0]
    assert rows[10].strip().startswith("R raked [all]")
    assert "F filled" in rows[10]
    assert rows[11].split() == ["Sep", "2026", "Oct"]


def test_outlook_is_dotted() -> None:
    def columns_of_dots(row: str) -> set[int]:
        masks = [ord(glyph) - 0x2800 for glyph in row if 0x2800 < ord(glyph) < 0x2900]
        return {side for mask in masks for side, bits in ((0, 0x47), (1, 0xB8)) if mask & bits}

    flat = chart_data(values=(5.0,) * 60, low=(), high=(), readings=(), marks=(), thresholds=())
    row = painted(flat)[1]
    assert columns_of_dots(row[3:23]) == {0, 1}
    assert columns_of_dots(row[25:]) == {0}


def test_band_is_a_ground_or_a_shade() -> None:
    data = chart_data()
    canvas = paint_chart(data, data.axis(1), 0, 63, 12)
    assert any(run.ground == "band" for y in range(10) for run in canvas.runs(y))
    assert "░" not in "".join(painted(data))
    assert "░" in "".join(painted(data, shaded=True))


def test_zoomed_out_band_takes_the_extremes_of_its_days() -> None:
    values = (15.0,) * 14
    low = (16.0,) * 10 + (30.0,) + (16.0,) * 3
    data = chart_data(
        first_day=date(2026, 9, 7), values=values, low=low, high=(14.0,) * 14, marks=(), readings=()
    )
    rows = painted(replace(data, thresholds=()), 7, shaded=True)
    assert [row[3:5] for row in rows[6:10]] == [" ░"] * 4


def test_unknown_days_leave_a_gap() -> None:
    values = (5.0,) * 10 + (None,) * 10 + (5.0,) * 40
    data = chart_data(values=values, low=(), high=(), readings=(), marks=(), thresholds=())
    assert painted(data)[1][3 + 11 : 3 + 19].strip() == ""


def test_marks_of_one_column_are_counted() -> None:
    marks = tuple(ChartMark(date(2026, 9, 6), glyph, glyph.lower()) for glyph in "RF")
    assert painted(chart_data(marks=marks))[10].strip() == "2 r, f"


def test_describe_says_all_of_a_day() -> None:
    assert describe(chart_data(), date(2026, 9, 6)) == (
        "Sun 6 Sep 2026  5.0 in below the rim  2.0 to 8.0  R raked [all]"
    )
    assert describe(chart_data(), date(2026, 9, 11)).endswith("read 2.0")
    assert "(outlook)" in describe(chart_data(), date(2026, 9, 22))
    unknown = chart_data(values=(None, *chart_data().values[1:]))
    assert describe(unknown, FIRST).endswith("level not known")


@pytest.mark.parametrize("rows", [2, 9, 27])
def test_ticks_are_round_and_not_crowded(rows: int) -> None:
    ticks = axis_ticks(chart_data(), rows)
    assert ticks[0] == 0
    assert ticks[-1] <= 30
    assert len(ticks) <= rows // 2 + 1


@pytest.mark.parametrize(
    "changes", [{"values": ()}, {"low": (1.0,)}, {"at_rim": 30.0}, {"low": (), "high": (1.0,)}]
)
def test_impossible_data_is_refused(changes: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="level chart"):
        chart_data(**changes)


def test_a_logarithmic_axis_gives_every_tenfold_the_same_height() -> None:
    values = (100.0, 10.0, 1.0, 0.0)
    data = chart_data(
        values=values, low=(), high=(), at_rim=100.0, at_bottom=1.0, is_log=True, thresholds=()
    )
    assert [data.share(value) for value in values] == pytest.approx([1.0, 0.5, 0.0, 0.0])
    for rows in (3, 9, 27):
        ticks = axis_ticks(data, rows)
        assert {1.0, 10.0, 100.0} <= set(ticks)
        assert len(ticks) <= max(3, rows // 2)
    with pytest.raises(ValueError, match="level chart"):
        replace(data, at_bottom=0.0)


class ChartApp(App[None]):
    def __init__(self, data: ChartData | None) -> None:
        super().__init__()
        self.shown = data

    def compose(self) -> ComposeResult:
        yield LevelChart(self.shown)


def test_the_cursor_moves_and_is_read_out() -> None:
    async def flow(pilot: Pilot[None]) -> None:
        chart = pilot.app.query_one(LevelChart)
        moves: list[tuple[Callable[[], None], date]] = [
            (lambda: None, TODAY),
            (lambda: chart.move_days(1), date(2026, 9, 22)),
            (lambda: chart.move_months(-1), FIRST),
            (lambda: chart.move_to(TODAY), TODAY),
            (lambda: chart.move_to(date(2027, 9, 1)), chart_data().last_day),
        ]
        for move, day in moves:
            move()
            assert chart.cursor_day == day
            told = describe(chart_data(), day)
            assert chart.render_line(0).text.rstrip() == told[:78].rstrip()

    drive(ChartApp(chart_data()), flow, (78, 12))


def test_zoom_narrow_view_and_theme() -> None:
    async def flow(pilot: Pilot[None]) -> None:
        chart = pilot.app.query_one(LevelChart)
        assert chart.days_per_column == 2
        chart.zoom(-1)
        assert chart.days_per_column == 1
        chart.move_to(chart_data().last_day)
        rows = [chart.render_line(y) for y in range(12)]
        assert {row.cell_length for row in rows} == {34}
        assert "Oct" in rows[11].text
        assert "┃" in rows[5].text
        before = list(chart.render_line(5))
        pilot.app.theme = "textual-light"
        await pilot.pause()
        assert list(chart.render_line(5)) != before
        chart.load(replace(chart_data(), first_day=date(2027, 1, 1)))
        assert chart.cursor_day == date(2027, 1, 1)

    drive(ChartApp(chart_data()), flow, (34, 12))


def test_without_data_nothing_is_drawn() -> None:
    async def flow(pilot: Pilot[None]) -> None:
        chart = pilot.app.query_one(LevelChart)
        chart.move_days(1)
        chart.zoom(-1)
        chart.move_to(TODAY)
        assert chart.render_line(3).text.strip() == ""
        chart.load(chart_data())
        assert chart.cursor_day == TODAY
        assert chart.render_line(0).text.startswith("Mon 21 Sep 2026")
        chart.move_to(TODAY + timedelta(days=999))
        assert chart.cursor_day == chart_data().last_day

    drive(ChartApp(None), flow, (40, 12))


@pytest.mark.parametrize("size", [(2, 2), (5, 3), (20, 6), (200, 50)])
def test_any_size_is_filled_exactly(size: tuple[int, int]) -> None:
    async def flow(pilot: Pilot[None]) -> None:
        chart = pilot.app.query_one(LevelChart)
        lines = [chart.render_line(y) for y in range(chart.size.height)]
        assert {cell_len(line.text) for line in lines} == {chart.size.width}

    drive(ChartApp(chart_data()), flow, size)


def test_a_chart_that_grows_is_drawn_before_it_is_told() -> None:
    """The compositor may ask for the new rows before the resize is handled."""

    async def flow(pilot: Pilot[None]) -> None:
        chart = pilot.app.query_one(LevelChart)
        chart.render_line(5)
        await pilot.resize_terminal(40, 20)
        chart._strips = chart._strips[:3]
        assert chart.render_line(15).cell_length == 40

    drive(ChartApp(chart_data()), flow, (40, 12))


def test_data_may_come_before_the_widget_is_mounted() -> None:
    async def flow(pilot: Pilot[None]) -> None:
        chart = LevelChart()
        chart.load(chart_data())
        await pilot.app.query_one(LevelChart).remove()
        await pilot.app.mount(chart)
        await pilot.pause()
        assert chart.render_line(0).text.startswith("Mon 21 Sep 2026")

    drive(ChartApp(None), flow, (78, 12))


@pytest.mark.parametrize("level", [0.0, 24.0])
def test_no_label_covers_the_level(level: float) -> None:
    """On the row of `today`, and on that of the threshold, the level runs all the way."""
    bare = chart_data(values=(level,) * 60, low=(), high=(), marks=(), readings=())
    data = replace(bare, thresholds=(Threshold(24.0, "dry"),))
    without, labelled = (
        paint_chart(one, one.axis(1), 0, 63, 12) for one in (replace(data, thresholds=()), data)
    )
    row = next(y for y in range(10) if without.ink(10, y) == "median")
    inks = {labelled.ink(x, row) for x in range(3, 63)}
    assert inks == {"median", "future"}
    text = "".join(run.text for y in range(10) for run in labelled.runs(y))
    assert "dry" in text
    assert "today" in text


def test_a_label_that_finds_no_free_place_is_left_out() -> None:
    rising = tuple(float(day % 30) for day in range(60))
    data = chart_data(values=rising, low=(), high=(), marks=(), readings=())
    for threshold in (0.0, 15.0, 29.0):
        one = replace(data, thresholds=(Threshold(threshold, "x" * 60),))
        canvas = paint_chart(one, one.axis(1), 0, 63, 12)
        bare = paint_chart(replace(one, thresholds=()), one.axis(1), 0, 63, 12)
        cells = [(x, y) for x in range(3, 63) for y in range(10)]
        level = {cell for cell in cells if bare.ink(*cell) in ("median", "future")}
        assert all(canvas.ink(*cell) in ("median", "future") for cell in level)


def test_a_doubted_reading_has_a_sign_of_its_own_and_says_why() -> None:
    day = date(2026, 9, 11)
    data = chart_data(readings=(ChartReading(day, 2.0, "the wrong tank?"),))
    assert any("?" in row for row in painted(data)[:10])
    assert not any("?" in row for row in painted(chart_data())[:10])
    assert "read 2.0, doubted: the wrong tank?" in describe(data, day)


def test_the_day_asked_for_outlives_a_chart_that_does_not_reach_it() -> None:
    chart = LevelChart(chart_data())
    chart.load(chart_data(first_day=date(2020, 1, 1)))
    assert chart.cursor_day < TODAY
    chart.load(chart_data())
    assert chart.cursor_day == TODAY
