"""Run an application without a terminal, press its keys, and wait for what they start."""

import asyncio
from collections.abc import Awaitable, Callable

from textual.app import App
from textual.pilot import Pilot

from tui.base.field_screen import FieldScreen

NARROW, WIDE = (80, 24), (140, 40)
LOOKS = 50
"""How often a screen of another size is looked for, before a test goes on without it."""
Steps = Callable[[Pilot[None]], Awaitable[None]]


def drive(
    app: App[None], steps: Steps, size: tuple[int, int] = NARROW, *, notifications: bool = False
) -> None:
    """Start the application, take the steps once it has settled, and end it."""

    async def run() -> None:
        async with app.run_test(size=size, notifications=notifications) as pilot:
            await settle(pilot)
            await steps(pilot)

    asyncio.run(run())


async def settle(pilot: Pilot[None]) -> None:
    """Wait until all work has ended, that of its answers too, and is on screen."""
    await pilot.pause()
    while not all(worker.is_finished for worker in pilot.app.workers):
        await pilot.pause()


async def resize(pilot: Pilot[None], width: int, height: int) -> None:
    """Give the terminal another size, and wait until the screen is drawn in it.

    On a busy machine the application seems to rest before it has begun to.
    """
    await pilot.resize_terminal(width, height)
    for _ in range(LOOKS):
        if pilot.app.screen._compositor.size == (width, height):
            break
        await pilot.pause()
    await settle(pilot)


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys one after the other, then wait for what they started."""
    await pilot.press(*keys)
    await settle(pilot)


async def typed(pilot: Pilot[None], text: str) -> None:
    """Put a text into the open field in one go, and press Enter."""
    screen = pilot.app.screen
    assert isinstance(screen, FieldScreen)
    screen.field.line.value = text
    await press(pilot, "enter")
