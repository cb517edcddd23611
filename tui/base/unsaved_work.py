"""What the open screens hold unsaved, kept on disk as it is typed and offered again later."""

from __future__ import annotations

import asyncio
import os
import signal
import threading
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, Protocol, runtime_checkable

from textual.css.query import NoMatches

from store.errors import BrimbookError
from store.unsaved import Unsaved, UnsavedFile
from tui.base.unsaved_question import Offer, UnsavedQuestion

if TYPE_CHECKING:
    from tui.app import BrimbookApp

EVERY_S = 1.0
"""How often what is typed is written, at most."""
ENDS = (signal.SIGHUP, signal.SIGTERM)
"""The terminal was closed; somebody ended the program."""
LEAVES_WITHIN_S = 3.0


@runtime_checkable
class Typing(Protocol):
    """A screen that may hold something unsaved."""

    def unsaved_now(self) -> Unsaved | None:
        """What would be lost if the program ended here."""

    def take_up(self, typed: Mapping[str, Any]) -> None:
        """Show again what was typed."""


class UnsavedWork:
    """What waits to be offered, and the file that holds it and what is typed now."""

    def __init__(self, app: BrimbookApp, *, lasting: bool) -> None:
        """`lasting` is whether the logbook outlives the program, as the copy of a demo does not."""
        self.waiting: list[Unsaved] = []
        self.chosen: Unsaved | None = None
        """Which of them a person took up, while its screen is opened."""
        self._app = app
        self._lasting = lasting
        self._file = UnsavedFile(app.session.path)
        self._one_at_a_time = threading.Lock()
        self._told = ""
        self._ended = False

    async def begin(self) -> None:
        """Take over what was left behind, and keep what is typed from now on."""
        if self._lasting:
            left = await self._app.tried(self._file.take_over)
            if left is not None:
                self.waiting += left.unsaved
                for sentence in left.told:
                    self._app.say(sentence)
            self._app.set_interval(EVERY_S, self.keep)
        if threading.current_thread() is threading.main_thread():
            loop = asyncio.get_running_loop()
            for number in ENDS:
                loop.add_signal_handler(number, self._end, number)

    def _end(self, number: signal.Signals) -> None:
        """Leave as the system asks, with all kept; at once where leaving hangs.

        It hangs where the last words for a terminal that nobody reads any more find no room:
        the loop stands still then, so another thread ends it.
        """
        self._app.exit(return_code=128 + number)
        at_once = threading.Timer(LEAVES_WITHIN_S, os._exit, [128 + number])
        at_once.daemon = True
        at_once.start()

    def held(self) -> list[Unsaved]:
        """All that is not saved: what waits, and what stands on the screens."""
        screens = [screen for screen in self._app.screen_stack if screen.is_mounted]
        now = (screen.unsaved_now() for screen in screens if isinstance(screen, Typing))
        return [*self.waiting, *(one for one in now if one is not None)]

    async def keep(self) -> None:
        """Have all that is unsaved on disk; where it cannot be, say so once.

        While the screens are taken down, what was written last stays.
        """
        try:
            held = self.held()
        except NoMatches:
            return
        try:
            await asyncio.to_thread(self._write, held)
        except BrimbookError as error:
            if str(error) != self._told:
                self._told = str(error)
                self._app.say_wrong(error)

    def keep_for_next(self) -> str:
        """Have it on disk for the next program; gives what to tell a person who leaves."""
        if not self._lasting:
            return ""
        held = self.held()
        try:
            self._write(held, last=True)
        except BrimbookError as error:
            return str(error)
        if not held:
            return ""
        what = "; ".join(one.title for one in held)
        return f"Not saved, but kept until you open the logbook again: {what}."

    def keep_after_failure(self) -> str:
        """As `keep_for_next`; where a screen is broken, what was written last stays."""
        try:
            return self.keep_for_next()
        except Exception:
            return "What was typed is kept as it stood a second before."

    def _write(self, held: list[Unsaved], *, last: bool = False) -> None:
        """Write it in one thread at a time, and after the last time never again."""
        with self._one_at_a_time:
            if self._ended:
                return
            self._ended = last
            try:
                self._file.keep(held)
            finally:
                if last:
                    self._file.let_go()

    def waiting_for(self, where: str, about: str | None) -> Unsaved | None:
        """The latest that waits for a screen, about one thing or, with None, about any."""
        wanted = (
            one
            for one in reversed(self.waiting)
            if one.where == where and about in (None, one.about)
        )
        return next(wanted, None)

    def drop(self, one: Unsaved) -> None:
        self.waiting = [other for other in self.waiting if other is not one]

    def offer(self, one: Unsaved, take_up: Callable[[], object], *, others: int = 0) -> None:
        """Ask whether to take something up, drop it, or leave it waiting."""

        async def answered(offer: Offer | None) -> None:
            if offer is Offer.TAKE_UP:
                take_up()
            elif offer is Offer.DROP:
                self.drop(one)
                await self.keep()

        self._app.push_screen(UnsavedQuestion(one.title, others), answered)
