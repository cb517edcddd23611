"""The key of a binding, as cards and sentences write it."""

from __future__ import annotations

from collections.abc import Iterable

from textual.binding import Binding, BindingType

_NAMES = {"escape": "Esc", "enter": "Enter", "tab": "Tab", "pagedown": "PgDn", "f2": "F2"}


def key_of(bindings: Iterable[BindingType], action: str, argument: str | int | None = None) -> str:
    """The key of an action, with its argument, that one of the bindings has.

    Raises:
        LookupError: none has it.
    """
    wanted = action if argument is None else f"{action}({argument!r})"
    for one in bindings:
        if isinstance(one, Binding) and one.action == wanted:
            key = one.key.split(",")[0]
            return one.key_display or _NAMES.get(key, key)
    raise LookupError(wanted)
