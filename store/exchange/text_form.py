"""What each line of a logbook in plain text is: JSON Lines, one thing a line.

The first line names the format, its version and the newest step of the tables
(`schema`); the last one counts the lines before it, so that a file cut short is noticed.
In between come the settings, and then the batches in their order, each followed by its
entries, and an import of weather by its days. A value that is not known is left out.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

FORMAT = "brimbook logbook"
VERSION = 1
APPLICATION = "brimbook"
MAX_CHARACTERS = 1_000_000
"""A longer line is no line of a logbook; it is refused before it fills the memory."""


def line(row: Mapping[str, Any]) -> bytes:
    """A row as one line: keys in the order given, nothing for what is None."""
    known = {name: value for name, value in row.items() if value is not None}
    return (json.dumps(known, ensure_ascii=False, separators=(",", ":")) + "\n").encode()
