"""A chart beside a list that holds the focus."""

from __future__ import annotations

from tui.widgets.level_chart import LevelChart


class StationChart(LevelChart, can_focus=False, inherit_bindings=False):
    """A chart that leaves focus to the list beside it; the screen moves its cursor."""
