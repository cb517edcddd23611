"""A chart beside a list: the list holds the focus, keys of the screen move the chart."""

from __future__ import annotations

from textual.binding import Binding, BindingType

from tui.base.board_screen import BoardScreen
from tui.widgets.level_chart import LevelChart


class StationChart(LevelChart, can_focus=False, inherit_bindings=False):
    """A chart that leaves focus to the list beside it."""


def chart_keys(of: str) -> list[BindingType]:
    """The keys of a `ChartScreen`, under the name `of` its bindings begin with."""
    return [
        Binding("left", "chart_days(-1)", "Day before", show=False, id=f"{of}.day_before",
                tooltip="Move the chart's cursor a day back"),
        Binding("right", "chart_days(1)", "Day after", show=False, id=f"{of}.day_after",
                tooltip="Move the chart's cursor a day on"),
        Binding("shift+left,left_square_bracket", "chart_months(-1)", "Month before", show=False,
                key_display="[", id=f"{of}.month_before",
                tooltip="Move the chart's cursor a month back"),
        Binding("shift+right,right_square_bracket", "chart_months(1)", "Month after", show=False,
                key_display="]", id=f"{of}.month_after",
                tooltip="Move the chart's cursor a month on"),
        Binding("d", "chart_today", "To today", show=False, id=f"{of}.today",
                tooltip="Move the chart's cursor to today"),
        Binding("plus,equals_sign", "chart_zoom(-1)", "Nearer", show=False, key_display="+",
                id=f"{of}.nearer", tooltip="Show fewer days of the chart, wider"),
        Binding("minus", "chart_zoom(1)", "Farther", show=False, key_display="-",
                id=f"{of}.farther", tooltip="Show more days of the chart, narrower"),
    ]  # fmt: skip


class ChartScreen(BoardScreen):
    """Moves the cursor of its chart."""

    @property
    def _chart(self) -> StationChart:
        return self.query_one(StationChart)

    def action_chart_days(self, days: int) -> None:
        self._chart.action_move_days(days)

    def action_chart_months(self, months: int) -> None:
        self._chart.action_move_months(months)

    def action_chart_today(self) -> None:
        self._chart.action_today()

    def action_chart_zoom(self, steps: int) -> None:
        self._chart.action_zoom(steps)
