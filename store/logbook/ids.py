"""Globally unique ids that sort by time: version 7 UUIDs (RFC 9562, section 5.7)."""

from __future__ import annotations

import secrets
import uuid
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

MakeId = Callable[[datetime], str]
"""Makes an id for something written at a UTC moment."""


def uuid7(moment: datetime, random_bits: int) -> str:
    """A version 7 UUID: 48 bits of Unix milliseconds, then 74 of the random bits."""
    milliseconds = int(moment.timestamp() * 1000)
    high = (milliseconds << 16) | (0x7 << 12) | (random_bits >> 62 & 0xFFF)
    low = (0b10 << 62) | (random_bits & (1 << 62) - 1)
    return str(uuid.UUID(int=high << 64 | low))


def just_after(made: str) -> datetime:
    """A UTC moment whose ids come after a version 7 UUID: in the next millisecond."""
    milliseconds = uuid.UUID(made).int >> 80
    return datetime(1970, 1, 1, tzinfo=UTC) + timedelta(milliseconds=milliseconds + 1.5)


class IdMaker:
    """Makes ids that keep rising within a millisecond, as RFC 9562 section 6.2 allows.

    The random part starts anew each millisecond and counts up inside it, so that
    the entries of one transaction keep the order they were written in.
    """

    def __init__(self, random_bits: Callable[[], int] = lambda: secrets.randbits(73)) -> None:
        self._random_bits = random_bits
        self._milliseconds = -1
        self._bits = 0

    def __call__(self, moment: datetime) -> str:
        milliseconds = int(moment.timestamp() * 1000)
        if milliseconds == self._milliseconds:
            self._bits += 1
        else:
            self._milliseconds = milliseconds
            self._bits = self._random_bits()
        return uuid7(moment, self._bits)
