"""The logbook on the desk: every read and write the screens make goes through here.

Each call opens the file for itself, so it may run in any thread.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from store.logbook.backups import Why, back_up
from store.logbook.ids import IdMaker
from store.logbook.journal import redo, undo, write
from store.logbook.opening import Logbook, logbook_at, utc_now
from store.logbook.settings import keep_setting, setting
from store.logbook.standing import Batch
from store.logbook.waiting_weather import using_waiting_weather
from store.model.board import Board, register_of
from store.model.snapshot import Snapshot, load
from store.records import Draft

if TYPE_CHECKING:
    from store.model.assimilation import FilterCache

T = TypeVar("T")
Stamps = tuple[int, ...]

_make_id = IdMaker()


@dataclass
class LogbookSession:
    """A logbook file, and the day it is worked on: `today` None means the real one."""

    path: Path
    today: date | None = None
    _seen: Stamps = ()

    @cached_property
    def memory(self) -> FilterCache:
        """What the last board worked out, so that the next one works out only what is new."""
        from tui.kept import kept_results

        return kept_results()

    def changed(self) -> bool:
        """Whether the file was written to since it was last read here."""
        return self._stamps() != self._seen

    def _stamps(self) -> Stamps:
        """When the file and its write-ahead log were last written, where they are there."""
        stamps = []
        for file in (self.path, self.path.with_name(f"{self.path.name}-wal")):
            with suppress(OSError):
                found = file.stat()
                stamps += [found.st_mtime_ns] if found.st_size else []
        return tuple(stamps)

    def boards(self, *, at_once: bool) -> Iterator[Board]:
        """Read the logbook and work out everything the screens show.

        `at_once` has what the log says by itself come first, before the model is loaded, and
        then the levels; else all comes together. After the last board its futures are got at hand.
        """
        snapshot = self._read()
        if at_once:
            yield register_of(snapshot)
        from store.model.working_out import boards_of

        yield from boards_of(snapshot, self.memory, at_once=at_once)

    def _read(self) -> Snapshot:
        self._seen = self._stamps()
        with logbook_at(self.path, self.today) as logbook:
            return load(logbook)

    def write(self, title: str, drafts: Sequence[Draft]) -> Batch:
        """Write a batch; a first tract in it uses weather that was imported before."""
        return self.do(
            lambda logbook: write(logbook, title, using_waiting_weather(logbook, drafts))
        )

    def undo(self) -> Batch:
        return self.do(undo)

    def redo(self) -> Batch:
        return self.do(redo)

    def do(self, work: Callable[[Logbook], T]) -> T:
        """Run a piece of work on the open logbook."""
        with logbook_at(self.path, self.today) as logbook:
            return work(logbook)

    def back_up(self, why: Why) -> None:
        """Copy the file as it stands to the folder of backups beside it."""
        back_up(self.path, why)

    def setting(self, name: str) -> str | None:
        return self.do(lambda logbook: setting(logbook, name))

    def keep_setting(self, name: str, value: str) -> None:
        self.do(lambda logbook: keep_setting(logbook, name, value))

    def new_id(self) -> str:
        """An id for a new tract, station or event."""
        return _make_id(utc_now())
