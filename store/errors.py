"""The one family of errors a person is meant to read.

Each message is a whole sentence saying what is wrong, where, and what to do
next. Screens and commands print it as it stands.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from store.plain_text import plain_sentence

SHOWN_PROBLEMS = 20
"""How many rejected lines one error message spells out."""


class BrimbookError(Exception):
    """Something a person can put right; `str(error)` is the sentence to show.

    What a sentence quotes may hold anything; nothing of it steers the terminal.
    """

    def __init__(self, sentence: str) -> None:
        super().__init__(plain_sentence(sentence))


class BadValue(BrimbookError, ValueError):
    """A value that cannot be true (a negative depth, 13 o'clock, 140 percent)."""


class NoTract(BadValue):
    """A file that belongs to one tract, without word of which."""


class BadFile(BrimbookError):
    """A file that cannot be read, or is not what it was taken for."""


class SeveralPlaces(BadFile):
    """A weather file of several stations, without word of which; `places` are their names."""

    def __init__(self, sentence: str, places: Sequence[str]) -> None:
        super().__init__(sentence)
        self.places = tuple(places)


class NotFound(BrimbookError, LookupError):
    """A tract, station, entry or record that the logbook does not hold."""


class Refused(BrimbookError):
    """A write that would make the logbook contradict itself."""


@dataclass(frozen=True)
class Problem:
    """One rejected line of a file: where it is and why it cannot be taken."""

    line: int
    field: str
    reason: str

    def __str__(self) -> str:
        field = f", {self.field}" if self.field else ""
        return plain_sentence(f"line {self.line}{field}: {self.reason}")


class BadLines(BadFile):
    """A file with rejected lines; nothing of it was stored."""

    def __init__(self, path: Path, problems: Sequence[Problem]) -> None:
        self.path = path
        self.problems = tuple(problems)
        count = len(self.problems)
        shown = "; ".join(str(problem) for problem in self.problems[:SHOWN_PROBLEMS])
        more = f"; and {count - SHOWN_PROBLEMS} more" if count > SHOWN_PROBLEMS else ""
        lines = "1 line" if count == 1 else f"{count} lines"
        super().__init__(
            f"{path.name}: {lines} cannot be read, so nothing was imported. {shown}{more}. "
            "Correct the file and import it again."
        )
