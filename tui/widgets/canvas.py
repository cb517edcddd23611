"""A grid of cells with a glyph, an ink and a ground each; styles are names, not colours."""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len

UNDERLINED = "underlined-"
"""Prefix of an ink that is to be underlined as well."""
INVERSE = "-inverse"
"""Suffix of the name of a ground used as an ink with the plain colour painted over it."""


@dataclass(frozen=True)
class Run:
    """Neighbouring cells of one row that share ink and ground."""

    text: str
    ink: str
    ground: str


class Canvas:
    """`width` x `height` blank cells to paint on, row 0 at the top.

    A label with wide characters is stored whole in its first cell and empty strings
    after it, so that a row always adds up to `width` cells; nothing paints over it.
    """

    def __init__(self, width: int, height: int) -> None:
        self.width = width
        self.height = height
        self._glyphs = [[" "] * width for _ in range(height)]
        self._inks = [[""] * width for _ in range(height)]
        self._grounds = [[""] * width for _ in range(height)]

    def put(self, x: int, y: int, glyph: str, ink: str) -> None:
        """Paint a glyph one cell wide; nothing outside the canvas or on a wide label."""
        if 0 <= x < self.width and 0 <= y < self.height and not self._in_wide_label(x, y):
            self._glyphs[y][x] = glyph
            self._inks[y][x] = ink

    def put_on_blank(self, x: int, y: int, glyph: str, ink: str) -> None:
        """As `put`, but only where nothing has been painted."""
        if self.glyph(x, y) == " ":
            self.put(x, y, glyph, ink)

    def glyph(self, x: int, y: int) -> str:
        inside = 0 <= x < self.width and 0 <= y < self.height
        return self._glyphs[y][x] if inside else ""

    def ink(self, x: int, y: int) -> str:
        """The ink of a cell; empty where nothing is painted, or outside."""
        inside = 0 <= x < self.width and 0 <= y < self.height
        return self._inks[y][x] if inside else ""

    def fill_ground(self, x: int, y: int, ground: str) -> None:
        if 0 <= x < self.width and 0 <= y < self.height:
            self._grounds[y][x] = ground

    def write(self, x: int, y: int, text: str, ink: str) -> bool:
        """Write a label; False, and nothing written, when it does not fit in the row."""
        width = cell_len(text)
        if not (0 <= y < self.height and x >= 0 and x + width <= self.width) or not width:
            return False
        if any(self._in_wide_label(cell, y) for cell in range(x, x + width)):
            return False
        narrow = all(cell_len(char) == 1 for char in text)
        self._glyphs[y][x : x + width] = list(text) if narrow else [text, *[""] * (width - 1)]
        self._inks[y][x : x + width] = [ink] * width
        return True

    def _in_wide_label(self, x: int, y: int) -> bool:
        return "" in self._glyphs[y][x : x + 2]

    def runs(self, y: int, start: int = 0, stop: int | None = None) -> list[Run]:
        """Row `y` from cell `start` to `stop` as the fewest runs of equal style."""
        end = self.width if stop is None else stop
        runs: list[Run] = []
        cells = zip(
            self._glyphs[y][start:end],
            self._inks[y][start:end],
            self._grounds[y][start:end],
            strict=True,
        )
        text, style = "", ("", "")
        for glyph, ink, ground in cells:
            if (ink, ground) != style:
                if text:
                    runs.append(Run(text, *style))
                text, style = "", (ink, ground)
            text += glyph
        if text:
            runs.append(Run(text, *style))
        return runs
