"""A line of the whole log, and all an entry says."""

from __future__ import annotations

from rich.text import Text

from store.units import Units
from store.views.log_search import StationLine
from tui import words
from tui.base.log_marks import line_words, sign_of, with_note
from tui.base.table import cut

DAY_WIDTH, LABEL_WIDTH, WIDE_LABEL_WIDTH = 11, 17, 26
WIDE = 110


def row(one: StationLine, width: int, units: Units, *, of_all: bool) -> Text:
    """Day, sign, station where there are several, and as much of the entry as there is room."""
    line = Text(f"{words.plain_day(one.line.on):<{DAY_WIDTH}} {sign_of(one.line)} ", end="")
    if of_all:
        room = WIDE_LABEL_WIDTH if width >= WIDE else LABEL_WIDTH
        label = cut(one.label, room)
        label.pad_right(room - label.cell_len + 1)
        line.append_text(label)
    said = " ".join(with_note(one.line, units).split())
    return line.append_text(cut(said, max(1, width - line.cell_len)))


def whole(one: StationLine, units: Units, doubt: str) -> Text:
    """The entry with its note as it was written, and when it was."""
    line = one.line
    tract = "" if one.station_id is None else f"   {one.tract}"
    text = Text.assemble(
        (f"{one.label}", "bold"),
        f"{tract}   {words.full_day(line.on)}   written {words.moment(line.entry)}\n",
        line_words(line, units),
    )
    if line.note:
        text.append(f"\n{line.note}", "italic")
    if doubt:
        text.append(f"\n! Doubted: {doubt}", "bold")
    return text


def count_words(shown: int, of: int, asked: str, label: str | None) -> str:
    """How much of which log is shown."""
    whose = "Log of all stations" if label is None else f"Log of {label}"
    entries = "1 entry" if of == 1 else f"{of:,} entries"
    if not asked:
        return f"{whose}: {entries}, newest first"
    return f"{whose}: {shown:,} of {entries} have: {asked}"
