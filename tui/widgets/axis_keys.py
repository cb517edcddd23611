"""The keys that move along days and spread them, the same for timeline and chart."""

from __future__ import annotations

from textual.binding import Binding

_KEYS = {
    "month_before": ("shift+left,left_square_bracket", "[", "Month before"),
    "month_after": ("shift+right,right_square_bracket", "]", "Month after"),
    "nearer": ("plus,equals_sign", "+", "Nearer"),
    "farther": ("minus", "-", "Farther"),
}


def axis_key(name: str, action: str, of: str, tooltip: str) -> Binding:
    """The binding of one of these keys; its id is `name` after `of`."""
    keys, shown, label = _KEYS[name]
    return Binding(
        keys, action, label, show=False, key_display=shown, id=f"{of}.{name}", tooltip=tooltip
    )
