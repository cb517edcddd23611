"""A list that may be drawn anew, or have no room, while keys and clicks come in."""

from __future__ import annotations

from textual import events
from textual.widgets import OptionList

PAGES = ("page_up", "page_down")


class SteadyList(OptionList):
    """Takes no paging without room for a line, and no click on a line that is gone by now."""

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        if action in PAGES and not self.scrollable_content_region:
            return False
        return super().check_action(action, parameters)

    def on_click(self, event: events.Click) -> None:
        if event.style.meta.get("option", 0) >= max(self.option_count, 1):
            event.stop()
            event.prevent_default()
