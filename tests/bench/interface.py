"""What the interface costs: `python -m tests.bench.interface`, `--large` for 500 stations.

CPU seconds of processes of their own, on one machine in one run, each against its measure
there: a table of Textual for what is on screen, a transaction of SQLite for a save, Python's
reader of CSV for an import. So the ratios hold on another machine as well.
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
from collections.abc import Callable
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
from tests.bench.long_logbook import LAST_DAY, make_long_logbook
from tests.bench.places import table

ROOT = Path(__file__).parents[2]
YEARS, STATIONS, MANY = 15, 14, 500
ROUNDS = 3


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


def on_screen(work: Path, book: Path) -> list[Figure]:
    kept = work / "kept"
    bare = best(lambda: child(work, "bare"))
    figures = [Figure("a bare table on screen", bare["first picture"], "s", 1.0)]
    first = child(kept, "start", book, LAST_DAY)

    def told(what: str, found: dict[str, float], target: str) -> None:
        for stage in ("register", "levels", "all"):
            ratio = found[stage] / bare["first picture"]
            aim = target if stage == "levels" else ""
            figures.append(Figure(f"{what}: {stage} on screen", found[stage], "s", ratio, aim))

    told("first start", first, "")
    told("nothing new", best(lambda: child(kept, "start", book, LAST_DAY)), "1.3")
    read = work / "read.db"
    shutil.copy(book, read)
    with logbook_at(read, LAST_DAY) as logbook:
        station_id = next(iter(places(logbook).stations))
        write(logbook, "A reading", [Draft(LAST_DAY, Reading(station_id, 250.0))])
    told("a new reading", _afresh(work, kept, read, LAST_DAY), "")
    told("a new day", _afresh(work, kept, book, LAST_DAY + timedelta(days=1)), "")
    pressed = best(lambda: child(kept, "keys", book, LAST_DAY), 2)
    figures.append(Figure("a key in the bare table", bare["key"], "ms", 1.0))
    for name, ms in pressed.items():
        figures.append(Figure(f"a key: {name}", ms, "ms", ms / bare["key"], "16 ms"))
    return figures


def _afresh(work: Path, kept: Path, book: Path, today: date) -> dict[str, float]:
    """The start of a day on what was kept before it, every round from the same."""

    def once() -> dict[str, float]:
        own = work / "own"
        shutil.rmtree(own, ignore_errors=True)
        shutil.copytree(kept, own)
        return child(own, "start", book, today)

    return best(once)


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
        figures = [*on_screen(work, book), *saving(work, book), *importing(work)]
        figures += cold(work, book, STATIONS)
        if large:
            many = work / "many.db"
            make_long_logbook(many, MANY, YEARS)
            figures += cold(work, many, MANY)
    rows = [
        [f.name, f"{f.value:.3g} {f.unit}", "" if f.ratio is None else f"{f.ratio:.2f}", f.target]
        for f in figures
    ]
    print(f"{STATIONS} stations x {YEARS} years, CPU of a process from its start\n")
    print(table(["measured", "value", "ratio", "target"], rows))
    if out is not None:
        out.write_text(json.dumps([vars(figure) for figure in figures], indent=1))


if __name__ == "__main__":
    main()
