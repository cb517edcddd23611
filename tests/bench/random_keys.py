"""Random keys on the demo, a small and an empty logbook: `python -m tests.bench.random_keys`.

Prints every run that fell over or lost something, with the seed that repeats it, and a
count at the end. Files that the screens import are made in a temporary folder.
"""

from __future__ import annotations

import os
import shutil
import tempfile
import time
import traceback
from collections import Counter
from datetime import date
from pathlib import Path

import click
from textual.worker import WorkerFailed

from store.demo.shipped import shipped_demo
from store.logbook.opening import create_logbook
from tests.tui.random_keys import Run, fault_of, files_to_import, run_keys, small_logbook

DEMO_DAY, SMALL_DAY = date(2025, 10, 12), date(2015, 10, 1)
LAST_SHOWN, EVERY = 25, 10


@click.command()
@click.option("--runs", default=30, show_default=True)
@click.option("--steps", default=300, show_default=True, help="Keys of a run.")
@click.option("--first-seed", default=1, show_default=True)
def main(runs: int, steps: int, first_seed: int) -> None:
    """Press keys; say what fell over."""
    began, screens, failed, keys = time.monotonic(), Counter[str](), Counter[str](), 0
    with tempfile.TemporaryDirectory(prefix="brimbook-keys-") as name:
        folder = Path(name)
        small = small_logbook(folder / "small.db", SMALL_DAY)
        empty = folder / "empty.db"
        create_logbook(empty).close()
        files = files_to_import(folder)
        os.chdir(folder)
        kinds = [(small, SMALL_DAY), (empty, SMALL_DAY), (small, SMALL_DAY)] * 2
        kinds.append((shipped_demo(), DEMO_DAY))
        for seed in range(first_seed, first_seed + runs):
            before, today = kinds[seed % len(kinds)]
            path = Path(shutil.copy(before, folder / f"{seed}.db"))
            run = Run(path, today, seed)
            if fault := _fault(run, before, steps, files):
                failed[fault.strip().splitlines()[-1]] += 1
                print(f"seed {seed} on {before.name}: {fault}")
                print(f"  {len(run.pressed)} keys, last: {run.pressed[-LAST_SHOWN:]}", flush=True)
            screens.update(run.screens)
            keys += len(run.pressed)
            if seed % EVERY == 0:
                print(f"{seed - first_seed + 1} runs, {keys} keys", flush=True)
            for left in folder.glob(f"{seed}.db*"):
                left.unlink()
    print(f"\n{runs} runs, {keys} keys, {time.monotonic() - began:.0f} s, "
          f"{failed.total()} failed, screens reached: {dict(screens.most_common())}")  # fmt: skip
    for fault, count in failed.most_common():
        print(f"{count:4} {fault}")


def _fault(run: Run, before: Path, steps: int, files: list[Path]) -> str | None:
    try:
        run_keys(run, steps, files)
    except WorkerFailed as failed:
        return "".join(traceback.format_exception(failed.error))
    except Exception:
        return traceback.format_exc()
    return fault_of(run, before)


if __name__ == "__main__":
    main()
