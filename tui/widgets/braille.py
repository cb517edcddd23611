"""Lines of braille dots: two across and four down in every cell."""

from __future__ import annotations

from collections.abc import Iterable

DOTS_ACROSS = 2
DOTS_DOWN = 4
_BITS = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))
_BLANK = 0x2800


def braille_cells(dots: Iterable[tuple[int, int]]) -> dict[tuple[int, int], str]:
    """Dots (x, y), y downwards, gathered as {(cell x, cell y): braille glyph}."""
    masks: dict[tuple[int, int], int] = {}
    for x, y in dots:
        cell = (x // DOTS_ACROSS, y // DOTS_DOWN)
        masks[cell] = masks.get(cell, 0) | _BITS[x % DOTS_ACROSS][y % DOTS_DOWN]
    return {cell: chr(_BLANK + mask) for cell, mask in masks.items()}


def line_dots(x0: int, y0: int, x1: int, y1: int) -> set[tuple[int, int]]:
    """Every dot of the straight line from (x0, y0) to (x1, y1), ends included."""
    steps = max(abs(x1 - x0), abs(y1 - y0))
    if steps == 0:
        return {(x0, y0)}
    return {
        (round(x0 + (x1 - x0) * step / steps), round(y0 + (y1 - y0) * step / steps))
        for step in range(steps + 1)
    }
