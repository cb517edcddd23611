"""The points of a site, answered one by one, with what a weak one costs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import DataTable, Static

from store.errors import BadValue
from store.model.board import Board
from store.plain_data import from_plain, to_plain
from store.season.cautions import OPEN_WATER
from store.season.site import SITE_POINTS, SitePoint
from store.units import Units
from store.views.install_water import WATER_HINT, install_water_l
from store.views.site_check import SiteState, answers_of, capacity_of, site_drafts, site_state
from tui import words
from tui.base.field_screen import FieldScreen
from tui.base.key_line import KeyLine
from tui.base.keys import row_keys
from tui.base.table import SCROLLBAR, Column, KeyedTable
from tui.base.typed_field import AMOUNT, FieldTyped, TypedField
from tui.key_table import bind

ANSWERS = {True: "yes", False: "NO", None: "?"}


class PointTable(KeyedTable[SitePoint], inherit_bindings=False):
    """The points in the order they are walked past."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *row_keys("site", "point"),
    ]  # fmt: skip


@dataclass(frozen=True)
class SiteTyped:
    """Answers by point, and whether the tank was dug in today, with which water.

    `field` is what stands in the field that asks for it, where that is open.
    """

    answers: Mapping[str, bool | None]
    installed: bool
    water_l: float | None = None
    field: FieldTyped | None = None


