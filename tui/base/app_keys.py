"""The keys that work on every screen."""

from __future__ import annotations

from textual.binding import Binding, BindingType

from tui.base.key_names import key_of

APP_KEYS: list[BindingType] = [
    Binding("question_mark", "help", "Help", key_display="?", id="app.help",
            tooltip="Show every key of this screen and what it does"),
    Binding("u", "undo", "Undo", show=False, id="app.undo",
            tooltip="Take back what was saved last; press again to go further back"),
    Binding("U", "redo", "Redo", show=False, id="app.redo",
            tooltip="Put back what was undone last"),
    Binding("m", "switch_units", "Units", show=False, id="app.units",
            tooltip="Switch between US and metric units"),
    Binding("L", "switch_theme", "Light", show=False, id="app.theme",
            tooltip="Switch between dark and light colours"),
    Binding("q", "quit", "Quit", id="app.quit", tooltip="Leave Brimbook; all is saved"),
]  # fmt: skip
HELP_KEY, UNDO_KEY = key_of(APP_KEYS, "help"), key_of(APP_KEYS, "undo")
