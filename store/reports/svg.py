"""Small charts as SVG text, for pages that need nothing from elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

ROW, BAR = 22, 12
LABELS, PLOT, VALUES = 230, 240, 170


@dataclass(frozen=True)
class Bar:
    """A share of the whole, 0 to 1, with its band where there is one."""

    label: str
    share: float
    text: str
    band: tuple[float, float] | None = None


def bars(title: str, rows: Sequence[Bar]) -> str:
    """Horizontal bars under a title; the band is a line over its bar."""
    height = ROW * len(rows) + 4
    parts = [_bar(row, ROW * number + 4) for number, row in enumerate(rows)]
    width = LABELS + PLOT + VALUES
    return (
        f'<svg viewBox="0 0 {width} {height}" width="{width}" role="img" '
        f'aria-label="{escape(title)}"><title>{escape(title)}</title>{"".join(parts)}</svg>'
    )


def _bar(row: Bar, top: int) -> str:
    middle = top + BAR - 2
    parts = [
        f'<text x="{LABELS - 8}" y="{middle}" text-anchor="end">{escape(row.label)}</text>',
        f'<rect x="{LABELS}" y="{top}" width="{PLOT}" height="{BAR}" class="room"/>',
        f'<rect x="{LABELS}" y="{top}" width="{_x(row.share):.1f}" height="{BAR}" class="bar"/>',
        f'<text x="{LABELS + PLOT + 8}" y="{middle}">{escape(row.text)}</text>',
    ]
    if row.band is not None:
        low, high = (LABELS + _x(end) for end in row.band)
        y = top + BAR / 2
        parts.append(f'<line x1="{low:.1f}" x2="{high:.1f}" y1="{y}" y2="{y}" class="band"/>')
    return "".join(parts)


def _x(share: float) -> float:
    return PLOT * min(max(share, 0.0), 1.0)
