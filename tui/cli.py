"""The command line: opens the interface, and answers the same questions in print."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

import click
import platformdirs

from store.demo.shipped import shipped_demo
from store.errors import BadFile, BadValue, BrimbookError, NoTract
from store.haul.distance import MINUTES_PER_HOUR
from store.haul.problem import Limits
from store.logbook.backups import Why, back_up, backups_of, copy_to, daily_backup
from store.logbook.opening import create_logbook, logbook_at, working_copy
from store.logbook.places import places as known_places
from store.logbook.restoring import chosen_backup, restore
from store.logbook.settings import DEMO_NAME, is_demo
from store.model.ensembles import Fill
from store.model.snapshot import load
from store.model.work_kit import keep_work_kit, work_kit
from store.reports.budget import budget_rows
from store.reports.contamination import event_rows, recovery_rows
from store.reports.day_sheet import SheetForm, day_sheet
from store.reports.due import due_rows
from store.reports.learned import learned_rows
from store.reports.levels import level_rows
from store.reports.outlook import outlook_rows
from store.reports.places_file import geojson_file, gpx_file
from store.reports.review import review_rows
from store.reports.review_html import review_page
from store.reports.timeline import timeline_rows
from store.reports.what_if import Asked, what_if_rows
from store.reports.work_day import kit_rows, work_day_rows
from store.transfer.forecast import import_forecast
from store.transfer.importing import SheetKind, import_sheet
from store.transfer.weather import import_weather
from store.typed import number_from
from store.units import US_UNITS, litres_from_gallons, m2_from_ft2, mm_from_inches
from store.views.what_if import Change
from store.views.work_kit_fields import kit_from
from store.vocabulary import Exposure
from store.weather.files import DateOrder, FileUnits, ReadOptions
from tui.commands.exchange import EXCHANGE
from tui.commands.shared import (
    as_option,
    for_reading,
    for_writing,
    in_sight,
    logbook_argument,
    out_option,
    print_report,
    say,
    today_option,
    warn,
)
from tui.failure import keep_failure
from tui.parameters import Day, FilePath, Latitude
from tui.printing import As, deliver, print_rows
from tui.serving.server import LOOPBACK, is_loopback, open_to_others, serve_logbook

WEATHER, FORECAST = "weather", "forecast"
FORMS = tuple(one.value for one in As)
HTML = "html"
PLACE_FORMS = ("gpx", "geojson")
DEMO_DAY = date(2025, 10, 12)
"""The demo at its most interesting: the fill window is open."""


class OpensByDefault(click.Group):
    """A group whose first word, when it is no command, is a logbook to open."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        if not args or (args[0] not in self.commands and args[0] not in ("--help", "--version")):
            args = ["open", *args]
        return super().parse_args(ctx, args)

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except BrimbookError as error:
            raise click.ClickException(str(error)) from error
        except (click.ClickException, click.exceptions.Exit, click.Abort, BrokenPipeError):
            raise
        except Exception as error:
            sentence = keep_failure(error, f"command {ctx.invoked_subcommand}")
            raise click.ClickException(sentence) from error


def limit_options(command: Callable[..., None]) -> Callable[..., None]:
    """The options that say what a day of work may take at most."""
    for option in (
        click.option("--water", "gallons", type=float, metavar="GALLONS",
                     help="Water there is to haul."),
        click.option("--loads", type=int, help="Loads that may be hauled."),
        click.option("--hours", type=float,
                     help="Hours the day may take; no limit if not given."),
    ):  # fmt: skip
        command = option(command)
    return command


@click.group(cls=OpensByDefault, epilog="`brimbook LOGBOOK` opens the interface on a logbook.")
@click.version_option(package_name="brimbook")
def main() -> None:
    """A logbook for buried water tanks: levels, check-ins, contamination and the season."""


