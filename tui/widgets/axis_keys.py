"""The keys that move along an axis of days, the same in the timeline and the chart."""

from __future__ import annotations

from textual.binding import Binding, BindingType


def month_keys(of: str) -> list[BindingType]:
    """A month back and on; `of` is what the names of the bindings begin with."""
    return [
        Binding("shift+left,left_square_bracket", "move_months(-1)", "Month before", show=False,
                id=f"{of}.month_before", tooltip="Move a month back"),
        Binding("shift+right,right_square_bracket", "move_months(1)", "Month after", show=False,
                id=f"{of}.month_after", tooltip="Move a month on"),
    ]  # fmt: skip


def span_keys(of: str) -> list[BindingType]:
    """To the ends and to today, and how many days are seen."""
    return [
        Binding("home", "first_day", "First day", show=False, id=f"{of}.first_day",
                tooltip=f"Move to the first day of the {of}"),
        Binding("end", "last_day", "Last day", show=False, id=f"{of}.last_day",
                tooltip=f"Move to the last day of the {of}"),
        Binding("plus,equals_sign", "zoom(-1)", "Nearer", show=False, key_display="+",
                id=f"{of}.nearer", tooltip="Fewer days a column"),
        Binding("minus", "zoom(1)", "Farther", show=False, key_display="-", id=f"{of}.farther",
                tooltip="More days a column"),
        Binding("t", "today", "Today", id=f"{of}.today", tooltip="Move back to today"),
    ]  # fmt: skip
