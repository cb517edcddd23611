"""Cautions in full, with what is not to be done and what needs no treatment."""

from __future__ import annotations

from collections.abc import Iterable

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Footer, Static

from store.season.cautions import ESCAPE_RAMP, NEEDS_NO_TREATMENT, NOT_TO_BE_DONE, Caution
from tui.base.board_screen import BoardScreen
from tui.base.caution_words import LOCAL_RULES, caution_text


class AdviceScreen(BoardScreen):
    """The cautions given first, then what holds for every tank."""

    CSS_PATH = "advice.tcss"

    def __init__(self, cautions: tuple[Caution, ...] = ()) -> None:
        super().__init__()
        self._cautions = tuple(one for one in cautions if one not in NOT_TO_BE_DONE)

    def compose(self) -> ComposeResult:
        yield Static(LOCAL_RULES, id="status")
        with VerticalScroll(id="told"):
            parts = (
                ("For this event", self._cautions),
                ("Not to be done", NOT_TO_BE_DONE),
                ("What needs no treatment", NEEDS_NO_TREATMENT),
                ("So that the next animal gets out", (ESCAPE_RAMP,)),
            )
            yield Static(Text("\n\n").join(_part(*part) for part in parts if part[1]))
        yield Footer()

    def on_mount(self) -> None:
        self.query_one("#told").focus()


def _part(title: str, cautions: Iterable[Caution]) -> Text:
    lines = (caution_text(caution, sources=True) for caution in cautions)
    return Text("\n").join([Text(title, "bold underline"), *lines])
