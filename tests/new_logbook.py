"""New logbooks for tests that need one to begin with: the tables are made once a process."""

import tempfile
from functools import cache
from pathlib import Path

from store.logbook.backups import PRIVATE
from store.logbook.opening import Logbook, create_logbook, open_logbook


def new_logbook(path: Path) -> Logbook:
    """A copy of what `create_logbook` makes, which holds nothing of its own."""
    path.touch(PRIVATE)
    path.write_bytes(_blank())
    return open_logbook(path)


@cache
def _blank() -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        logbook = create_logbook(Path(folder) / "book.db")
        logbook.close()
        return logbook.path.read_bytes()
