"""A water level as a bar of a few cells, readable without colour."""

from __future__ import annotations

from functools import lru_cache
from math import isnan

from rich.text import Text

from tui.widgets.cells import EIGHTHS_ACROSS

SURE, LIKELY, POSSIBLE, BEYOND, UNKNOWN = "█", "▓", "░", "·", "╌"


WATER, REST = "#2f7fc1", "dim"
"""Rich styles; the glyphs alone carry the meaning."""


def gauge(
    share: float | None,
    width: int,
    *,
    low: float | None = None,
    high: float | None = None,
) -> Text:
    """A bar of `width` cells filled to `share` (0 to 1) in steps of an eighth of a cell.

    With `low` and `high`, the bar is solid up to `low`, dark shaded from there to
    `share`, light shaded on to `high`, and dotted beyond. `None` and NaN are drawn as
    unknown: dashes around a question mark. Shares outside 0 to 1 are drawn at the end
    they passed; anything above nothing shows, and only a full tank looks full.
    """
    return _gauge(share, width, low, high).copy()


@lru_cache(maxsize=4096)
def _gauge(share: float | None, width: int, low: float | None, high: float | None) -> Text:
    if width < 1:
        return Text("")
    if share is None or isnan(share):
        return Text("?".center(width, UNKNOWN), REST, no_wrap=True)
    eighths = _eighths(share, width)
    full, part = divmod(eighths, 8)
    sure = full if low is None else min(full, _eighths(low, width) // 8)
    reach = full + (part > 0)
    possible = reach if high is None else max(reach, -(-_eighths(high, width) // 8))
    bar = SURE * sure + LIKELY * (full - sure) + (EIGHTHS_ACROSS[part] if part else "")
    text = Text(no_wrap=True)
    text.append(bar + POSSIBLE * (possible - reach), WATER)
    text.append(BEYOND * (width - possible), REST)
    return text


def _eighths(share: float, width: int) -> int:
    whole = width * 8
    if share <= 0 or isnan(share):
        return 0
    if share >= 1:
        return whole
    return min(whole - 1, max(1, round(share * whole)))
