"""What the interface costs: `python -m tests.bench.interface`, `--large` for 500 stations.

Each against its measure on the same machine in the same run: a table of Textual for what is
on screen, a transaction of SQLite for a save, Python's reader of CSV for an import. So the
ratios hold on another machine as well. Starts are those of the whole program at a terminal,
timed from outside: until the register is drawn, the levels, and all of it. Other figures are
CPU seconds of processes of their own.
"""

from __future__ import annotations

import csv
import json
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from statistics import median
from time import perf_counter, process_time

import click

from store.logbook.journal import write
from store.logbook.opening import create_logbook, logbook_at
from store.logbook.places import places
from store.records import Draft, Reading
from store.transfer.weather import import_weather
from store.weather.files import ReadOptions
from tests.bench.at_terminal import Took, Wait, at_terminal
from tests.bench.bare_table import ROWS
from tests.bench.long_logbook import LAST_DAY, make_long_logbook
from tests.bench.places import table

ROOT = Path(__file__).parents[2]
YEARS, STATIONS, MANY = 15, 14, 500
ROUNDS, STARTS = 3, 7


@dataclass(frozen=True)
class Figure:
    """What was measured, in a unit, and as a multiple of its measure where it has one."""

    name: str
    value: float
    unit: str
    ratio: float | None = None
    target: str = ""


def child(folder: Path, task: str, *asked: object) -> dict[str, float]:
    """What a task says in a process of its own, with results kept in a folder."""
    command = [sys.executable, "-m", "tests.bench.interface_child", task, *map(str, asked)]
    done = subprocess.run(
        command,
        cwd=ROOT,
        env=os.environ | {"XDG_CACHE_HOME": str(folder), "PYTHONPATH": str(ROOT)},
        check=True,
        capture_output=True,
        text=True,
    )
    return dict(json.loads(done.stdout))


def best(asked: Callable[[], dict[str, float]], rounds: int = ROUNDS) -> dict[str, float]:
    """The least of several rounds, each figure by itself."""
    answers = [asked() for _ in range(rounds)]
    return {name: min(answer[name] for answer in answers) for name in answers[0]}


REGISTER = (
    Wait("register", f"Tank {STATIONS - 4:03}"),
    Wait("levels", "modeled: "),
    Wait("all", "weather to "),
)
"""What comes up after a start: names first, levels at the cursor, and all with the status."""
DOWN = "\x1b[B"
BARE = "a bare table"


def started(kept: Path, command: Sequence[str], waits: Sequence[Wait]) -> dict[str, Took]:
    """The start of a program at a terminal, with results kept in a folder."""
    own = {"XDG_CACHE_HOME": str(kept), "PYTHONPATH": str(ROOT)}
    return at_terminal(command, waits, os.environ | own)


def bare_table(kept: Path) -> dict[str, Took]:
    """The start of a table of Textual, until it is drawn."""
    return started(kept, ["-m", "tests.bench.bare_table"], [Wait(BARE, f"{ROWS - 1} 0")])


def medians(kept: Path, asked: Callable[[], dict[str, Took]]) -> dict[str, Took]:
    """The median of several starts, each figure by itself; a bare one is taken beside each."""
    answers = [bare_table(kept) | asked() for _ in range(STARTS)]
    return {
        name: Took(
            median(answer[name].wall_s for answer in answers),
            median(answer[name].cpu_s for answer in answers),
        )
        for name in answers[0]
    }


def starting(work: Path, book: Path) -> list[Figure]:
    """What a start costs until each stage is on screen, against a bare table on screen."""
    kept = work / "kept"
    figures = []

    def told(what: str, found: dict[str, Took], target: str = "") -> None:
        bare = found[BARE]
        for stage, took in found.items():
            aim = target if stage == "register" else ""
            cpu, wall = took.cpu_s / bare.cpu_s, took.wall_s / bare.wall_s
            figures.append(Figure(f"{what}: {stage}, CPU", took.cpu_s, "s", cpu, aim))
            figures.append(Figure(f"{what}: {stage}, clock", took.wall_s, "s", wall, aim))

    def opened(path: Path, today: date) -> list[str]:
        return ["-m", "tui", str(path), "--today", str(today)]

    first = bare_table(kept) | started(kept, opened(book, LAST_DAY), REGISTER)
    told("first start", first)
    next_one = medians(kept, lambda: started(kept, opened(book, LAST_DAY), REGISTER))
    told("next start", next_one, "1.3")
    keys = [Wait("register", REGISTER[0].text, DOWN), Wait("a key answered", "Tank 001")]
    told("a key at once", medians(kept, lambda: started(kept, opened(book, LAST_DAY), keys)))
    read = work / "read.db"
    shutil.copy(book, read)
    with logbook_at(read, LAST_DAY) as logbook:
        *_, station_id = places(logbook).stations
        write(logbook, "A reading", [Draft(LAST_DAY, Reading(station_id, 250.0))])
    told("a new reading", _afresh(work, kept, opened(read, LAST_DAY)))
    told("a new day", _afresh(work, kept, opened(book, LAST_DAY + timedelta(days=1))))
    return figures


