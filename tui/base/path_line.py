"""A line to type a path into, with completions read from the disk."""

from __future__ import annotations

import asyncio
import os
from pathlib import Path

from textual.suggester import Suggester

from store.errors import BadFile
from store.plain_text import without_controls
from tui.widgets.form_row import FormLine

MOST_LOOKED_AT = 2000
"""Entries of a folder looked through for a completion."""


def path_from(text: str) -> Path:
    """The path a person typed or pasted: quotes around it dropped, `~` made a folder.

    Raises:
        BadFile: the home folder that `~name` stands for is not known.
    """
    text = text.strip()
    if len(text) > 1 and text[0] == text[-1] and text[0] in "'\"":
        text = text[1:-1]
    try:
        return Path(text).expanduser()
    except RuntimeError as error:
        raise BadFile(f"{text} names no known home folder; type the whole path.") from error


def completion(text: str) -> str | None:
    """`text` completed to the first file or folder whose name starts as typed."""
    folder, slash, start = text.rpartition("/")
    if not start:
        return None
    try:
        where = Path(folder + slash).expanduser() if slash else Path()
        with os.scandir(where) as entries:
            names = sorted(
                entry.name + ("/" if entry.is_dir() else "")
                for _, entry in zip(range(MOST_LOOKED_AT), entries, strict=False)
                if entry.name.startswith(start) and without_controls(entry.name) == entry.name
            )
    except (OSError, RuntimeError, ValueError):
        return None
    return folder + slash + names[0] if names else None


class PathSuggester(Suggester):
    def __init__(self) -> None:
        super().__init__(use_cache=False, case_sensitive=True)

    async def get_suggestion(self, value: str) -> str | None:
        return await asyncio.to_thread(completion, value)


class PathLine(FormLine):
    """Tab or Right takes the completion that is shown."""

    def __init__(self) -> None:
        super().__init__(placeholder="path of the file", suggester=PathSuggester())

    def complete(self) -> bool:
        """Take the completion, if one is shown."""
        before = self.value
        if self.cursor_at_end:
            self.action_cursor_right()
        return self.value != before
