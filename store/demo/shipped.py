"""Where the demo that comes with Brimbook lies."""

from __future__ import annotations

from pathlib import Path

from store.logbook.settings import DEMO_NAME


def shipped_demo() -> Path:
    """Beside this file where Brimbook was installed, else at the top of its repository."""
    installed = Path(__file__).with_name(DEMO_NAME)
    return installed if installed.is_file() else Path(__file__).parents[2] / DEMO_NAME
