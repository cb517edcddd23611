"""The commands that use the network: weather from a public archive, when it is asked for."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import TypeVar

import click
import platformdirs

from store.errors import BadFile, BadLines, BadValue
from store.fetching.archive import (
    LISTS_ADDRESS,
    STATION_ADDRESS,
    fetch_lists,
    fetch_station,
    station_id_from,
)
from store.fetching.download import Progress
from store.fetching.near import near_rows, place_of_tract
from store.haul.distance import Place
from store.logbook.backups import Why, back_up
from store.logbook.places import places
from store.transfer.weather import keep_weather
from store.weather.files import FileUnits, ReadOptions
from store.weather.readers.recognise import read_weather
from tui.commands.shared import (
    How,
    for_reading,
    for_writing,
    how_to_answer,
    print_report,
    tell_weather,
    warn,
)
from tui.parameters import Latitude, logbook_argument, today_option

T = TypeVar("T")


@click.group()
def weather() -> None:
    """Fetch weather from the public archive GHCN-Daily of NOAA.

    These are the only commands that use the network.
    """


@weather.command()
@logbook_argument
@click.argument("station")
@click.option("--tract", help="Tract that is to use it; each without weather if not given.")
@click.option("--address", default=STATION_ADDRESS, show_default=True, metavar="ADDRESS",
              help="Where the files of stations are.")  # fmt: skip
@click.option(
    "--units", type=click.Choice([u.value for u in FileUnits]), help="Units of another archive."
)
@click.option("--skip-bad-lines", is_flag=True, help="Leave out lines that cannot be true.")
@today_option
def fetch(
    logbook: Path,
    station: str,
    tract: str | None,
    address: str,
    units: str | None,
    skip_bad_lines: bool,
    today: date | None,
) -> None:
    """Fetch the daily weather of STATION into LOGBOOK, as an import of its file would.

    `brimbook weather near` lists the stations around a tract. Fetching again brings what is
    new. A file that does not come whole is not imported, and undo takes all of it back.
    """
    station_id = station_id_from(station)
    options = ReadOptions(
        units=FileUnits(units) if units else None,
        station=station_id,
        skip_bad_lines=skip_bad_lines,
    )
    with (
        for_writing(logbook, today) as book,
        tempfile.TemporaryDirectory(prefix="brimbook-") as folder,
    ):
        file = _followed(fetch_station(station_id, Path(folder), address))
        try:
            read = read_weather(file, options=options)
        except BadLines as error:
            raise BadFile(f"{error} Or leave such lines out with --skip-bad-lines.") from error
        back_up(logbook, Why.IMPORT)
        tell_weather(keep_weather(book, read, tract), file.name)


@weather.command()
@logbook_argument
@click.argument("tract")
@click.option("--at", nargs=2, type=(Latitude(), click.FloatRange(-180, 180)),
              metavar="LATITUDE LONGITUDE",
              help="Where it is; else its own coordinates or its stations'.")  # fmt: skip
@click.option("--count", type=click.IntRange(1, 100), default=10, show_default=True,
              help="How many.")  # fmt: skip
@click.option("--ended", is_flag=True, help="Also stations that have stopped measuring.")
@click.option("--address", default=LISTS_ADDRESS, show_default=True, metavar="ADDRESS",
              help="Where the lists of stations are.")  # fmt: skip
@how_to_answer()
@today_option
def near(
    logbook: Path,
    tract: str,
    at: tuple[float, float] | None,
    count: int,
    ended: bool,
    address: str,
    how: How,
    today: date | None,
) -> None:
    """Print the weather stations nearest to TRACT that have rain, highs and lows.

    The lists of all stations are fetched, some 45 megabytes, and kept for a month in your
    folder for temporary data, from which they may be deleted.
    """
    with for_reading(logbook, today) as book:
        known, since = places(book), 0 if ended else book.today.year - 1
        shown_in = how.units_of(book)
    found = known.find_tract(tract)
    try:
        place = place_of_tract(known, found) if at is None else Place(*at)
    except BadValue as error:
        raise BadValue(f"{str(error).rstrip('.')}, with --at.") from error
    kept = platformdirs.user_cache_path("brimbook")
    stations, inventory = _followed(fetch_lists(kept, address))
    print_report(near_rows(stations, inventory, place, count, since), how, shown_in)


def _followed(steps: Iterator[Progress | T]) -> T:
    """The last of the steps, which is what was fetched, after telling of the others."""
    seen = sys.stderr.isatty()
    for step in steps:
        if not isinstance(step, Progress):
            return step
        if step.said:
            warn((step.said,))
        elif seen:
            click.echo(f"\r{step.amount} ", err=True, nl=step.got_bytes == step.total_bytes)
    raise AssertionError("a fetch ends with what it fetched")