@main.command("open")
@click.argument("logbook", type=FilePath(), required=False)
@today_option
def open_interface(logbook: Path | None, today: date | None) -> None:
    """Open the interface on LOGBOOK; without one, on your own, made on first use."""
    from tui.app import BrimbookApp

    path = logbook or platformdirs.user_data_path("brimbook") / "logbook.db"
    greeting = ""
    if logbook is None and not path.exists():
        create_logbook(path).close()
        greeting = f"Made a new logbook: {path}"
    with _demo_copy(path) as copy:
        if copy is not None:
            greeting = "This is the demo, opened on a copy: nothing you do here changes it."
        else:
            with logbook_at(path) as book:
                greeting = greeting or book.only_read
            greeting = _backed_up_today(path) or greeting
        app = BrimbookApp(copy or path, today=today, greeting=greeting)
        app.run()
    if app.return_code:
        raise click.exceptions.Exit(app.return_code)


@main.command()
@click.option("--today", type=Day(), callback=in_sight, default=DEMO_DAY, show_default=True,
              help="Work as if it were this date.")  # fmt: skip
@click.pass_context
def demo(ctx: click.Context, today: date) -> None:
    """Open the demo, an invented season, on a copy: nothing you do changes it."""
    ctx.invoke(open_interface, logbook=shipped_demo(), today=today)


def _backed_up_today(path: Path) -> str:
    """Back a logbook up once a day of use; why it could not be, empty where it could."""
    try:
        daily_backup(path)
    except BadFile as error:
        return str(error)
    return ""


@contextmanager
def _demo_copy(path: Path) -> Iterator[Path | None]:
    """A copy of the shipped demo for as long as it is open; None for any other file."""
    if path.name != DEMO_NAME or not path.is_file():
        yield None
        return
    with working_copy(path) as copy:
        with logbook_at(copy) as book:
            shipped = is_demo(book)
        yield copy if shipped else None


@main.command()
@logbook_argument
def new(logbook: Path) -> None:
    """Make a new, empty LOGBOOK."""
    create_logbook(logbook).close()
    say(f"Made {logbook}. Open it with: brimbook {logbook}")


@main.command()
@logbook_argument
@click.option("--to", "target", type=FilePath(), help="Write the copy to this new file.")
def backup(logbook: Path, target: Path | None) -> None:
    """Copy LOGBOOK as it stands, in use or not, and read the copy back.

    Without --to the copy goes to the folder of backups beside the logbook. There one is
    made by itself on every day you open the logbook, and before every import and upgrade.
    """
    with logbook_at(logbook):
        pass
    if target is None:
        say(f"Backed up to {back_up(logbook, Why.ASKED).path}; read back and the same.")
        return
    copy_to(logbook, target)
    say(f"Backed up to {target}; read back and the same.")