class SiteCheckScreen(FieldScreen):
    """Nothing is written before `s`; the answers of the last look are shown to begin with."""

    CSS_PATH = "screen.tcss"
    from_the_log = True
    where = "site_check"
    BINDINGS: ClassVar[list[BindingType]] = [
        bind("yes", "answer(True)", "Yes", id="site.yes",
             tooltip="The point at the cursor is as it should be; go on to the next"),
        bind("no", "answer(False)", "No", id="site.no",
             tooltip="The point at the cursor is weak; go on to the next"),
        bind("take_out", "answer(None)", "Not looked", id="site.clear",
             tooltip="The point at the cursor was not looked at"),
        bind("new", "install", "Installed", id="site.install",
             tooltip="The tank was dug in today, with how much water; again takes it back"),
        bind("save", "save", "Save", id="site.save", tooltip="Save the answers"),
    ]  # fmt: skip

    def __init__(self, station_id: str) -> None:
        super().__init__()
        self._station_id = station_id
        self._answers: dict[str, bool | None] = {}
        self._state: SiteState | None = None
        self._installed = False
        self._water_l: float | None = None
        self._had_tank = False

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="status", markup=False)
        yield PointTable()
        yield Static(id="cost", markup=False)
        yield TypedField(id="field")
        yield KeyLine()

    def on_mount(self) -> None:
        self.set_focus(self._table)

    @property
    def _table(self) -> PointTable:
        return self.query_one(PointTable)

    @property
    def station_id(self) -> str | None:
        return self._station_id

    def show(self, board: Board) -> None:
        snapshot = board.snapshot
        if self._station_id not in snapshot.places.stations:
            self._state = None
            self.query_one("#status", Static).update("This station is no longer in the logbook.")
            return
        before = self._state
        self._state = site_state(snapshot, self._station_id)
        if before is None or not self._changed(before):
            self._answers = answers_of(self._state.check)
        self._had_tank = snapshot.histories[self._station_id].install_logged
        self._draw()
        if before is None:
            self.offer_unsaved()

    def _changed(self, state: SiteState) -> bool:
        return self._answers != answers_of(state.check)

    def _draw(self) -> None:
        board = self.brimbook.board
        if board is None or self._state is None:
            return
        places = board.snapshot.places
        if self._station_id not in places.stations:
            return
        label = places.label(places.stations[self._station_id])
        weak = sum(answer is False for answer in self._answers.values())
        open_points = sum(answer is None for answer in self._answers.values())
        units = board.snapshot.units
        dug = f"   dug in today, {_water(self._water_l, units)}" if self._installed else ""
        text = f"The site of {label}   {weak} weak, {open_points} not looked at{dug}"
        self.query_one("#status", Static).update(text)
        room = max(self.app.size.width - 5 - SCROLLBAR, 20)
        columns: tuple[Column[SitePoint], ...] = (
            Column("", 5, lambda point: self._answer_text(point)),
            Column("As it should be", room, lambda point: Text(point.question)),
        )
        self._table.fill(columns, {point.name: point for point in SITE_POINTS})
        self._show_cost()

    def _answer_text(self, point: SitePoint) -> Text:
        answer = self._answers.get(point.name)
        return Text(ANSWERS[answer], "bold" if answer is False else "")

    @on(DataTable.RowHighlighted)
    def _show_cost(self) -> None:
        state = self._state
        here = next((point for point in SITE_POINTS if point.name == self._table.here), None)
        if here is None or state is None:
            return
        lines = [Text.assemble((f"{here.question}. ", "bold"), f"If not: {here.cost}")]
        lines += [
            Text(f"! {point.question}: no, by its measures. {point.cost}")
            for point in state.weak
            if point not in SITE_POINTS
        ]
        if self._installed:
            lines.append(words.caution_text(OPEN_WATER))
        if here.name == "asked":
            lines += [words.caution_text(caution) for caution in state.cautions[:1]]
        lines.append(Text(words.LOCAL_RULES, "bold"))
        self.query_one("#cost", Static).update(Text("\n").join(lines))

    def action_answer(self, answer: bool | None) -> None:
        here = self._table.here
        if here is not None:
            self._answers[here] = answer
            self._draw()
            self._table.action_cursor_down()

    def action_install(self) -> None:
        if self._had_tank:
            self.brimbook.say("The log has the install of this tank already.")
            return
        self._installed, self._water_l = not self._installed, None
        if self._installed:
            self._ask_water()
        self._draw()

    def _ask_water(self) -> None:
        board = self.brimbook.board
        if board is not None:
            name = board.snapshot.units.volume_name
            self.field.ask("water", f"Water in it, {name}", only=AMOUNT)
            self.field.say(f"{WATER_HINT[0].upper()}{WATER_HINT[1:]}.")

    def check(self, asking: str, text: str) -> None:
        if asking == "water":
            self._water_typed(text)

    def _water_typed(self, text: str) -> float | None:
        board = self.brimbook.board
        station = board and board.snapshot.places.stations.get(self._station_id)
        if board is None or not station:
            return None
        return install_water_l(text, board.snapshot.units, capacity_of(station))

    async def entered(self) -> None:
        self.taken()

    def taken(self) -> bool:
        if self.field.asking is None:
            return True
        try:
            self._water_l = self._water_typed(self.field.text)
        except BadValue as error:
            self.field.say(f"{error}.")
            return False
        self.field.close()
        self.set_focus(self._table)
        self._draw()
        return True

    def redraw(self) -> None:
        if self.field.asking is None:
            self.set_focus(self._table)
        self._draw()

    @property
    def about(self) -> str:
        return self._station_id

    def typed(self) -> Mapping[str, Any] | None:
        if self.unsaved() is None:
            return None
        now = SiteTyped(self._answers, self._installed, self._water_l, self.field.typed)
        typed: Mapping[str, Any] = to_plain(now)
        return typed

    def typed_title(self) -> str:
        board = self.brimbook.board
        station = board and board.snapshot.places.stations.get(self._station_id)
        return f"What was found at the site of {station.name if station else 'a station'}"

    def take_up(self, typed: Mapping[str, Any]) -> None:
        kept = from_plain(SiteTyped, typed)
        known = {point.name for point in SITE_POINTS}
        self._answers |= {name: kept.answers[name] for name in known & set(kept.answers)}
        self._installed = kept.installed and not self._had_tank
        if self._installed:
            self._water_l = kept.water_l
            if kept.field is not None:
                self.field.ask_again(kept.field, {"water": self._ask_water})
        self._draw()

    def unsaved(self) -> str | None:
        if self._state is None or not (self._changed(self._state) or self._installed):
            return None
        return "What was found at the site"

    async def saved(self) -> bool:
        board, state = self.brimbook.board, self._state
        if board is None or state is None or not self.taken():
            return False
        if self._station_id not in board.snapshot.places.stations:
            self.brimbook.say("This station is no longer in the logbook; nothing was saved.")
            return False
        drafts = site_drafts(
            board.snapshot,
            state,
            self._answers,
            installed=self._installed,
            water_l=self._water_l,
        )
        if not drafts:
            self.brimbook.say("Nothing is entered yet, so there is nothing to save.")
            return False
        label = board.snapshot.places.label(board.snapshot.places.stations[self._station_id])
        done = "site looked at, tank installed" if self._installed else "site looked at"
        return await self.brimbook.save(f"{label}: {done}", drafts)


def _water(water_l: float | None, units: Units) -> str:
    """The water a tank was dug in with, in words."""
    if water_l is None:
        return "water not known"
    return f"with {words.volume(water_l, units)}" if water_l else "dry"
