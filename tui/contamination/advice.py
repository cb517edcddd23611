"""The cautions beside an event, and on a screen of their own in full."""

from __future__ import annotations

from collections.abc import Iterable

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from store.model.recovery import EventRecovery
from store.season.cautions import (
    ESCAPE_RAMP,
    NEEDS_NO_TREATMENT,
    NOT_TO_BE_DONE,
    Caution,
    contamination_cautions,
    not_to_be_done,
)
from tui.base.board_screen import BoardScreen
from tui.base.key_line import KeyLine
from tui.words import LOCAL_RULES, caution_text


def cautions_of(found: EventRecovery) -> tuple[Caution, ...]:
    """The cautions for this cause, then its don'ts, without repeats."""
    cause, bears = found.event.cause, found.station.bear_country
    cautions = contamination_cautions(cause, bear_country=bears)
    return tuple(dict.fromkeys((*cautions, *not_to_be_done(cause))))


def caution_names(found: EventRecovery, key: str) -> Text:
    """The cautions by name on one line, with the key that shows them in full."""
    never = not_to_be_done(found.event.cause)
    named = ", ".join(one.subject for one in cautions_of(found) if one not in never)
    donts = ", ".join(one.subject for one in never)
    return Text(f"Cautions ({key}): {named}" + (f"; never: {donts}" if donts else ""))


def cautions_in_full(found: EventRecovery) -> Text:
    told = (caution_text(caution, sources=True) for caution in cautions_of(found))
    return Text("\n").join([Text(LOCAL_RULES, "bold"), *told])


class AdviceScreen(BoardScreen):
    """Shows the cautions it is given, then what holds for every tank."""

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
        yield KeyLine()

    def on_mount(self) -> None:
        self.query_one("#told").focus()


def _part(title: str, cautions: Iterable[Caution]) -> Text:
    lines = (caution_text(caution, sources=True) for caution in cautions)
    return Text("\n").join([Text(title, "bold underline"), *lines])