@main.command("backups")
@logbook_argument
@as_option
def list_backups(logbook: Path, form: str) -> None:
    """Print the backups in the folder beside LOGBOOK, newest first."""
    rows = [
        (one.path.name, one.made.astimezone().isoformat(" ", "seconds"), str(one.why),
         one.path.stat().st_size // 1000)
        for one in backups_of(logbook)
    ]  # fmt: skip
    print_rows(("backup", "made", "why", "kilobytes"), rows, As(form))


@main.command("restore")
@logbook_argument
@click.argument("backup", required=False)
def restore_logbook(logbook: Path, backup: str | None) -> None:
    """Make LOGBOOK say what BACKUP says; without one, the newest backup.

    BACKUP is a name that `brimbook backups` prints, or the path of a file. What stood in
    LOGBOOK is kept and named.
    """
    chosen = chosen_backup(logbook, backup)
    kept = restore(logbook, chosen)
    say(f"{logbook} now says what {chosen.name} says; read back and the same.")
    if kept is not None:
        say(f"What it said before is kept in {kept}.")


@main.command("import")
@logbook_argument
@click.argument("kind", type=click.Choice([WEATHER, FORECAST, *(k.value for k in SheetKind)]))
@click.argument("file", type=FilePath())
@click.option("--tract", help="Tract a file is for, or of stations that name none.")
@click.option("--latitude", type=Latitude(), help="Degrees, north positive.")
@click.option(
    "--units", type=click.Choice([u.value for u in FileUnits]), help="Units of a weather file."
)
@click.option(
    "--date-order", type=click.Choice([o.value for o in DateOrder]), help="How to read 03/04/2025."
)
@click.option("--column", "columns", multiple=True, metavar="HEADING=NAME",
              help="What a heading of a weather file stands for; may be repeated.")  # fmt: skip
@click.option("--skip-bad-lines", is_flag=True, help="Import weather without its bad lines.")
@today_option
def import_file(
    logbook: Path,
    kind: str,
    file: Path,
    tract: str | None,
    latitude: float | None,
    units: str | None,
    date_order: str | None,
    columns: tuple[str, ...],
    skip_bad_lines: bool,
    today: date | None,
) -> None:
    """Import FILE, a CSV of one KIND, into LOGBOOK.

    The order of columns is free; unknown ones are named and passed over. Metric
    twins such as depth_cm, below_rim_cm, apron_area_m2 and litres are taken too.
    A file with a bad line is refused whole, each bad line with its reason.

    \b
    stations       tract, station, shape (rectangular, round, oblong, half-drum,
                   measured), length_in, width_in, diameter_in, depth_in,
                   rim_above_ground_in, apron_area_ft2, apron_surface (sculpted
                   soil, loose soil, grass, woods litter, gravel, liner), exposure
                   (open, part shade, deep shade), access (vehicle, atv, foot),
                   expected_use (light, average, heavy), latitude, longitude,
                   installed, bear_country (yes, no), directions; for tapered
                   tanks bottom_length_in, bottom_width_in, bottom_diameter_in;
                   for a measured tank depth_volume_in_gal, as 0:0 10:31.5 30:110
    weather        date, tmin_c or tmin_f, tmax_c or tmax_f, rain_mm or rain_in,
                   and if known humidity_pct, dewpoint_c, wind_m_s, sun_mj_m2; or
                   a GHCN-Daily file in any of its forms, recognised by itself;
                   days that were measured, none to come
    forecast       the same columns and forms, for the days to come; a newer
                   one takes the place of the older; for all tracts, or --tract
    normals        month (1 to 12, or its name), rain_mm or rain_in, wet_days,
                   tmin_c or tmin_f, tmax_c or tmax_f; all twelve months of the
                   tract named with --tract, used until it has a year of weather
    readings       date, station, below_rim_in; or level (full, three quarters,
                   half, quarter, dry); note
    chores         date, station, chore (install, rake, fill, drain, cover,
                   uncover, retire), gallons, note
    contamination  date, station, cause (drowned animal, additive, bear use, dead
                   fish, dye, spill, silt or leaves, dry spell, disturbance,
                   other), action (left, carcass removed, bailed, drained,
                   refilled, covered, seen clear), gallons, note; the first row of
                   an event makes it, a later one of the same station and cause
                   is work on that event, as long as it was not seen clear
    sheet          the CSV saved from the page of `brimbook sheet`: date, station,
                   below_rim_in, use (none, light, heavy), ramp (in place,
                   missing), gallons, done (rake, install, cover, uncover), note

    Dates are written 2026-05-09. A station name that occurs on two tracts is
    written tract/station. Where weather files overlap, the newest import wins,
    value by value; a blank never erases a value.
    """
    with for_writing(logbook, today) as book:
        back_up(logbook, Why.IMPORT)
        if kind in (WEATHER, FORECAST):
            options = ReadOptions(
                units=FileUnits(units) if units else None,
                columns=_pairs(columns, "--column", "HEADING=NAME"),
                date_order=DateOrder(date_order) if date_order else None,
                skip_bad_lines=skip_bad_lines,
            )
            bring = import_weather if kind == WEATHER else import_forecast
            weather = bring(book, file, options, tract, latitude)
            warn(weather.notes)
            warn(tuple(f"{file.name}, left out {problem}" for problem in weather.rejected))
            users = ", ".join(weather.tracts) or "no tract yet (name one with --tract)"
            say(f"{weather.counted}; used by {users}.")
            return
        try:
            sheet = import_sheet(book, SheetKind(kind), file, tract, latitude)
        except NoTract as error:
            raise NoTract(f"{str(error).rstrip('.')}; name it with --tract.") from error
        warn(sheet.warnings)
        say(f"{file.name}: {sheet.written} new entries, {sheet.known} known already.")


@main.command()
@logbook_argument
@click.option("--from", "first", type=Day(), help="First day; 30 days back if not given.")
@click.option("--to", "last", type=Day(), help="Last day; today if not given.")
@click.option("--station", help="One station, as name or tract/name.")
@as_option
@today_option
def levels(
    logbook: Path,
    first: date | None,
    last: date | None,
    station: str | None,
    form: str,
    today: date | None,
) -> None:
    """Print the level of every station of LOGBOOK, day by day."""
    with for_reading(logbook, today) as book:
        print_report(level_rows(load(book), first, last, station), form)


@main.command()
@logbook_argument
@click.option("--from", "first", type=Day(), help="First day; 1 January of last year if not given.")
@click.option("--to", "last", type=Day(), help="Last day; as far as the model looks if not given.")
@click.option("--station", help="One station, as name or tract/name.")
@as_option
@today_option
def timeline(
    logbook: Path,
    first: date | None,
    last: date | None,
    station: str | None,
    form: str,
    today: date | None,
) -> None:
    """Print the season of LOGBOOK: what was done, what held, and what is asked for."""
    with for_reading(logbook, today) as book:
        print_report(timeline_rows(load(book), first, last, station), form)


@main.command()
@logbook_argument
@click.option("--port", type=click.IntRange(1, 65535), default=8000, show_default=True,
              help="Port of the page.")  # fmt: skip
@click.option("--host", default=LOOPBACK, show_default=True,
              help="Another address than this machine's own, for others to reach.")  # fmt: skip
@today_option
def serve(logbook: Path, port: int, host: str, today: date | None) -> None:
    """Show LOGBOOK in a browser tab, on this machine alone."""
    with for_reading(logbook, today):
        pass
    if not is_loopback(host):
        click.echo(open_to_others(host), err=True)
    serve_logbook(logbook, host, port, today)


@main.command()
@logbook_argument
@as_option
@today_option
def due(logbook: Path, form: str, today: date | None) -> None:
    """Print what is due at the stations of LOGBOOK, most urgent first."""
    with for_reading(logbook, today) as book:
        print_report(due_rows(load(book)), form)


@main.command()
@logbook_argument
@out_option
@today_option
def calendar(logbook: Path, out: Path | None, today: date | None) -> None:
    """Write the windows of LOGBOOK's season and what is due as an iCalendar file.

    Import it into a calendar again whenever you like: entries that are there already
    are brought up to date.
    """
    from store.reports.calendar_file import season_calendar

    with for_reading(logbook, today) as book:
        content = season_calendar(load(book))
    deliver(content, out)


@main.command()
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


@main.command()
@logbook_argument
@click.option("--on", type=Day(), help="Day of the work; today if not given.")
@limit_options
@click.option("--station", "names", multiple=True,
              help="Only this station; may be repeated, in your own order.")  # fmt: skip
@as_option
@today_option
def workday(
    logbook: Path,
    on: date | None,
    hours: float | None,
    loads: int | None,
    gallons: float | None,
    names: tuple[str, ...],
    form: str,
    today: date | None,
) -> None:
    """Plan a day of work on what is due in LOGBOOK: order, loads, hours.

    `brimbook kit` keeps what you haul with. Where hours, loads or water are short, the
    stops with the most expected wet days are taken, and stderr says what is left out.
    """
    limits = _limits(hours, loads, gallons)
    with for_reading(logbook, today) as book:
        snapshot, kit = load(book), work_kit(book)
    stations = [snapshot.places.find_station(name).station_id for name in dict.fromkeys(names)]
    print_report(work_day_rows(snapshot, kit, on, limits, stations or None), form)


@main.command()
@logbook_argument
@click.option("--on", type=Day(), help="Day of the work; today if not given.")
@limit_options
@click.option("--tract", help="Only the stations of this tract.")
@out_option
@click.option("--as", "form", type=click.Choice([form.value for form in SheetForm]),
              default=SheetForm.HTML.value,
              help="A page for phone and printer, or text.")  # fmt: skip
@today_option
def sheet(
    logbook: Path,
    on: date | None,
    hours: float | None,
    loads: int | None,
    gallons: float | None,
    tract: str | None,
    out: Path | None,
    form: str,
    today: date | None,
) -> None:
    """Write the sheet to take along on a day of work, from LOGBOOK.

    The page needs no network. What is typed into it is saved as a CSV, which
    `brimbook import LOGBOOK sheet FILE` reads.
    """
    with for_reading(logbook, today) as book:
        snapshot, kit = load(book), work_kit(book)
    content = day_sheet(snapshot, kit, on, _limits(hours, loads, gallons), tract, SheetForm(form))
    deliver(content.encode(), out)


@main.command()
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
@as_option
def kit(
    logbook: Path,
    start: tuple[str, str] | None,
    source: tuple[str, str] | None,
    form: str,
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
            keep_work_kit(book, kit_from(work_kit(book), texts, US_UNITS))
        print_report(kit_rows(work_kit(book)), form)


@main.command()
@logbook_argument
@click.option("--season", "year", type=int, metavar="YEAR",
              help="One season, by the year of its heavy-use weeks; all if not given.")  # fmt: skip
@click.option("--as", "form", type=click.Choice([*FORMS, HTML]), default=FORMS[0],
              help="A table, CSV, JSON, or a page for a browser.")  # fmt: skip
@out_option
@today_option
def review(
    logbook: Path, year: int | None, form: str, out: Path | None, today: date | None
) -> None:
    """Print what each season was like at the stations of LOGBOOK, and what it teaches."""
    if form != HTML and out is not None:
        raise click.UsageError("--out is for the page: add --as html.")
    with for_reading(logbook, today) as book:
        snapshot = load(book)
    if form == HTML:
        deliver(review_page(snapshot, year), out)
    else:
        print_report(review_rows(snapshot, year), form)


@main.command()
@logbook_argument
@click.argument("station")
@click.option("--length", "length_in", type=float, metavar="INCHES", help="Another length.")
@click.option("--width", "width_in", type=float, metavar="INCHES", help="Another width.")
@click.option("--diameter", "diameter_in", type=float, metavar="INCHES", help="A round tank.")
@click.option("--depth", "depth_in", type=float, metavar="INCHES", help="Another depth.")
@click.option("--apron", "apron_ft2", type=float, metavar="SQUARE_FEET", help="Another apron.")
@click.option(
    "--exposure", type=click.Choice([one.value for one in Exposure]), help="More shade, or less."
)
@as_option
@today_option
def whatif(
    logbook: Path,
    station: str,
    length_in: float | None,
    width_in: float | None,
    diameter_in: float | None,
    depth_in: float | None,
    apron_ft2: float | None,
    exposure: str | None,
    form: str,
    today: date | None,
) -> None:
    """Print how STATION would do with another tank, apron or shade, over all weather years.

    Without a change it is tried larger, deeper, with a better apron and in more shade, and
    what to do is suggested.
    """
    lengths = {
        "length_mm": length_in, "width_mm": width_in, "diameter_mm": diameter_in,
        "depth_mm": depth_in,
    }  # fmt: skip
    change = Change(
        **{name: None if inches is None else mm_from_inches(inches)
           for name, inches in lengths.items()},
        apron_m2=None if apron_ft2 is None else m2_from_ft2(apron_ft2),
        exposure=None if exposure is None else Exposure(exposure),
    )  # fmt: skip
    asked = None if change == Change() else Asked("as asked", change)
    with for_reading(logbook, today) as book:
        print_report(what_if_rows(load(book), station, asked), form)


@main.command()
@logbook_argument
@as_option
@today_option
def events(logbook: Path, form: str, today: date | None) -> None:
    """Print contamination events of LOGBOOK with their expected recovery."""
    with for_reading(logbook, today) as book:
        print_report(event_rows(load(book)), form)


@main.command()
@logbook_argument
@click.argument("station")
@click.option("--bail", "percent", type=float, metavar="PERCENT",
              help="Percent of the water bailed each round; 90 if not given.")  # fmt: skip
@click.option("--load", "gallons", type=float, metavar="GALLONS",
              help="What is carried at once; the usual for the way if not given.")  # fmt: skip
@as_option
@today_option
def recovery(
    logbook: Path,
    station: str,
    percent: float | None,
    gallons: float | None,
    form: str,
    today: date | None,
) -> None:
    """Print every way out of the open contamination events of STATION, side by side."""
    load_l = None if gallons is None else litres_from_gallons(gallons)
    with for_reading(logbook, today) as book:
        print_report(recovery_rows(load(book), station, percent, load_l), form)


@main.command()
@logbook_argument
@click.option("--until", type=Day(), required=True, help="Last day, up to a year ahead.")
@click.option("--fill", "fills", multiple=True, metavar="STATION=GALLONS",
              help="Water to bring to a station; may be repeated.")  # fmt: skip
@click.option("--on", "fill_day", type=Day(), help="Day of the fills; today if not given.")
@click.option("--daily", is_flag=True, help="A row for every station and day.")
@as_option
@today_option
def outlook(
    logbook: Path,
    until: date,
    fills: tuple[str, ...],
    fill_day: date | None,
    daily: bool,
    form: str,
    today: date | None,
) -> None:
    """Print the chances of holding water until a day, with or without fills."""
    with for_reading(logbook, today) as book:
        snapshot = load(book)
    planned = {}
    for name, text in _pairs(fills, "--fill", "STATION=GALLONS").items():
        station = snapshot.places.find_station(name)
        planned[station.station_id] = Fill(fill_day or snapshot.today, _litres(text))
    print_report(outlook_rows(snapshot, until, planned, daily=daily), form)


@main.command("budget")
@logbook_argument
@click.argument("station")
@click.option("--from", "first", type=Day(), help="First day; start of the year if not given.")
@click.option("--to", "last", type=Day(), help="Last day; today if not given.")
@as_option
@today_option
def water_budget(
    logbook: Path,
    station: str,
    first: date | None,
    last: date | None,
    form: str,
    today: date | None,
) -> None:
    """Print where the water of STATION came from and went."""
    with for_reading(logbook, today) as book:
        print_report(budget_rows(load(book), station, first, last), form)


@main.command("learned")
@logbook_argument
@as_option
@today_option
def what_was_learned(logbook: Path, form: str, today: date | None) -> None:
    """Print what the readings taught about each station, and doubted readings."""
    with for_reading(logbook, today) as book:
        print_report(learned_rows(load(book)), form)


def _limits(hours: float | None, loads: int | None, gallons: float | None) -> Limits:
    return Limits(
        minutes=None if hours is None else hours * MINUTES_PER_HOUR,
        loads=loads,
        water_l=None if gallons is None else litres_from_gallons(gallons),
    )


def _litres(gallons: str) -> float:
    try:
        litres = litres_from_gallons(number_from(gallons))
    except BadValue as error:
        raise click.BadParameter(str(error), param_hint="--fill") from None
    if not 0.0 < litres < 1e6:
        raise click.BadParameter(f"{gallons} gallons cannot be brought", param_hint="--fill")
    return litres


def _pairs(texts: tuple[str, ...], option: str, form: str) -> Mapping[str, str]:
    pairs = {}
    for text in texts:
        heading, equals, name = text.rpartition("=")
        if not equals:
            raise click.BadParameter(f"{text!r} is not {form}", param_hint=option)
        if heading in pairs:
            raise click.BadParameter(f"{heading!r} is named twice", param_hint=option)
        pairs[heading] = name
    return pairs


for command in EXCHANGE:
    main.add_command(command)
