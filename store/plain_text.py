"""Text that is safe to show: no character that steers a terminal, no endless name."""

from __future__ import annotations

import re

IN_PLACE = "\N{REPLACEMENT CHARACTER}"
_STEERING = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]")
"""The C0 and C1 controls (ISO/IEC 6429) but for tab and line feed, the separators of
lines and paragraphs, and halves of characters, which no terminal and no file takes."""
LONGEST_WORD = 200
_ENDLESS = re.compile(rf"\S{{{LONGEST_WORD + 1},}}")


def without_controls(text: str) -> str:
    """The text with a mark in place of every control character but tab and line feed."""
    return _STEERING.sub(IN_PLACE, text)


def plain_sentence(text: str) -> str:
    """A sentence that may quote anything, safe to show: endless words lose their middle."""
    return _ENDLESS.sub(_shortened, without_controls(text))


def _shortened(match: re.Match[str]) -> str:
    third = LONGEST_WORD // 3
    return f"{match[0][:third]} ... {match[0][-third:]}"
