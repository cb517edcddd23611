"""The application: one logbook, one board of answers, and the screens over it."""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import Any, ClassVar, TypeVar

from rich.text import Text
from textual import events
from textual.actions import ActionParseResult
from textual.app import App
from textual.binding import Binding, BindingType
from textual.command import Provider
from textual.dom import DOMNode
from textual.errors import NoWidget
from textual.filter import LineFilter
from textual.worker import WorkerFailed

from store.errors import BrimbookError
from store.logbook.opening import SHOWN_AS_OF
from store.logbook.standing import Batch
from store.model.board import Board
from store.plain_text import plain_sentence, without_controls
from store.records import Draft
from store.units import UnitSystem
from tui.at_start import offer_at_start
from tui.base.board_screen import BoardScreen
from tui.base.field_screen import FieldScreen
from tui.base.form_screen import FormScreen
from tui.base.help import HelpScreen
from tui.base.in_thread import work_through
from tui.base.keys import APP_KEYS
from tui.base.open_screens import close
from tui.base.palette import ActionProvider, OwnDayProvider, Palette
from tui.base.unsaved_work import UnsavedWork
from tui.failure import KEYS_KEPT, keep_failure
from tui.key_table import KEYS, NAMES
from tui.overview.screen import OverviewScreen
from tui.routes import ROUTES
from tui.session import LogbookSession
from tui.themes import DARK, LIGHT
from tui.widgets.inked import FEW_COLOURS
from tui.widgets.plain_filter import PlainFilter
from tui.widgets.signs import Signs

LOOK_EVERY_S = 5.0
LONGEST_DRAWING_S = 0.5
"""After this the model goes on, for a screen that was left meanwhile is never drawn."""
T = TypeVar("T")
SIXTEEN_OR_NONE = (None, "standard", "windows")


