"""Whether a screen is open, and leaving it."""

from __future__ import annotations

from typing import Any, TypeVar

from textual.app import App
from textual.screen import Screen

T = TypeVar("T")
Node = App[Any] | Screen[Any]


def is_open(node: Node) -> bool:
    """Whether the application runs and, of a screen, it was not left."""
    if isinstance(node, App):
        return node.is_running
    return node.app.is_running and node in node.app.screen_stack


def close(screen: Screen[T], answer: T | None = None) -> None:
    """Leave a screen, and what is open over it; nothing happens where it was left before.

    A screen that is still being put together is left once it is: its parts would be taken
    away under the hands that build it.
    """
    if not is_open(screen):
        return
    stack = screen.app.screen_stack
    going = stack[stack.index(screen) :]
    unfinished = [one for one in going if not one.is_mounted]
    if unfinished:
        unfinished[-1].call_later(close, screen, answer)
        return
    for _ in going[1:]:
        screen.app.pop_screen()
    screen.dismiss(answer)
