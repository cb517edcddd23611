"""Text given by people, made to fit terminal cells: literal, one line, exact width."""

from __future__ import annotations

from rich.cells import cell_len, set_cell_size

EIGHTHS_ACROSS = " ▏▎▍▌▋▊▉█"
"""Blocks filled from the left, index 0 to 8."""
EIGHTHS_UP = " ▁▂▃▄▅▆▇█"
"""Blocks filled from below, index 0 to 8."""


def one_line(text: str) -> str:
    """`text` with every line break, tab and control character turned into a space."""
    return "".join(char if char.isprintable() else " " for char in text)


def one_cell(glyph: str) -> str:
    """`glyph` if it takes exactly one cell to see, else a bullet in its place."""
    return glyph if cell_len(glyph) == 1 and glyph.strip() else "•"


def crop(text: str, width: int) -> str:
    """`text` on one line in at most `width` cells, ending in an ellipsis where cut."""
    line = one_line(text)
    if cell_len(line) <= width:
        return line
    if width < 1:
        return ""
    return set_cell_size(line, width - 1).rstrip() + "…"


def fit(text: str, width: int) -> str:
    """`text` cropped or padded to exactly `width` cells."""
    return set_cell_size(crop(text, width), max(0, width))
