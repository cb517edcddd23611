"""Press seeded random keys on a logbook's screens, as a cat on the keyboard would.

A run gives what it pressed, so that a run that failed tells how; the same seed presses
the same keys as long as the screens offer the same ones.
"""

from __future__ import annotations

import asyncio
import random
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TypeVar

from textual import events
from textual.drivers.headless_driver import HeadlessDriver
from textual.geometry import Size
from textual.pilot import Pilot

from store.errors import Refused
from store.logbook.entries import live_entries
from store.logbook.journal import redo, undo
from store.logbook.opening import Logbook, create_logbook, logbook_at, working_copy
from store.logbook.standing import standing
from store.transfer.importing import SheetKind, import_sheet
from store.transfer.weather import import_weather
from store.weather.files import ReadOptions
from tui.app import BrimbookApp
from tui.session import LogbookSession

T = TypeVar("T")

LEFT_OUT = frozenset({"quit", "app.quit", "quit_brimbook", "help_quit", "suspend_process"})
"""Actions that end the run instead of going on with it."""

PLAIN = (
    *"0123456789.,-/ abcdeikmnorsuwxyzULN",
    *("enter", "escape", "tab", "shift+tab", "backspace", "delete", "space", "home", "end"),
    *("up", "down", "left", "right", "pageup", "pagedown", "f1", "f2", "ctrl+u", "ctrl+w"),
)
TEXTS = (
    "6", "12.5", "-3", "1e309", "9" * 400, "0", "2015-09-30", "0001-01-01", "9999-12-31",
    "2015-02-30", "04-05", "Öak [bold]flat[/]", "=1+1", "\x1b[31mred", "a\nb\nc", "'", "~nobody/x",
    "x" * 300, "None", "\N{PILE OF POO}" * 9, "North", "41.5", "nan", "inf",
)  # fmt: skip
KEYS_RISE = 4
"""Looks until no key that was pressed is on its way any more, from part to whole."""
SIZES = ((80, 24), (140, 40), (60, 15), (200, 60), (20, 6), (110, 30))


@dataclass
class Run:
    """One run: where, on which day, and all that was pressed."""

    path: Path
    today: date
    seed: int
    pressed: list[str] = field(default_factory=list)
    screens: set[str] = field(default_factory=set)
    acknowledged: set[str] = field(default_factory=set)
    """Batches that were seen in the file right after a write said it was done."""


class WatchedSession(LogbookSession):
    """A session that notes every batch in the file once a write has returned."""

    acknowledged: set[str]

    def do(self, work: Callable[[Logbook], T]) -> T:
        with logbook_at(self.path, self.today) as logbook:
            done = work(logbook)
            self.acknowledged.update(_batch_ids(logbook))
        return done


def _batch_ids(logbook: Logbook) -> set[str]:
    return {batch_id for (batch_id,) in logbook.db.execute("SELECT batch_id FROM batch")}


def run_keys(run: Run, steps: int, files: Sequence[Path] = ()) -> None:
    """Press about `steps` keys on the run's logbook; `files` are typed as paths as well.

    Raises:
        Exception: whatever reached the application.
    """
    asyncio.run(_run(run, steps, [*TEXTS, *map(str, files)]))


async def _run(run: Run, steps: int, texts: Sequence[str]) -> None:
    stray: list[BaseException | str] = []
    loop = asyncio.get_running_loop()
    loop.set_exception_handler(
        lambda _, context: stray.append(context.get("exception") or str(context["message"]))
    )
    app = BrimbookApp(run.path, today=run.today)
    app.session = WatchedSession(run.path, run.today)
    app.session.acknowledged = run.acknowledged
    luck = random.Random(run.seed)
    async with app.run_test(size=luck.choice(SIZES), notifications=True) as pilot:
        if luck.random() < 0.8:
            await _work_done(pilot)
        while len(run.pressed) < steps and app.is_running:
            run.screens.add(type(app.screen).__name__)
            await _one(pilot, run, luck, texts)
        if app.is_running and luck.random() < 0.5:
            await _burst(pilot, run, [_bound_key(pilot, luck), "q", "down"])
        for _ in range(KEYS_RISE):
            if app.is_running and app._exception is None:
                await _work_done(pilot)
    if stray:
        raise RuntimeError(f"an error nobody waited for: {stray[0]!r}") from (
            stray[0] if isinstance(stray[0], BaseException) else None
        )


async def _one(pilot: Pilot[None], run: Run, luck: random.Random, texts: Sequence[str]) -> None:
    """Do one random thing."""
    app, dice = pilot.app, luck.random()
    if dice < 0.60:
        await _press(pilot, run, _bound_key(pilot, luck))
    elif dice < 0.72:
        burst = [
            _bound_key(pilot, luck) if luck.random() < 0.5 else luck.choice(PLAIN)
            for _ in range(luck.randint(2, 8))
        ]
        await _burst(pilot, run, burst)
    elif dice < 0.84:
        await _press(pilot, run, luck.choice(PLAIN))
    elif dice < 0.90:
        text = luck.choice(texts)
        run.pressed.append(f"paste {text[:60]!r}")
        app.post_message(events.Paste(text))
    elif dice < 0.95:
        width, height = app.size
        at = luck.randrange(width), luck.randrange(height)
        run.pressed.append(f"click {at}")
        await _click(pilot, at, luck.choice((1, 1, 2)))
    elif dice < 0.96:
        await _other_program(pilot, run, luck)
    elif dice < 0.98:
        size = luck.choice(SIZES)
        run.pressed.append(f"size {size}")
        await _resize(pilot, Size(*size))
    else:
        run.pressed.append("wait")
        await _work_done(pilot)


