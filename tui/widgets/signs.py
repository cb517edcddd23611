"""The one place that says which signs a terminal gets: all, or plain characters for them.

Screens and commands draw with every sign; where a terminal cannot show them, each is put in
plain characters on its way out, legends with it, so nothing has to be drawn twice.
"""

from __future__ import annotations

import locale
import os
import unicodedata
from collections.abc import Mapping
from enum import StrEnum
from functools import lru_cache
from typing import TextIO

from rich.cells import cell_len


class Signs(StrEnum):
    ALL = "all"
    PLAIN = "plain"
    """ASCII, and Latin-1 in what people typed: a terminal of few characters."""
    ASCII = "ascii"
    """Nothing but ASCII: a terminal whose encoding is not UTF-8."""


FEW_CHARACTERS = ("linux", "dumb", "unknown", "ansi", "vt")
"""What the TERM of a terminal with few characters begins with."""

PLAIN_SIGNS = {
    **dict(zip("▁▂▃▄▅▆▇█", "_234567#", strict=True)),
    **dict(zip("▏▎▍▌▋▊▉", "|||||||", strict=True)),
    **dict(zip("▐▕▔▀", "||-#", strict=True)),
    **dict(zip("▓▒░·╌", "+%:.-", strict=True)),
    **dict(zip("●○◦✓■", "*o.v@", strict=True)),
    **dict(zip("╳╱═─╲", "x/=-\\", strict=True)),  # noqa: RUF001 - drawn lines
    **dict(zip("│┃┆┊╵", "|\"!''", strict=True)),
    **dict(zip("├┤└┘┌┐╭╮╰╯┼┬┴", "[]+++++++++++", strict=True)),
    **dict(zip("◂▸←→↑↓▼▲▶◀", "<><>^vvv><", strict=True)),
    **dict(zip("≡…•", "=~*", strict=True)),
    "\N{RIGHT-POINTING MAGNIFYING GLASS}": "> ",
    **dict(zip("\u2018\u2019\u201c\u201d\u2013\u2014\u00a0", "''\"\"-- ", strict=True)),
}
"""What stands for each sign, in as many cells."""

_BRAILLE_FIRST, _BRAILLE_LAST = 0x2800, 0x28FF
_UPPER, _LOWER, _LEFT = 0x01 | 0x08, 0x40 | 0x80, 0x01 | 0x02 | 0x04 | 0x40
_TOP_HALF = 0x01 | 0x02 | 0x08 | 0x10
LATIN_1 = 0xFF
DRIVER_OF_A_BROWSER = "TEXTUAL_DRIVER"
"""Set where the interface runs for a browser tab, whatever terminal that was started in."""


def signs_for(environment: Mapping[str, str], encoding: str | None) -> Signs:
    """The signs that a terminal can show, by its TERM and its encoding; a browser shows all."""
    if environment.get(DRIVER_OF_A_BROWSER):
        return Signs.ALL
    if (encoding or "utf-8").casefold().replace("-", "").replace("_", "") != "utf8":
        return Signs.ASCII
    few = environment.get("TERM", "").casefold().startswith(FEW_CHARACTERS)
    return Signs.PLAIN if few else Signs.ALL


def signs_of_terminal() -> Signs:
    """The signs for the screens, by what the environment says of the terminal."""
    encoding = "utf-8" if os.name == "nt" else locale.getencoding()
    return signs_for(os.environ, encoding)


def signs_of(stream: TextIO) -> Signs:
    """The signs for what is printed: of a file its encoding alone counts."""
    return signs_for(os.environ if stream.isatty() else {}, stream.encoding)


def plain(text: str, signs: Signs) -> str:
    """The text in these signs, in as many cells as before."""
    if signs is Signs.ALL or text.isascii():
        return text
    return "".join(one if one.isascii() else _plain_sign(one, signs) for one in text)


@lru_cache(maxsize=4096)
def _plain_sign(one: str, signs: Signs) -> str:
    if one in PLAIN_SIGNS:
        return PLAIN_SIGNS[one]
    code = ord(one)
    if _BRAILLE_FIRST <= code <= _BRAILLE_LAST:
        return _line_sign(code - _BRAILLE_FIRST)
    if code <= LATIN_1 and signs is Signs.PLAIN and one.isprintable():
        return one
    bare = "".join(c for c in unicodedata.normalize("NFKD", one) if c.isascii() and c.isprintable())
    width = cell_len(one)
    return bare if len(bare) == width else "?" * width


def _line_sign(dots: int) -> str:
    """The stroke nearest to some of the eight dots of a braille cell."""
    if not dots:
        return " "
    left, right = dots & _LEFT, dots & ~_LEFT
    upper, lower = dots & _TOP_HALF, dots & ~_TOP_HALF
    if not upper:
        return "_" if not dots & ~_LOWER else "."
    if not lower:
        return "'" if not dots & ~_UPPER else "-"
    if left and right and (left & lower and right & upper) and not (left & upper and right & lower):
        return "/"
    if left and right and (left & upper and right & lower) and not (left & lower and right & upper):
        return "\\"
    return "|"
