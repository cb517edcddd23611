"""How a line of the log is written and which glyph stands for it in charts."""

from __future__ import annotations

from rich.text import Text

from store.records import RampCheck
from store.units import Units
from store.views.log_lines import LineKind, LogLine
from store.vocabulary import Action, ChoreKind
from tui import words

READ, LOOKED, BEARS, DANGER, CLEAR = "●", "○", "B", "!", "✓"

CHORE_GLYPHS = {
    ChoreKind.INSTALL: "I",
    ChoreKind.RAKE: "R",
    ChoreKind.FILL: "F",
    ChoreKind.DRAIN: "D",
    ChoreKind.COVER: "C",
    ChoreKind.UNCOVER: "U",
    ChoreKind.RETIRE: "■",
}
ACTION_GLYPHS = {
    Action.LEFT: "l",
    Action.REMOVED: "r",
    Action.BAILED: "b",
    Action.DRAINED: "d",
    Action.REFILLED: "f",
    Action.COVERED: "c",
    Action.SEEN_CLEAR: CLEAR,
}
"""Small letters: work on a fouled tank, as against the same chore in its season."""
_LETTERS = {glyph: chore.value for chore, glyph in CHORE_GLYPHS.items() if glyph.isalpha()}
LEGEND = f"{''.join(_LETTERS)} work {BEARS}ear {READ}level {LOOKED}look {DANGER}bad {CLEAR}clear"
WIDE_LEGEND = (
    f"{' '.join(f'{glyph} {chore}' for glyph, chore in _LETTERS.items())} {BEARS} bear "
    f"{READ} level {LOOKED} look {DANGER} bad {CLEAR} clear"
)
"""What the glyphs stand for, in few characters or in more."""

_WITHOUT_GLYPH = frozenset(
    {
        LineKind.FACTS,
        LineKind.PHOTO,
        LineKind.NOTE,
        LineKind.ANSWER,
        LineKind.SITE,
        LineKind.GAUGE,
    }
)


def glyph(line: LogLine) -> str:
    """One cell for a line; a capital is a chore, a small letter work on a fouled tank."""
    if line.chore is not None:
        return CHORE_GLYPHS[line.chore]
    match line.kind, line.entry.fact:
        case LineKind.EVENT, _:
            return DANGER
        case LineKind.RAMP, RampCheck(in_place=False):
            return DANGER
        case LineKind.READING, _:
            return READ
        case LineKind.BEARS, _:
            return BEARS
        case _:
            return LOOKED if line.action is None else ACTION_GLYPHS[line.action]


def line_words(line: LogLine, units: Units) -> str:
    """What a line says, with its amounts, without the person's note."""
    parts = [line.what]
    if line.below_rim_mm is not None:
        parts.append(f"{words.depth(line.below_rim_mm, units)} below the rim")
    if line.rain_mm is not None:
        parts.append(words.rain(line.rain_mm, units))
    if line.volume_l is not None:
        parts.append(words.volume(line.volume_l, units))
    return ", ".join(parts)


def with_note(line: LogLine, units: Units) -> str:
    """As `line_words`, followed by the note as the person wrote it."""
    said = line_words(line, units)
    return f"{said}: {line.note}" if line.note else said


def sign_of(line: LogLine) -> str:
    """The glyph of a line in a log; a blank where it has none."""
    return " " if line.kind in _WITHOUT_GLYPH else glyph(line)


def log_text(line: LogLine, units: Units, doubt: str = "") -> Text:
    """A line of the log: date, glyph, what, note, and why it is doubted."""
    day = f"{words.full_day(line.on):<15} {sign_of(line)} "
    text = Text.assemble(day, line_words(line, units))
    if line.note:
        text.append(f": {line.note}", "italic")
    if doubt:
        text.append(f". ! Doubted: {doubt}", "bold")
    return text
