"""The line at the foot of a screen that names its keys; a click on one does what it does."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from rich.text import Text
from textual import events
from textual.app import RenderResult
from textual.reactive import reactive
from textual.screen import Screen
from textual.widget import Widget


@dataclass(frozen=True)
class ShownKey:
    """A key as the line shows it; `works` is False while it does nothing."""

    key: str
    display: str
    words: str
    tooltip: str
    works: bool

    @property
    def width(self) -> int:
        return len(self.display) + len(self.words) + 3


class KeyLine(Widget):
    """The shown bindings of the screen, drawn in one line and anew only when they change.

    One widget, for a widget a key, made again whenever a field opens, was a fifth of what a
    key press cost.
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = {"key-line--key", "key-line--words", "key-line--off"}
    DEFAULT_CSS = """
    KeyLine {
        dock: bottom;
        height: 1;
        background: $footer-background;
        color: $footer-foreground;
        text-wrap: nowrap;
        text-overflow: clip;
        .key-line--key {
            color: $footer-key-foreground;
            background: $footer-key-background;
            text-style: bold;
        }
        .key-line--words {
            color: $footer-description-foreground;
            background: $footer-description-background;
        }
        .key-line--off { text-style: dim; }
        &:hover { pointer: pointer; }
    }
    """

    shown: reactive[tuple[ShownKey, ...]] = reactive(())

    def on_mount(self) -> None:
        self.screen.bindings_updated_signal.subscribe(self, self._bindings_changed)

    def on_unmount(self) -> None:
        self.screen.bindings_updated_signal.unsubscribe(self)

    def _bindings_changed(self, screen: Screen[object]) -> None:
        if self.is_attached and screen is self.screen and self.app.app_focus:
            self.shown = self._shown_now(screen)

    def _shown_now(self, screen: Screen[object]) -> tuple[ShownKey, ...]:
        """The first key of each action that is to be shown, in the order they were bound."""
        by_action: dict[str, ShownKey] = {}
        for _, binding, enabled, tooltip in screen.active_bindings.values():
            if binding.show and binding.action not in by_action:
                by_action[binding.action] = ShownKey(
                    binding.key,
                    self.app.get_key_display(binding),
                    binding.description,
                    tooltip or binding.description,
                    enabled,
                )
        return tuple(by_action.values())

    def render(self) -> RenderResult:
        key_style = self.get_component_rich_style("key-line--key")
        words_style = self.get_component_rich_style("key-line--words")
        off_style = self.get_component_rich_style("key-line--off", partial=True)
        line = Text(no_wrap=True, end="")
        for one in self.shown:
            part = Text.assemble((f" {one.display} ", key_style), (f"{one.words} ", words_style))
            if not one.works:
                part.stylize(off_style)
            line.append_text(part)
        return line

    def key_at(self, x: int) -> ShownKey | None:
        """The key drawn at a column; None to the right of the last one."""
        for one in self.shown:
            if 0 <= x < one.width:
                return one
            x -= one.width
        return None

    def on_mouse_move(self, event: events.MouseMove) -> None:
        here = self.key_at(event.x)
        self.tooltip = here.tooltip if here else None

    def on_mouse_down(self, event: events.MouseDown) -> None:
        here = self.key_at(event.x)
        if here is None:
            return
        if here.works:
            self.app.simulate_key(here.key)
        else:
            self.app.bell()
