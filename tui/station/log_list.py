"""The list of a station's log lines."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widgets import OptionList


class LogList(OptionList, inherit_bindings=False):
    """Long lines wrap, so the arrows across are left to the chart above."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "cursor_up", "Newer entry", show=False, id="log.up",
                tooltip="Move to the entry above"),
        Binding("down", "cursor_down", "Older entry", show=False, id="log.down",
                tooltip="Move to the entry below"),
        Binding("pageup", "page_up", "Page up", show=False, id="log.page_up",
                tooltip="Move up a page of the log"),
        Binding("pagedown", "page_down", "Page down", show=False, id="log.page_down",
                tooltip="Move down a page of the log"),
        Binding("home", "first", "Newest", show=False, id="log.first",
                tooltip="Move to the newest entry"),
        Binding("end", "last", "Oldest", show=False, id="log.last",
                tooltip="Move to the oldest entry"),
    ]  # fmt: skip
