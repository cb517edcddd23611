"""A cross-section of the tank in the ground: water, ice, ramp and cover."""

from __future__ import annotations

from functools import lru_cache
from math import isnan

from rich.text import Text

from tui.widgets.canvas import Canvas
from tui.widgets.cells import EIGHTHS_UP

SOIL, APRON, WALL, LID, ICE = "▒", "▁", "│", "═", "≡"
RAMP = "╱"  # noqa: RUF001 - a drawn slope, not a solidus
SMALLEST_WIDTH, SMALLEST_HEIGHT = 11, 4
ROOM_FOR_WORDS = len("no ramp")
STYLES = {"water": "#2f7fc1", "ice": "bold", "ramp": "bold", "missing": "bold", "soil": "dim"}


def tank_picture(
    share: float | None,
    width: int,
    height: int,
    *,
    ramp: bool | None = None,
    ice: bool = False,
    covered: bool = False,
    scale: tuple[str, str, str] | None = None,
) -> Text:
    """The tank, `height` lines of `width` cells, holding `share` (0 to 1) of its depth.

    An unknown `share` (None or NaN) shows a question mark and no water. A `ramp` that
    is missing (False) or not known (None) is said in words inside the tank. At least
    11 x 4 cells are drawn. `scale` are words for the rim, the water and the bottom, written
    beside them, outside of `width`. Show it where text does not wrap.
    """
    size = max(width, SMALLEST_WIDTH), max(height, SMALLEST_HEIGHT)
    picture = _picture(share, *size, ramp, ice, covered).copy()
    return picture if scale is None else _with_scale(picture, share, scale)


def _with_scale(picture: Text, share: float | None, scale: tuple[str, str, str]) -> Text:
    """The picture with its words on the rows of the rim, the water's surface and the bottom."""
    lines = picture.split("\n")
    rim, water, bottom = scale
    rows = len(lines) - 2
    said = {0: rim, len(lines) - 1: bottom}
    if share is not None and not isnan(share):
        said[len(lines) - 2 - max(0, (_eighths(share, rows) - 1) // 8)] = water
    for row, words in said.items():
        lines[row].append(f" {words}")
    return Text("\n", no_wrap=True).join(lines)


def _eighths(share: float, rows: int) -> int:
    """How many eighths of a row the water fills; a little of it is seen as well."""
    eighths = round(min(1.0, max(0.0, share)) * rows * 8)
    return max(1, eighths) if share > 0 else eighths


@lru_cache(maxsize=256)
def _picture(
    share: float | None, width: int, height: int, ramp: bool | None, ice: bool, covered: bool
) -> Text:
    canvas = Canvas(width, height)
    bank = min(width // 6, (width - 2 - ROOM_FOR_WORDS) // 2)
    left, right, bottom = bank, width - bank - 1, height - 1
    _ground(canvas, left, right, bottom)
    if covered:
        for x in range(left, right + 1):
            canvas.put(x, 0, LID, "soil")
    inside = range(left + 1, right)
    known = share is not None and not isnan(share)
    if share is not None and known:
        _water(canvas, inside, bottom, share, ice)
    if ramp:
        _ramp(canvas, right, bottom, len(inside))
    else:
        said = "no ramp" if ramp is False else "ramp ?"
        canvas.write(left + 1 + (len(inside) - len(said)) // 2, 1, said, "missing")
    if not known:
        canvas.put(left + 1 + len(inside) // 2, max(2, bottom // 2), "?", "missing")
    text = Text(no_wrap=True)
    for y in range(height):
        for run in canvas.runs(y):
            text.append(run.text, STYLES.get(run.ink))
        text.append("\n" if y < bottom else "")
    return text


def _ground(canvas: Canvas, left: int, right: int, bottom: int) -> None:
    for x in (*range(left + 1), *range(right, canvas.width)):
        canvas.put(x, 0, APRON, "soil")
        for y in range(1, bottom + 1):
            canvas.put(x, y, SOIL, "soil")
    for y in range(1, bottom):
        canvas.put(left, y, WALL, "")
        canvas.put(right, y, WALL, "")
    canvas.write(left, bottom, "└" + "─" * (right - left - 1) + "┘", "")


def _water(canvas: Canvas, inside: range, bottom: int, share: float, ice: bool) -> None:
    rows = bottom - 1
    eighths = _eighths(share, rows)
    for row in range(rows):
        filled = min(8, max(0, eighths - row * 8))
        surface = filled and eighths <= (row + 1) * 8
        for x in inside:
            if filled:
                frozen = ice and surface
                canvas.put(
                    x,
                    bottom - 1 - row,
                    ICE if frozen else EIGHTHS_UP[filled],
                    "ice" if frozen else "water",
                )


def _ramp(canvas: Canvas, right: int, bottom: int, room: int) -> None:
    """A board from the rim at the right wall down to the bottom."""
    rows = bottom - 1
    run = min(room, rows * 2)
    for step in range(run):
        y = 1 + (step * rows) // run
        canvas.put(right - 1 - step, y, RAMP, "ramp")
