"""A chart beside a list: the list holds the focus, keys of the screen move the chart."""

from __future__ import annotations

from textual.binding import Binding, BindingType

from tui.base.board_screen import BoardScreen
from tui.key_table import bind
from tui.widgets.axis import axis_key
from tui.widgets.level_chart import LevelChart


def chart_keys(of: str) -> list[BindingType]:
    """The keys of a `ChartScreen`; their ids begin with `of`."""
    return [
        Binding("left", "chart_days(-1)", "Day before", show=False, id=f"{of}.day_before",
                tooltip="Move the chart's cursor a day back"),
        Binding("right", "chart_days(1)", "Day after", show=False, id=f"{of}.day_after",
                tooltip="Move the chart's cursor a day on"),
        axis_key("month_before", "chart_months(-1)", of, "Move the chart's cursor a month back"),
        axis_key("month_after", "chart_months(1)", of, "Move the chart's cursor a month on"),
        bind("day", "chart_day", "Day", show=False, id=f"{of}.day",
             tooltip="Type the day that the chart's cursor goes to; Enter alone is today"),
        axis_key("nearer", "chart_zoom(-1)", of, "Show fewer days of the chart, wider"),
        axis_key("farther", "chart_zoom(1)", of, "Show more days of the chart, narrower"),
    ]  # fmt: skip


class ChartScreen(BoardScreen):
    """Moves the cursor of its chart."""

    @property
    def _chart(self) -> LevelChart:
        return self.query_one(LevelChart)

    def action_chart_days(self, days: int) -> None:
        self._chart.move_days(days)

    def action_chart_months(self, months: int) -> None:
        self._chart.move_months(months)

    def action_chart_day(self) -> None:
        data = self._chart.data
        if data is not None:
            self.ask_day(data.first_day, data.last_day, self._chart.move_to)

    def action_chart_zoom(self, steps: int) -> None:
        self._chart.zoom(steps)