class BrimbookApp(App[None]):
    """Opens on the overview; `board` is None until the first reading is done."""

    TITLE = "Brimbook"
    CSS_PATH = "app.tcss"
    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = {
        ActionProvider,
        OwnDayProvider,
    }
    BINDINGS: ClassVar[list[BindingType]] = APP_KEYS

    def __init__(
        self,
        path: Path,
        *,
        today: date | None = None,
        greeting: str = "",
        signs: Signs = Signs.ALL,
        lasting: bool = True,
    ) -> None:
        """`lasting` is False for a copy that is gone when the program ends."""
        super().__init__()
        self._plain = PlainFilter(signs)
        self.session = LogbookSession(path, today)
        self.unsaved_work = UnsavedWork(self, lasting=lasting)
        self.board: Board | None = None
        self.shown_tract: str | None = None
        """The name of the one tract that is shown; None shows all."""
        self._greeting = greeting
        self._last_keys: deque[str] = deque(maxlen=KEYS_KEPT)
        self._left = False

    def exit(self, *answer: Any, **how: Any) -> None:
        """Leave, once every screen is put together; keys pressed meanwhile are for nobody.

        What is unsaved is on disk before, and told of.
        """
        if not self._left:
            how.setdefault("message", self.unsaved_work.keep_for_next() or None)
        self._left = True
        unfinished = [screen for screen in self.screen_stack if not screen.is_mounted]
        if unfinished:
            unfinished[-1].call_later(self.exit, *answer, **how)
        else:
            super().exit(*answer, **how)

    def get_key_display(self, binding: Binding) -> str:
        """A key by its name, where Textual has a sign for it that few terminals show."""
        named = NAMES.get(binding.key.split(",")[0])
        return binding.key_display or named or super().get_key_display(binding)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Those of Textual, and the one for terminals with few characters."""
        filters = super().get_line_filters()
        return [*filters, self._plain] if self._plain.enabled else filters

    def action_command_palette(self) -> None:
        """Open what finds any action by its words, once."""
        if not isinstance(self.screen, Palette):
            self.push_screen(Palette())

    async def run_action(
        self,
        action: str | ActionParseResult,
        default_namespace: DOMNode | None = None,
        namespaces: Mapping[str, DOMNode] | None = None,
    ) -> bool:
        """Do what a key is bound to; nothing while the screens are taken down."""
        if self._left:
            return False
        return await super().run_action(action, default_namespace, namespaces)

    async def on_event(self, event: events.Event) -> None:
        gone = self._left or not self.screen_stack
        if gone and isinstance(event, events.InputEvent | events.Paste):
            return
        if isinstance(event, events.Key) and not self._is_for_now(event):
            return
        if isinstance(event, events.MouseDown | events.MouseUp) and not self._anything_at(event):
            return
        if isinstance(event, events.Key) and not event.is_forwarded:
            self._last_keys.append(event.key)
        elif isinstance(event, events.Paste):
            event.text = without_controls(event.text)
        await super().on_event(event)

    def _is_for_now(self, event: events.Key) -> bool:
        """Whether a key may do anything: not a letter over a form of which no field has focus."""
        return not isinstance(self.screen, FormScreen) or self.screen.takes(event)

    def _anything_at(self, event: events.MouseEvent) -> bool:
        """Whether the pointer is over something that was not taken away since it was drawn."""
        try:
            return self.get_widget_at(event.x, event.y)[0].is_attached
        except NoWidget:
            return False

    def _handle_exception(self, error: Exception) -> None:
        """Leave with a sentence; what happened is kept in a file. Textual calls this."""
        self._return_code = 1
        if self._exception is None:
            self._exception = error
            self._exception_event.set()
            cause = error.error if isinstance(error, WorkerFailed) else error
            open_now = " > ".join(type(screen).__name__ for screen in self.screen_stack)
            sentence = keep_failure(cause, f"screens {open_now}", self._last_keys)
            self._exit_renderables += [Text(sentence), Text(self.unsaved_work.keep_after_failure())]
        self._close_messages_no_wait()

    async def on_mount(self) -> None:
        for look in (DARK, LIGHT):
            self.register_theme(look)
        self.theme = await self._kept_theme()
        sixteen = not self.is_headless and self.console.color_system in SIXTEEN_OR_NONE
        self.set_class(self.no_color or sixteen, FEW_COLOURS)
        await self.unsaved_work.begin()
        await self.push_screen(OverviewScreen())
        self.refresh_board()
        self.set_interval(LOOK_EVERY_S, self._look_for_news)
        if self._greeting:
            self.say(self._greeting)
        for trouble in KEYS.troubles:
            self.notify(plain_sentence(trouble), severity="warning", timeout=15, markup=False)

    def open_screen(self, name: str, *about: str) -> None:
        """Open a screen of `ROUTES` about some ids, or go back to it from the one above it.

        The first of the ids is a station's; nothing opens where it was taken out meanwhile.
        """
        if self.board is not None and about:
            stations = self.board.snapshot.places.stations
            if about[0] not in stations:
                self.say("That station is no longer in the logbook.")
                return
        below = self.screen_stack[-2]
        if isinstance(below, ROUTES[name]):
            close(self.screen)
            below.turn_to(*about)
        else:
            self.push_screen(ROUTES[name](*about))

    def _look_for_news(self) -> None:
        """Read the logbook again when another program has written to it."""
        if self.session.changed():
            self.refresh_board()

    def notify(self, *message: Any, **how: Any) -> None:
        """Tell the person something, where it does not cover what they type."""
        if isinstance(self.screen, BoardScreen):
            self.screen.keep_typing_free()
        super().notify(*message, **how)

    def say(self, sentence: str) -> None:
        """Tell the person something, as text."""
        self.notify(plain_sentence(sentence), markup=False)

    def say_wrong(self, error: BrimbookError) -> None:
        """Tell the person what went wrong, long enough to read it."""
        self.notify(str(error), severity="error", timeout=15, markup=False)

    def refresh_board(self) -> None:
        """Read the logbook again and tell every screen; the latest call wins."""
        for screen in self._board_screens():
            screen.show_working()
        at_once = self.board is None or not self.board.worked_out
        boards = self.session.boards(at_once=at_once)
        work_through(self, "board", boards, self._show_board, self.say_wrong)

    async def _show_board(self, board: Board) -> None:
        """Show a board; where more comes, have it drawn before the model takes the processor."""
        first, self.board = self.board is None, board
        for screen in self._board_screens():
            screen.show_when_ready(board)
        if first:
            offer_at_start(self, board)
        if not board.worked_out:
            drawn = asyncio.Event()
            self.call_after_refresh(drawn.set)
            with suppress(TimeoutError):
                await asyncio.wait_for(drawn.wait(), LONGEST_DRAWING_S)

    def _board_screens(self) -> list[BoardScreen]:
        return [
            screen
            for screen in self.screen_stack
            if isinstance(screen, BoardScreen) and screen.is_mounted
        ]

    async def save(self, title: str, drafts: Sequence[Draft]) -> bool:
        """Write a batch; when this returns True it is on disk and said so."""
        return await self._write(lambda: self.session.write(title, drafts), "Saved: ")

    async def _write(self, change: Callable[[], Batch], verb: str = "") -> bool:
        batch = await self.tried(change)
        if batch is None:
            return False
        self.say(f"{verb}{batch.title}")
        self.refresh_board()
        return True

    async def tried(self, work: Callable[[], T]) -> T | None:
        """What the work gives in a thread; None, after telling why, when it fails."""
        try:
            return await asyncio.to_thread(work)
        except BrimbookError as error:
            self.say_wrong(error)
            return None

    async def action_undo(self) -> None:
        await self._write(self.session.undo)

    async def action_redo(self) -> None:
        await self._write(self.session.redo)

    def action_help(self) -> None:
        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen(self.screen))

    async def action_switch_units(self) -> None:
        if self.board is None:
            return
        us = self.board.snapshot.units.system is UnitSystem.US
        if await self._keep("units", UnitSystem.METRIC if us else UnitSystem.US):
            self.refresh_board()

    async def action_show_as_of_today(self) -> None:
        """Open the logbook on the real day from now on, not on one of its own."""
        if await self._keep(SHOWN_AS_OF, ""):
            self.refresh_board()

    async def action_switch_theme(self) -> None:
        self.theme = LIGHT.name if self.theme == DARK.name else DARK.name
        await self._keep("theme", self.theme)

    async def _keep(self, name: str, value: str) -> bool:
        def keep() -> bool:
            self.session.keep_setting(name, value)
            return True

        return bool(await self.tried(keep))

    async def _kept_theme(self) -> str:
        kept = await self.tried(lambda: self.session.setting("theme"))
        return LIGHT.name if kept == LIGHT.name else DARK.name

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """No undo while a screen holds what is not saved yet: the key is too easily hit."""
        if action in ("undo", "redo") and isinstance(self.screen, FieldScreen):
            return False
        return super().check_action(action, parameters)
