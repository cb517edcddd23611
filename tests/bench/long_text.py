"""A text of a hundred thousand lines, out and in: `python -m tests.bench.long_text`."""

from __future__ import annotations

import resource
import tempfile
import time
from datetime import date
from pathlib import Path

import click

from store.exchange.text_in import logbook_from_text
from store.exchange.text_out import write_text
from store.logbook.opening import create_logbook, logbook_at
from store.logbook.weather_rows import store_weather
from store.records import WeatherImport
from store.weather.days import empty_weather

DAYS = 10_000


def _peak_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


@click.command()
@click.option("--lines", default=100_000, show_default=True)
def main(lines: int) -> None:
    """Say how long it takes, and by how much the memory of the process grows."""
    with tempfile.TemporaryDirectory(prefix="brimbook-text-") as name:
        folder = Path(name)
        logbook = create_logbook(folder / "long.db")
        weather = empty_weather(date(1980, 1, 1), DAYS)
        weather.rain_mm[:] = 1.0
        record = logbook.new_id()
        for number in range(lines // DAYS):
            fact = WeatherImport(logbook.new_id(), record, "Barn", f"{number}.csv")
            store_weather(logbook, fact, weather)
        before, began = _peak_mb(), time.monotonic()
        write_text(logbook, folder / "long.jsonl")
        logbook.close()
        written = time.monotonic()
        logbook_from_text(folder / "long.jsonl", folder / "again.db")
        read = time.monotonic()
        grown = _peak_mb() - before
        with logbook_at(folder / "again.db") as again:
            write_text(again, folder / "again.jsonl")
        same = (folder / "again.jsonl").read_bytes() == (folder / "long.jsonl").read_bytes()
        size = (folder / "long.jsonl").stat().st_size / 1e6
        print(f"{lines} lines, {size:.1f} MB: written in {written - began:.1f} s, read in "
              f"{read - written:.1f} s, memory grew by {grown:.1f} MB, "
              f"{'the same' if same else 'NOT THE SAME'} again")  # fmt: skip


if __name__ == "__main__":
    main()
