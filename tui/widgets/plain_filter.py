"""Puts whatever a screen draws in plain characters, on its way to the terminal."""

from __future__ import annotations

from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter
from textual.widget import Widget

from tui.widgets.signs import Signs, plain

_GRAB, _SCROLL = "grab", ("scroll_up", "scroll_down")


class PlainFilter(LineFilter):
    """Changes characters alone; a scrollbar is drawn in signs, for there may be no colours."""

    def __init__(self, signs: Signs) -> None:
        super().__init__(enabled=signs is not Signs.ALL)
        self._signs = signs

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:  # noqa: ARG002
        return [self._applied(segment) for segment in segments]

    def _applied(self, segment: Segment) -> Segment:
        text, style, control = segment
        mouse = style.meta.get("@mouse.down") if style is not None and not control else None
        if mouse == _GRAB:
            return Segment("#" * len(text), style)
        if mouse in _SCROLL:
            return Segment(":" * len(text), style)
        return Segment(plain(text, self._signs), style, control)


def in_plain_signs(widget: Widget) -> bool:
    """Whether what the widget draws goes out in plain characters."""
    return any(isinstance(one, PlainFilter) for one in widget.get_line_filters())
