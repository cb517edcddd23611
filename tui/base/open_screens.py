"""Whether a screen is open, and leaving it."""

from __future__ import annotations

from typing import Any, TypeVar

from textual.app import App
from textual.screen import Screen

T = TypeVar("T")
Node = App[Any] | Screen[Any]


def is_open(node: Node) -> bool:
    """Whether the application runs and, of a screen, it was not left."""
    return node.is_running and (isinstance(node, App) or node in node.app.screen_stack)


def close(screen: Screen[T], answer: T | None = None) -> None:
    """Leave a screen, and what is open over it; nothing happens where it was left before."""
    if is_open(screen):
        while screen.app.screen is not screen:
            screen.app.pop_screen()
        screen.dismiss(answer)
