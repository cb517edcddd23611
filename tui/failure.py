"""An error nobody foresaw: written to a file with what led to it, told in one sentence."""

from __future__ import annotations

import platform
import sys
import tempfile
import traceback
from collections.abc import Iterable
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path

import platformdirs

KEYS_KEPT = 80
"""Keys pressed last that a report tells of."""


def keep_failure(error: BaseException, where: str, keys: Iterable[str] = ()) -> str:
    """Write what happened to a file of the person's log folder; gives the sentence to show.

    Where that folder cannot be written, the file goes to the folder for temporary files;
    where that cannot be either, the sentence says what went wrong as well as it can.
    """
    report = _report(error, where, keys)
    stamp = datetime.now(UTC).strftime("%Y-%m-%dT%H%M%S.%f")
    for folder in (platformdirs.user_log_path("brimbook"), Path(tempfile.gettempdir())):
        file = folder / f"brimbook-{stamp}.txt"
        try:
            folder.mkdir(parents=True, exist_ok=True)
            file.touch(mode=0o600, exist_ok=False)
            file.write_text(report, encoding="utf-8", errors="backslashreplace")
        except OSError:
            continue
        return (
            "Brimbook met an error it did not expect and stopped. All that was saved is in the "
            f"logbook; open it again. What led to it is in {file}: send that file with a word "
            "on what you were doing."
        )
    return (
        "Brimbook met an error it did not expect and stopped. All that was saved is in the "
        f"logbook; open it again. It could not be written to a file: {error!r}."
    )


def _report(error: BaseException, where: str, keys: Iterable[str]) -> str:
    lines = (
        f"Brimbook {version('brimbook')}, Python {platform.python_version()}, {sys.platform}",
        f"Where: {where}",
        f"Keys pressed last, oldest first: {' '.join(keys) or 'none'}",
        "",
        *traceback.format_exception(error),
    )
    return "\n".join(lines)
