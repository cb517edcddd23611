"""Say in one way why a file could not be written."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from store.errors import BadFile, BrimbookError


@contextmanager
def written_to(out: Path) -> Iterator[None]:
    """A stretch of work that writes the file `out`.

    Raises:
        BadFile: the system did not let it be written.
    """
    try:
        yield
    except BrimbookError:
        raise
    except (OSError, ValueError) as error:
        why = (error.strerror if isinstance(error, OSError) else None) or error
        raise BadFile(f"{out} cannot be written: {why}; choose another.") from error
