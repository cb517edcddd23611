"""Nonsense for every importer, the opener and every field: `python -m tests.bench.fuzz`.

Prints how many files of each kind were tried, how many were taken, and each failure.
"""

from __future__ import annotations

import shutil
import tempfile
import traceback
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import click
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from store.errors import BrimbookError
from store.logbook.opening import logbook_at
from store.model.snapshot import load
from store.model.working_out import board_of
from store.transfer.importing import SheetKind
from tests import fuzzing
from tests.tui.random_keys import small_logbook

Bring = Callable[[Path, Path, bytes], bool]


@click.command()
@click.option("--count", default=1000, show_default=True, help="Files of each kind.")
@click.option("--boards", default=20, show_default=True, help="A board after every so many taken.")
def main(count: int, boards: int) -> None:
    """Bring in nonsense; say what fell over."""
    settings.register_profile(
        "long", max_examples=count, deadline=None, derandomize=False, database=None,
        suppress_health_check=list(HealthCheck), phases=[Phase.generate, Phase.shrink],
    )  # fmt: skip
    settings.load_profile("long")
    failed = 0
    with tempfile.TemporaryDirectory(prefix="brimbook-fuzz-") as name:
        folder = Path(name)
        start = small_logbook(folder / "start.db", fuzzing.TODAY)
        for what, strategy, bring in _subjects():
            failed += _bring(what, strategy, bring, start, folder, boards)
        opened = _open_damaged(start, folder)
        print(f"damaged logbooks: {opened['tried']} tried, {opened['read']} read, "
              f"{opened['failed']} failed")  # fmt: skip
    print(f"{failed + opened['failed']} failures")


def _bring(
    what: str,
    strategy: st.SearchStrategy[bytes],
    bring: Bring,
    start: Path,
    folder: Path,
    boards: int,
) -> int:
    """Try one kind of file; gives the number of failures, which is one at most."""
    tally = Counter[str]()

    @given(data=strategy)
    def one(data: bytes) -> None:
        path = Path(shutil.copy(start, folder / "book.db"))
        taken = bring(path, folder / "file.csv", data)
        tally["tried"] += 1
        tally["taken"] += taken
        if taken and tally["taken"] % boards == 0:
            _board(path)

    try:
        one()
    except Exception:
        tally["failed"] = 1
        print(f"{what}: {traceback.format_exc()[-3000:]}")
    print(f"{what}: {tally['tried']} tried, {tally['taken']} taken", flush=True)
    return tally["failed"]


def _subjects() -> list[tuple[str, st.SearchStrategy[bytes], Bring]]:
    def sheet(kind: SheetKind) -> Bring:
        return lambda path, file, data: fuzzing.attempt_sheet(path, file, kind, data)

    def weather(forecast: bool, skip: bool) -> Bring:
        return lambda path, file, data: fuzzing.attempt_weather(
            path, file, data, forecast=forecast, skip=skip
        )

    return [
        *((str(kind), fuzzing.sheets(kind), sheet(kind)) for kind in SheetKind),
        ("weather", fuzzing.weather_files(), weather(False, False)),
        ("weather, bad lines skipped", fuzzing.weather_files(), weather(False, True)),
        ("forecast", fuzzing.weather_files(), weather(True, True)),
    ]


def _board(path: Path) -> None:
    with logbook_at(path, fuzzing.TODAY) as logbook:
        snapshot = load(logbook)
    board_of(snapshot)


def _open_damaged(start: Path, folder: Path) -> Counter[str]:
    """Open damaged copies of a logbook and read them through."""
    tally = Counter[str]()
    path = folder / "damaged.db"

    @given(data=fuzzing.damaged(start.read_bytes()))
    def one(data: bytes) -> None:
        for left in folder.glob("damaged.db*"):
            shutil.rmtree(left) if left.is_dir() else left.unlink()
        path.write_bytes(data)
        tally["tried"] += 1
        try:
            with logbook_at(path, fuzzing.TODAY) as logbook:
                load(logbook)
        except BrimbookError:
            return
        tally["read"] += 1

    try:
        one()
    except Exception:
        tally["failed"] += 1
        print(f"damaged logbook: {traceback.format_exc()[-3000:]}")
    return tally


if __name__ == "__main__":
    main()
