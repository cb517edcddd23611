"""What single keys and the field say about a contamination event."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import replace
from pathlib import Path

from store.errors import BadFile, BadValue, BrimbookError
from store.logbook.photos import photo_checksum
from store.model.board import Board
from store.records import StationFacts
from store.vocabulary import Action, Cause
from tui import words
from tui.base.field_screen import FieldScreen
from tui.base.in_thread import work_out
from tui.base.path_line import path_from
from tui.base.typed_field import AMOUNT, NUMBER
from tui.event.entered import EventDraft
from tui.event.keys import CARCASS_KEYS, key
from tui.event.typed import with_typed

OTHER = key("other_event")


class AnswersScreen(FieldScreen):
    """A sheet about one event, and the keys that fill it in."""

    _board: Board
    _sheet: EventDraft
    _photo_wanted: Path | None = None
    """A picture that is still being read."""

    @property
    @abstractmethod
    def _station(self) -> StationFacts:
        """The station that the sheet is about."""

    @abstractmethod
    def _set(self, sheet: EventDraft) -> None:
        """Take another sheet, and show what follows from it."""

    def action_cause(self, cause: str) -> None:
        if self._sheet.event is not None:
            self.field.say(f"The cause of the open event is known; {OTHER} turns to a new event.")
        else:
            self.field.say("")
            self._set(replace(self._sheet, new_cause=Cause(cause)))

    def action_done(self, name: str) -> None:
        action = Action(name)
        if action not in self._sheet.offered:
            self.field.say(
                f"A new event cannot be over yet; {OTHER} turns to the open one."
                if self._sheet.event is None
                else "The event is open already; press what was done about it."
            )
        elif action is Action.REFILLED and action not in self._sheet.actions:
            self.field.ask("refill", words.brought(self._board.snapshot.units), only=AMOUNT)
        else:
            self.field.say("")
            self._set(self._sheet.turned(action))

    def action_bail_percent(self) -> None:
        percent = self._sheet.bailed_percent
        shown = "" if percent is None else f"{percent:g}"
        self.field.ask("bail", "Percent bailed (empty: the usual)", shown, only=NUMBER)

    def action_turn(self, question: str) -> None:
        sheet = self._sheet
        if question in ("smell", "colour", "response"):
            if sheet.event is None:
                self.field.say(f"Signs are judged of an open event; {OTHER} turns to one.")
                return
        elif sheet.event is not None or not sheet.is_carcass:
            self.field.say(
                f"This is asked of a new drowned animal or dead fish; press {CARCASS_KEYS}."
            )
            return
        self.field.say("")
        self._set(sheet.answered(question))

    def action_days_dead(self) -> None:
        if self._sheet.event is not None or not self._sheet.is_carcass:
            self.action_turn("size")
        else:
            self.field.ask("days dead", "Days it had lain when found", only=NUMBER)

    def action_bears(self) -> None:
        if not self._station.bear_country:
            self.field.say("This station is not in bear country by its facts; change them there.")
            return
        count = str(self._sheet.bears or 1)
        self.field.ask("bears", "Times bears came that day (0: none)", count, only=NUMBER)

    def action_photo(self) -> None:
        self.field.ask("photo", "Path of the picture (empty: none)", self._sheet.photo_path)

    def _read_photo(self, path: Path) -> None:
        work_out(
            self,
            "photo",
            lambda: photo_checksum(path),
            lambda sha256: self._keep_photo(path, sha256),
            self._refuse_photo,
        )

    def _keep_photo(self, path: Path, sha256: str) -> None:
        self._photo_wanted = None
        self.field.say("")
        self._set(replace(self._sheet, photo_path=str(path), photo_sha256=sha256))

    def _refuse_photo(self, error: BrimbookError) -> None:
        self._photo_wanted = None
        self.field.say(str(error))

    def action_ramp(self) -> None:
        self._set(self._sheet.ramp_turned())

    def action_note(self) -> None:
        self.field.ask("note", "Note", self._sheet.note)

    def check(self, asking: str, text: str) -> None:
        if asking != "photo":
            with_typed(self._sheet, asking, text, self._board)

    async def entered(self) -> None:
        self.taken()

    def taken(self) -> bool:
        """Take what stands in the field, if it is open; False when it cannot be taken."""
        field = self.field
        if field.asking is None:
            return True
        try:
            sheet = self._taken(field.asking, field.text)
            field.close()
        except (BadValue, BadFile) as error:
            field.say(str(error))
            return False
        self._set(sheet)
        if self._photo_wanted is not None:
            field.say("Reading the picture ...")
            self._read_photo(self._photo_wanted)
        return True

    def _taken(self, asking: str, text: str) -> EventDraft:
        """The sheet with a typed text where it belongs; a picture is still to be read.

        Raises:
            BadValue: it is no number, no date, or cannot be.
            BadFile: a path in a home folder nobody knows.
        """
        if asking == "photo":
            self._photo_wanted = path_from(text).absolute() if text else None
            return replace(self._sheet, photo_path="", photo_sha256="")
        return with_typed(self._sheet, asking, text, self._board)
