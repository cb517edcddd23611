"""Commands about levels, fouled water and the days ahead."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from store.errors import BadValue
from store.model.ensembles import Fill
from store.reports.contamination import event_rows, recovery_rows
from store.reports.levels import level_rows
from store.reports.outlook import outlook_rows
from store.typed import number_from
from store.units import Units
from tui.commands.shared import (
    How,
    for_reading,
    how_to_answer,
    pairs,
    print_report,
)
from tui.kept import kept_results
from tui.parameters import Day, logbook_argument, today_option


@click.command()
@logbook_argument
@click.option("--from", "first", type=Day(), help="First day; 30 days back if not given.")
@click.option("--to", "last", type=Day(), help="Last day; today if not given.")
@click.option("--station", help="One station, as name or tract/name.")
@how_to_answer()
@today_option
def levels(
    logbook: Path,
    first: date | None,
    last: date | None,
    station: str | None,
    how: How,
    today: date | None,
) -> None:
    """Print the level of every station of LOGBOOK, day by day."""
    with for_reading(logbook, today) as book:
        snapshot = how.load(book)
    report = level_rows(snapshot, first, last, station, memory=kept_results())
    print_report(report, how, snapshot.units)


@click.command()
@logbook_argument
@how_to_answer()
@today_option
def events(logbook: Path, how: How, today: date | None) -> None:
    """Print contamination events of LOGBOOK with their expected recovery."""
    with for_reading(logbook, today) as book:
        snapshot = how.load(book)
    print_report(event_rows(snapshot, memory=kept_results()), how, snapshot.units)


@click.command()
@logbook_argument
@click.argument("station")
@click.option("--bail", "percent", type=float, metavar="PERCENT",
              help="Percent of the water bailed each round; 90 if not given.")  # fmt: skip
@click.option("--load", "carried", type=float, metavar="GALLONS",
              help="What is carried at once; the usual for the way if not given.")  # fmt: skip
@how_to_answer()
@today_option
def recovery(
    logbook: Path,
    station: str,
    percent: float | None,
    carried: float | None,
    how: How,
    today: date | None,
) -> None:
    """Print every way out of the open contamination events of STATION, side by side."""
    load_l = None if carried is None else how.given_in.volume_from(carried)
    with for_reading(logbook, today) as book:
        snapshot = how.load(book)
    report = recovery_rows(snapshot, station, percent, load_l, memory=kept_results())
    print_report(report, how, snapshot.units)


@click.command()
@logbook_argument
@click.option("--until", type=Day(),
              help="Last day, up to a year ahead; the end of heavy use if not given.")  # fmt: skip
@click.option("--fill", "fills", multiple=True, metavar="STATION=GALLONS",
              help="Water to bring to a station; may be repeated.")  # fmt: skip
@click.option("--on", "fill_day", type=Day(), help="Day of the fills; today if not given.")
@click.option("--daily", is_flag=True, help="A row for every station and day.")
@how_to_answer()
@today_option
def outlook(
    logbook: Path,
    until: date | None,
    fills: tuple[str, ...],
    fill_day: date | None,
    daily: bool,
    how: How,
    today: date | None,
) -> None:
    """Print the chances of holding water until a day, with or without fills."""
    with for_reading(logbook, today) as book:
        snapshot = how.load(book)
    planned = {}
    for name, text in pairs(fills, "--fill", "STATION=GALLONS").items():
        station = snapshot.places.find_station(name)
        planned[station.station_id] = Fill(fill_day or snapshot.today, _litres(text, how.given_in))
    report = outlook_rows(snapshot, until, planned, daily=daily, memory=kept_results())
    print_report(report, how, snapshot.units)


def _litres(typed: str, units: Units) -> float:
    try:
        litres = units.volume_from(number_from(typed))
    except BadValue as error:
        raise click.BadParameter(str(error), param_hint="--fill") from None
    if not 0.0 < litres < 1e6:
        raise click.BadParameter(
            f"{typed} {units.volume_name} cannot be brought", param_hint="--fill"
        )
    return litres