def _afresh(work: Path, kept: Path, command: Sequence[str]) -> dict[str, Took]:
    """The start of a day on what was kept before it, every time from the same."""

    def once() -> dict[str, Took]:
        own = work / "own"
        shutil.rmtree(own, ignore_errors=True)
        shutil.copytree(kept, own)
        return started(own, command, REGISTER)

    return medians(kept, once)


def pressing(work: Path, book: Path) -> list[Figure]:
    """What a key costs on the main screens, against one in a bare table."""
    bare = best(lambda: child(work, "bare"))["key"]
    pressed = best(lambda: child(work / "kept", "keys", book, LAST_DAY), 2)
    figures = [Figure("a key in the bare table", bare, "ms", 1.0)]
    return figures + [
        Figure(f"a key: {name}", ms, "ms", ms / bare, "16 ms") for name, ms in pressed.items()
    ]


def saving(work: Path, book: Path) -> list[Figure]:
    """Wall time of a save on disk, against a transaction of two rows that is as safe."""
    copy, times = work / "save.db", []
    shutil.copy(book, copy)
    with logbook_at(copy, LAST_DAY) as logbook:
        station_id = next(iter(places(logbook).stations))
        for number in range(20):
            drafts = [Draft(LAST_DAY, Reading(station_id, 100.0 + number))]
            began = perf_counter()
            write(logbook, "A reading", drafts)
            times.append(perf_counter() - began)
    db, bare = sqlite3.connect(work / "bare.db"), []
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("PRAGMA synchronous = FULL")
    db.execute("CREATE TABLE entry (a TEXT, b TEXT)")
    for number in range(20):
        began = perf_counter()
        with db:
            db.executemany("INSERT INTO entry VALUES (?, ?)", [("a", str(number))] * 2)
        bare.append(perf_counter() - began)
    db.close()
    ratio = median(times) / median(bare)
    return [
        Figure("a bare transaction", 1000.0 * median(bare), "ms", 1.0),
        Figure("a save", 1000.0 * median(times), "ms", ratio, "1.5"),
    ]


def importing(work: Path) -> list[Figure]:
    """CPU of importing 100 years of days, against reading the file's rows alone."""
    file, day = work / "century.csv", date(1900, 1, 1)
    lines = ["date,rain_mm,tmin_c,tmax_c"]
    for number in range(36_524):
        lines.append(f"{day + timedelta(days=number)},{number % 9},{number % 20},{number % 20 + 8}")
    file.write_text("\n".join(lines))
    began = process_time()
    with file.open(newline="") as opened:
        rows = list(csv.reader(opened))
    bare = process_time() - began
    assert len(rows) == len(lines)
    logbook = create_logbook(work / "century.db")
    began = process_time()
    import_weather(logbook, file, ReadOptions(), latitude_deg=40.0)
    took = process_time() - began
    logbook.close()
    return [
        Figure("csv.reader over 100 years", 1000.0 * bare, "ms", 1.0),
        Figure("import of 100 years", 1000.0 * took, "ms", took / bare, "20"),
    ]


def cold(work: Path, book: Path, stations: int) -> list[Figure]:
    """Levels of a logbook that was never opened here, and once more."""
    kept, name = work / f"cold {stations}", f"{stations} stations x {YEARS} years"
    figures = []
    for how in ("cold", "again"):
        found = child(kept, "cold", book, LAST_DAY)
        figures += [
            Figure(f"{name}, {how}: read", found["read"], "s"),
            Figure(f"{name}, {how}: levels", found["levels"], "s"),
            Figure(f"{name}, {how}: most memory", found["MB"], "MB"),
        ]
    return figures


@click.command()
@click.option("--large", is_flag=True, help=f"Also {MANY} stations, which take minutes to write.")
@click.option("--json", "out", type=click.Path(path_type=Path), help="Write the figures here too.")
def main(large: bool, out: Path | None) -> None:
    """Measure and print a table."""
    with tempfile.TemporaryDirectory(prefix="brimbook-bench-") as name:
        work = Path(name)
        book = work / "book.db"
        make_long_logbook(book, STATIONS, YEARS)
        figures = [
            *starting(work, book),
            *pressing(work, book),
            *saving(work, book),
            *importing(work),
        ]
        figures += cold(work, book, STATIONS)
        if large:
            many = work / "many.db"
            make_long_logbook(many, MANY, YEARS)
            figures += cold(work, many, MANY)
    rows = [
        [f.name, f"{f.value:.3g} {f.unit}", "" if f.ratio is None else f"{f.ratio:.2f}", f.target]
        for f in figures
    ]
    print(f"{STATIONS} stations x {YEARS} years\n")
    print(table(["measured", "value", "ratio", "target"], rows))
    if out is not None:
        out.write_text(json.dumps([vars(figure) for figure in figures], indent=1))


if __name__ == "__main__":
    main()
