"""The logbook on the desk: every read and write the screens make goes through here.

Each call opens the file for itself, so it may run in any thread.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TypeVar

from store.answers.board import Board, board
from store.answers.following import Memory
from store.answers.snapshot import load
from store.logbook.ids import IdMaker
from store.logbook.journal import Batch, redo, undo, write
from store.logbook.opening import Logbook, logbook_at, utc_now
from store.logbook.settings import keep_setting, setting
from store.records import Draft

T = TypeVar("T")

_make_id = IdMaker()


@dataclass
class Desk:
    """A logbook file, and the day it is worked on: `today` None means the real one."""

    path: Path
    today: date | None = None
    memory: Memory = field(default_factory=dict)
    """What the last board worked out, so that the next one works out only what is new."""

    def board(self) -> Board:
        """Read the logbook and work out everything the screens show."""
        with logbook_at(self.path, self.today) as logbook:
            snapshot = load(logbook)
        return board(snapshot, self.memory)

    def write(self, title: str, drafts: Sequence[Draft]) -> Batch:
        return self.do(lambda logbook: write(logbook, title, drafts))

    def undo(self) -> Batch:
        return self.do(undo)

    def redo(self) -> Batch:
        return self.do(redo)

    def do(self, work: Callable[[Logbook], T]) -> T:
        """Run a piece of work on the open logbook."""
        with logbook_at(self.path, self.today) as logbook:
            return work(logbook)

    def setting(self, name: str) -> str | None:
        return self.do(lambda logbook: setting(logbook, name))

    def keep_setting(self, name: str, value: str) -> None:
        self.do(lambda logbook: keep_setting(logbook, name, value))

    def new_id(self) -> str:
        """An id for a new tract, station or event."""
        return _make_id(utc_now())
