"""The keys that work on every screen, and the key of a binding as sentences write it."""

from __future__ import annotations

from collections.abc import Iterable

from textual.binding import Binding, BindingType

from tui.key_table import NAMES, bind


def key_of(bindings: Iterable[BindingType], action: str, argument: str | int | None = None) -> str:
    """The key of an action, with its argument, that one of the bindings has.

    Raises:
        LookupError: none has it.
    """
    wanted = action if argument is None else f"{action}({argument!r})"
    for one in bindings:
        if isinstance(one, Binding) and one.action == wanted:
            key = one.key.split(",")[0]
            return one.key_display or NAMES.get(key, key)
    raise LookupError(wanted)


def row_keys(of: str, row: str) -> list[BindingType]:
    """The keys through the rows of a table; their ids begin with `of`, `row` says of what."""
    return [
        Binding("up", "cursor_up", "Above", show=False, id=f"{of}.up",
                tooltip=f"Move to the {row} above"),
        Binding("down", "cursor_down", "Below", show=False, id=f"{of}.down",
                tooltip=f"Move to the {row} below"),
        Binding("home", "scroll_top", "First", show=False, id=f"{of}.first",
                tooltip=f"Move to the first {row}"),
        Binding("end", "scroll_bottom", "Last", show=False, id=f"{of}.last",
                tooltip=f"Move to the last {row}"),
    ]  # fmt: skip


def page_keys(of: str, page: str) -> list[BindingType]:
    """The keys through a table or list by pages; `page` is 'a page', or a page of what."""
    return [
        Binding("pageup", "page_up", "Page up", show=False, id=f"{of}.page_up",
                tooltip=f"Move up {page}"),
        Binding("pagedown", "page_down", "Page down", show=False, id=f"{of}.page_down",
                tooltip=f"Move down {page}"),
    ]  # fmt: skip


APP_KEYS: list[BindingType] = [
    bind("help", "help", "Help", id="app.help",
         tooltip="Show every key of this screen and what it does"),
    bind("undo", "undo", "Undo", show=False, id="app.undo",
         tooltip="Take back what was saved last; press again to go further back"),
    bind("redo", "redo", "Redo", show=False, id="app.redo",
         tooltip="Put back what was undone last"),
    bind("units", "switch_units", "Units", show=False, id="app.units",
         tooltip="Switch between US and metric units"),
    bind("theme", "switch_theme", "Light", show=False, id="app.theme",
         tooltip="Switch between dark and light colours"),
    Binding("ctrl+p", "command_palette", "Find an action", show=False, id="app.palette",
            tooltip="Find an action of this screen by its words, and do it"),
    bind("quit", "quit", "Quit", id="app.quit", tooltip="Leave Brimbook; all is saved"),
]  # fmt: skip
HELP_KEY, UNDO_KEY = key_of(APP_KEYS, "help"), key_of(APP_KEYS, "undo")
