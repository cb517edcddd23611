"""Commands that say what is due, and plan the days of work."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import click

from store.haul.distance import MINUTES_PER_HOUR
from store.haul.problem import Limits
from store.logbook.places import places as known_places
from store.model.work_kit import keep_work_kit, work_kit
from store.reports.day_sheet import SheetForm, day_sheet
from store.reports.due import due_rows
from store.reports.places_file import geojson_file, gpx_file
from store.reports.timeline import timeline_rows
from store.reports.work_day import kit_rows, work_day_rows
from store.units import Units
from store.views.work_kit_fields import kit_from
from tui.commands.shared import (
    How,
    for_reading,
    for_writing,
    how_to_answer,
    out_option,
    print_report,
    warn,
)
from tui.kept import kept_results
from tui.parameters import Day, logbook_argument, today_option
from tui.printing import deliver

HTML = "html"
PLACE_FORMS = ("gpx", "geojson")


def limit_options(command: Callable[..., None]) -> Callable[..., None]:
    """The options that say what a day of work may take at most."""
    for option in (
        click.option("--water", type=float, metavar="GALLONS",
                     help="Water there is to haul."),
        click.option("--loads", type=int, help="Loads that may be hauled."),
        click.option("--hours", type=float,
                     help="Hours the day may take; no limit if not given."),
    ):  # fmt: skip
        command = option(command)
    return command


@click.command()
@logbook_argument
@how_to_answer()
@today_option
def due(logbook: Path, how: How, today: date | None) -> None:
    """Print what is due at the stations of LOGBOOK, most urgent first."""
    with for_reading(logbook, today) as book:
        snapshot = how.load(book)
    print_report(due_rows(snapshot, memory=kept_results()), how, snapshot.units)


@click.command()
@logbook_argument
@out_option
@how_to_answer(forms=(), wide=False)
@today_option
def calendar(logbook: Path, out: Path | None, how: How, today: date | None) -> None:
    """Write the windows of LOGBOOK's season and what is due as an iCalendar file.

    Import it into a calendar again whenever you like: entries that are there already
    are brought up to date.
    """
    from store.reports.calendar_file import season_calendar

    with for_reading(logbook, today) as book:
        content = season_calendar(how.load(book), memory=kept_results())
    deliver(content, out)


@click.command()
@logbook_argument
@click.option("--from", "first", type=Day(), help="First day; 1 January of last year if not given.")
@click.option("--to", "last", type=Day(), help="Last day; as far as the model looks if not given.")
@click.option("--station", help="One station, as name or tract/name.")
@how_to_answer()
@today_option
def timeline(
    logbook: Path,
    first: date | None,
    last: date | None,
    station: str | None,
    how: How,
    today: date | None,
) -> None:
    """Print the season of LOGBOOK: what was done, what held, and what is asked for."""
    with for_reading(logbook, today) as book:
        snapshot = how.load(book)
    report = timeline_rows(snapshot, first, last, station, memory=kept_results())
    print_report(report, how, snapshot.units)


@click.command()
@logbook_argument
@click.option("--as", "form", type=click.Choice(PLACE_FORMS), default=PLACE_FORMS[0],
              help="GPX 1.1 waypoints, or GeoJSON.")  # fmt: skip
@out_option
def places(logbook: Path, form: str, out: Path | None) -> None:
    """Write where the stations of LOGBOOK are, as GPX or GeoJSON."""
    with for_reading(logbook, None) as book:
        known = known_places(book)
    written = gpx_file(known) if form == PLACE_FORMS[0] else geojson_file(known)
    warn(written.notes)
    deliver(written.content, out)


@click.command()
@logbook_argument
@click.option("--on", type=Day(), help="Day of the work; today if not given.")
@limit_options
@click.option("--station", "names", multiple=True,
              help="Only this station; may be repeated, in your own order.")  # fmt: skip
@how_to_answer()
@today_option
def workday(
    logbook: Path,
    on: date | None,
    hours: float | None,
    loads: int | None,
    water: float | None,
    names: tuple[str, ...],
    how: How,
    today: date | None,
) -> None:
    """Plan a day of work on what is due in LOGBOOK: order, loads, hours.

    `brimbook kit` keeps what you haul with. Where hours, loads or water are short, the
    stops with the most expected wet days are taken, and stderr says what is left out.
    """
    limits = _limits(hours, loads, water, how.given_in)
    with for_reading(logbook, today) as book:
        snapshot, kit = how.load(book), work_kit(book)
    stations = [snapshot.places.find_station(name).station_id for name in dict.fromkeys(names)]
    answer = work_day_rows(snapshot, kit, on, limits, stations or None, memory=kept_results())
    print_report(answer, how, snapshot.units)


@click.command()
@logbook_argument
@click.option("--on", type=Day(), help="Day of the work; today if not given.")
@limit_options
@click.option("--tract", help="Only the stations of this tract.")
@out_option
@how_to_answer(forms=tuple(form.value for form in SheetForm), wide=False)
@today_option
def sheet(
    logbook: Path,
    on: date | None,
    hours: float | None,
    loads: int | None,
    water: float | None,
    tract: str | None,
    out: Path | None,
    how: How,
    today: date | None,
) -> None:
    """Write the sheet to take along on a day of work, from LOGBOOK.

    The page needs no network. What is typed into it is saved as a CSV, which
    `brimbook import LOGBOOK sheet FILE` reads.
    """
    with for_reading(logbook, today) as book:
        snapshot, kit = how.load(book), work_kit(book)
    limits = _limits(hours, loads, water, how.given_in)
    form = SheetForm(how.form)
    content = day_sheet(snapshot, kit, on, limits, tract, form, memory=kept_results())
    deliver(content.encode(), out)


@click.command()
@logbook_argument
@click.option("--by", help="What carries the water: vehicle or atv, which gets farther.")
@click.option("--payload", "payload_kg", metavar="LB",
              help="What it may carry, off its rating plate.")  # fmt: skip
@click.option("--tank", "tank_l", metavar="GALLONS", help="What the hauling tank holds.")
@click.option("--tank-weight", "tank_kg", metavar="LB", help="Of the empty tank with its pump.")
@click.option("--pump", "pump_l_per_min", metavar="GALLONS", help="What it pumps a minute.")
@click.option("--source-name", help="Name of the place where the tank is filled.")
@click.option("--fill-up", "fill_up_minutes", metavar="MINUTES", help="To fill the tank there.")
@click.option("--drive", "drive_km_per_hour", metavar="MPH", help="Speed between stops.")
@click.option("--walk", "walk_km_per_hour", metavar="MPH", help="Speed on foot.")
@click.option("--detour", metavar="TIMES", help="Length of a way over the straight line.")
@click.option("--start", nargs=2, metavar="LATITUDE LONGITUDE", help="Where the day begins.")
@click.option("--source", nargs=2, metavar="LATITUDE LONGITUDE", help="Where the water is.")
@how_to_answer()
def kit(
    logbook: Path,
    start: tuple[str, str] | None,
    source: tuple[str, str] | None,
    how: How,
    **given: str | None,
) -> None:
    """Print what LOGBOOK plans work days with; options change it for good.

    What is not given stays as it is. Until anything is given, all of it is assumed.
    """
    texts = {name: text for name, text in given.items() if text is not None}
    for whose, place in (("start", start), ("source", source)):
        if place is not None:
            texts[f"{whose}_latitude_deg"], texts[f"{whose}_longitude_deg"] = place
    with (for_writing if texts else for_reading)(logbook, None) as book:
        if texts:
            keep_work_kit(book, kit_from(work_kit(book), texts, how.given_in))
        shown_in = how.units_of(book)
        print_report(kit_rows(work_kit(book), shown_in), how, shown_in)


def _limits(hours: float | None, loads: int | None, water: float | None, given_in: Units) -> Limits:
    return Limits(
        minutes=None if hours is None else hours * MINUTES_PER_HOUR,
        loads=loads,
        water_l=None if water is None else given_in.volume_from(water),
    )
