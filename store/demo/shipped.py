"""Where the demo is: beside the code in an installed package, at the top of a checkout."""

from __future__ import annotations

from pathlib import Path

from store.errors import NotFound
from store.logbook.settings import DEMO_NAME


def shipped_demo() -> Path:
    """The demo that came with this program.

    Raises:
        NotFound: it did not come along.
    """
    here = Path(__file__).parent
    for folder in (here, here.parents[1]):
        if (folder / DEMO_NAME).is_file():
            return folder / DEMO_NAME
    raise NotFound(f"{DEMO_NAME} did not come along with this program; install it again.")
