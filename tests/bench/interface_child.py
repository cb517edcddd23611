"""What `tests.bench.interface` measures in processes of their own: one task, JSON out.

Run: python -m tests.bench.interface_child TASK [PATH] [TODAY]
"""

from __future__ import annotations

import asyncio
import json
import resource
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from time import process_time
from typing import Any

from tests.bench.bare_table import BareTable

KEYS = 30


def bare() -> dict[str, float]:
    """CPU ms a key in a table of Textual."""

    async def run() -> float:
        async with BareTable().run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            return await _ms_a_key(pilot, "down", "up")

    return {"key": asyncio.run(run())}


async def _ms_a_key(pilot: Any, *keys: str) -> float:
    await pilot.press(*keys)
    began = process_time()
    for number in range(KEYS):
        await pilot.press(keys[number % len(keys)])
    return 1000.0 * (process_time() - began) / KEYS


def keys(path: Path, today: date) -> dict[str, float]:
    """CPU ms a key on the main screens."""
    from tests.tui.driving import settle
    from tui.app import BrimbookApp

    screens: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
        "overview": ((), ("down", "up")),
        "check-in": (("c",), ("down", "up")),
        "work due": (("d",), ("down", "up")),
        "timeline": (("t",), ("down", "up")),
        "station": (("enter",), ("down", "up")),
        "event, a cause": (("e",), ("1", "2")),
        "station form, a letter": (("N",), ("a", "b")),
    }
    found: dict[str, float] = {}

    async def run() -> None:
        async with BrimbookApp(path, today=today).run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            for name, (doors, pressed) in screens.items():
                for door in doors:
                    await pilot.press(door)
                await settle(pilot)
                found[name] = await _ms_a_key(pilot, *pressed)
                await settle(pilot)
                while len(pilot.app.screen_stack) > 2:
                    pilot.app.pop_screen()
                    await pilot.pause()

    asyncio.run(run())
    return found


def cold(path: Path, today: date) -> dict[str, float]:
    """CPU seconds of reading a logbook and of its levels, and the most memory in MB."""
    from store.model.levels import levels_of
    from tests.bench.long_logbook import snapshot_of
    from tui.kept import kept_results

    began = process_time()
    snapshot = snapshot_of(path, today)
    read = process_time()
    levels_of(snapshot, kept_results())
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    return {"read": read - began, "levels": process_time() - read, "MB": most}


TASKS: dict[str, Callable[..., dict[str, float]]] = {
    task.__name__: task for task in (bare, keys, cold)
}

if __name__ == "__main__":
    task, *where = sys.argv[1:]
    asked = (Path(where[0]), date.fromisoformat(where[1])) if where else ()
    print(json.dumps(TASKS[task](*asked)))