async def _other_program(pilot: Pilot[None], run: Run, luck: random.Random) -> None:
    """Let another program undo or redo in the file, which the screens notice."""
    app = pilot.app
    assert isinstance(app, BrimbookApp)
    for _ in range(luck.choice((1, 1, 2, 5))):
        work = luck.choice((undo, undo, redo))
        run.pressed.append(f"elsewhere {work.__name__}")
        with suppress(Refused):
            await asyncio.to_thread(app.session.do, work)
    app._look_for_news()


async def _click(pilot: Pilot[None], at: tuple[int, int], times: int) -> None:
    """Click as a terminal tells of it: the button goes down, and up."""
    for _ in range(times):
        for kind in (events.MouseDown, events.MouseUp):
            pilot.app.post_message(kind(None, *at, 0, 0, 1, False, False, False, *at))
    await pilot._wait_for_screen()


async def _resize(pilot: Pilot[None], size: Size) -> None:
    if isinstance(pilot.app._driver, HeadlessDriver):
        pilot.app._driver._size = size
    pilot.app.post_message(events.Resize(size, size))
    await pilot._wait_for_screen()


async def _work_done(pilot: Pilot[None]) -> None:
    """Wait for all that runs in threads, and for the screen to show it.

    Pilot's own pause waits for the processor to rest as well, a second where it does not.
    """
    while pilot.app.is_running and not all(one.is_finished for one in pilot.app.workers):
        await asyncio.sleep(0.01)
    await pilot._wait_for_screen()


async def _press(pilot: Pilot[None], run: Run, key: str) -> None:
    """Press a key and wait until the screen has taken it, not for the work that starts."""
    await _burst(pilot, run, [key])
    await pilot._wait_for_screen()


async def _burst(pilot: Pilot[None], run: Run, keys: Sequence[str]) -> None:
    """Press keys as a fast typist or a script does: none waits for what the last one did."""
    run.pressed.extend(keys)
    for key in keys:
        pilot.app.post_message(events.Key(key, key if len(key) == 1 else None))
    await asyncio.sleep(0)


def _bound_key(pilot: Pilot[None], luck: random.Random) -> str:
    """A key that the screen offers now; none that ends the run."""
    keys = [
        key
        for key, active in sorted(pilot.app.screen.active_bindings.items())
        if active.enabled and active.binding.action not in LEFT_OUT
    ]
    return luck.choice(keys or ["escape"])


def fault_of(run: Run, before: Path) -> str | None:
    """What a run lost or broke; None where the file holds all it should.

    `before` is a copy of the logbook as it was. What both have in common is brought about
    in each by undoing the rest; the two must then say the same.
    """
    with logbook_at(run.path, run.today) as after, working_copy(before) as first:
        if (verdict := after.db.execute("PRAGMA integrity_check").fetchone()[0]) != "ok":
            return f"the file is damaged: {verdict}"
        if broken := after.db.execute("PRAGMA foreign_key_check").fetchall():
            return f"rows that point at nothing: {broken[:3]}"
        if lost := run.acknowledged - _batch_ids(after):
            return f"{len(lost)} acknowledged batches are gone"
        with logbook_at(first, run.today) as start:
            common = _common_batches(start, after)
            for logbook in (start, after):
                while len(standing(logbook.db).done) > common:
                    undo(logbook)
            if _said(start) != _said(after):
                return "undoing everything does not give the first state"
    return None


def _common_batches(one: Logbook, other: Logbook) -> int:
    pairs = zip(standing(one.db).done, standing(other.db).done, strict=False)
    count = 0
    for mine, theirs in pairs:
        if mine.batch_id != theirs.batch_id:
            break
        count += 1
    return count


def _said(logbook: Logbook) -> list[str]:
    return sorted(f"{entry.day} {entry.fact}" for entry in live_entries(logbook))


WEATHER = Path(__file__).parents[1] / "data" / "new_york_daily.csv"
FILES = {
    "stations.csv": "tract,station,shape,length_in,width_in,depth_in,access,installed,latitude\n"
    "North,Far [saddle],rectangular,38,22,30,foot,2015-05-05,40.7\n"
    "North,Oak,rectangular,38,22,30,vehicle,2015-05-05,40.7\n"
    "South,Rocks,rectangular,48,30,30,atv,2015-05-05,40.7\n",
    "readings.csv": "date,station,below_rim_in,level\n2015-08-20,Oak,10,\n2015-09-20,Rocks,,half\n",
    "fouled.csv": "date,station,cause,action\n2015-09-10,Oak,drowned animal,left\n",
    "season.csv": "tract,window,first,last\nNorth,rake,2 April,20 April\n",
    "bad.csv": "date,station,below_rim_in\n2015-02-30,Nowhere,lots\n",
    "no text.csv": "\0\0\0",
}


def files_to_import(folder: Path) -> list[Path]:
    """Sheets and weather, good and bad, made in a folder."""
    for name, text in FILES.items():
        (folder / name).write_text(text)
    season = folder / "weather.csv"
    head, *days = WEATHER.read_text().splitlines()
    season.write_text("\n".join([head, *(day for day in days if "2014-09" < day < "2015-11")]))
    return [*(folder / name for name in FILES), season, folder, folder / "nowhere.csv"]


def small_logbook(path: Path, today: date) -> Path:
    """Two tracts, three stations, a year of weather, an event."""
    files_to_import(path.parent)
    create_logbook(path).close()
    with logbook_at(path, today) as logbook:
        import_sheet(logbook, SheetKind.STATIONS, path.parent / "stations.csv")
        import_weather(logbook, path.parent / "weather.csv", ReadOptions(), latitude_deg=40.7)
        import_sheet(logbook, SheetKind.READINGS, path.parent / "readings.csv")
        import_sheet(logbook, SheetKind.CONTAMINATION, path.parent / "fouled.csv")
    return path
