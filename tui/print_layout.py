"""Lay a table out in lines of print that fit a width, with no word cut short."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.cells import cell_len, chop_cells

GAP = 2
INDENT = 4
ROOM_FOR_A_SENTENCE = 24
"""Narrower than this, a sentence stands in lines of its own below its row."""
NARROWEST = 7
"""A column of words is made no narrower than this."""

Texts = Sequence[str]


def laid_out(
    headings: Texts,
    rows: Sequence[Texts],
    numeric: Sequence[bool],
    sentences: int | None,
    width: int | None,
) -> Iterator[str]:
    """The lines of a table: at most `width` characters, or as many as it takes.

    Numbers stand right and are never broken; words go on in the next line of their cell. The
    column of `sentences` goes below its row where there is too little room beside it.
    """
    below = None
    columns = list(range(len(headings)))
    widths = {at: _natural(headings, rows, at) for at in columns}
    if width is not None and sentences is not None:
        beside = sum(widths[at] + GAP for at in columns if at != sentences)
        if width - beside < min(widths[sentences], ROOM_FOR_A_SENTENCE):
            below = sentences
            columns.remove(sentences)
    if width is not None:
        _narrow(widths, headings, rows, numeric, columns, width)
    yield from _line([headings[at] for at in columns], [widths[at] for at in columns],
                     [numeric[at] for at in columns], upward=True)  # fmt: skip
    for row in rows:
        yield from _line([row[at] for at in columns], [widths[at] for at in columns],
                         [numeric[at] for at in columns])  # fmt: skip
        if below is not None and width is not None:
            yield from (" " * INDENT + part for part in folded(row[below], width - INDENT))


def folded(text: str, width: int) -> list[str]:
    """A text in lines of at most `width` characters; only words longer than that are broken."""
    lines: list[str] = []
    for paragraph in text.split("\n"):
        line = ""
        for word in paragraph.split():
            joined = f"{line} {word}" if line else word
            if cell_len(joined) <= width:
                line = joined
                continue
            if line:
                lines.append(line)
            *whole, line = chop_cells(word, width)
            lines += whole
        if line:
            lines.append(line)
    return lines


def _natural(headings: Texts, rows: Sequence[Texts], at: int) -> int:
    """The width of a column's longest cell, and of the longest word of its heading."""
    cells = max((cell_len(part) for row in rows for part in row[at].split("\n")), default=0)
    return max(cells, _longest_word(headings[at]))


def _longest_word(text: str) -> int:
    return max((cell_len(word) for word in text.split()), default=0)


def _narrow(
    widths: dict[int, int],
    headings: Texts,
    rows: Sequence[Texts],
    numeric: Sequence[bool],
    columns: Sequence[int],
    width: int,
) -> None:
    """Take from the widest column of words until the line fits, words kept whole if it can."""
    whole = {
        at: max(_longest_word(headings[at]), *(_longest_word(row[at]) for row in rows), 1)
        for at in columns
        if not numeric[at] and rows
    }
    for least in (whole, {at: min(NARROWEST, word) for at, word in whole.items()}):
        while sum(widths[at] + GAP for at in columns) - GAP > width:
            spare = [at for at in least if widths[at] > least[at]]
            if not spare:
                break
            widths[max(spare, key=lambda at: widths[at])] -= 1


def _line(
    cells: Texts, widths: Sequence[int], numeric: Sequence[bool], *, upward: bool = False
) -> Iterator[str]:
    """The lines of one row; with `upward` short cells stand at its bottom."""
    parts = [folded(cell, width) for cell, width in zip(cells, widths, strict=True)]
    height = max((len(part) for part in parts), default=0)
    for number in range(height):
        line = []
        for part, width, right in zip(parts, widths, numeric, strict=True):
            at = number - (height - len(part) if upward else 0)
            text = part[at] if 0 <= at < len(part) else ""
            blank = " " * (width - cell_len(text))
            line.append(blank + text if right else text + blank)
        yield (" " * GAP).join(line).rstrip()
