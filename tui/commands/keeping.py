"""Commands that make, fill, copy and bring back a logbook."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from store.errors import BadFile, NoTract, SeveralPlaces
from store.logbook.backups import Why, back_up, backups_of, copy_to
from store.logbook.opening import create_logbook, logbook_at
from store.logbook.restoring import chosen_backup, restore
from store.reports.report import Column, Report
from store.transfer.forecast import import_forecast
from store.transfer.importing import SheetKind, import_sheet
from store.transfer.weather import import_weather
from store.weather.files import DateOrder, FileUnits, ReadOptions
from tui.commands.shared import (
    How,
    for_writing,
    how_to_answer,
    pairs,
    print_report,
    say,
    tell_weather,
    warn,
)
from tui.parameters import FilePath, Latitude, logbook_argument, today_option

BACKUP_COLUMNS = tuple(Column(name) for name in ("backup", "made", "why", "kilobytes"))
WEATHER, FORECAST = "weather", "forecast"


@click.command()
@logbook_argument
def new(logbook: Path) -> None:
    """Make a new, empty LOGBOOK."""
    create_logbook(logbook).close()
    say(f"Made {logbook}. Open it with: brimbook {logbook}")


@click.command()
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


@click.command("backups")
@logbook_argument
@how_to_answer()
def list_backups(logbook: Path, how: How) -> None:
    """Print the backups in the folder beside LOGBOOK, newest first."""
    rows = tuple(
        (one.path.name, one.made.astimezone().isoformat(" ", "seconds"), str(one.why),
         one.path.stat().st_size // 1000)
        for one in backups_of(logbook)
    )  # fmt: skip
    print_report(Report(BACKUP_COLUMNS, rows), how, how.given_in)


@click.command("restore")
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


@click.command("import")
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
@click.option("--place", help="The station meant, of a weather file that holds several.")
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
    place: str | None,
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
                   for a measured tank depth_volume_in_gal, as 0:0 10:31.5
                   30:110, or depth_volume_mm_l
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
                   half, quarter, dry); when (on coming, after the work); note
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
                columns=pairs(columns, "--column", "HEADING=NAME"),
                date_order=DateOrder(date_order) if date_order else None,
                station=place,
                skip_bad_lines=skip_bad_lines,
            )
            bring = import_weather if kind == WEATHER else import_forecast
            try:
                weather = bring(book, file, options, tract, latitude)
            except SeveralPlaces as error:
                raise BadFile(f"{str(error).rstrip('.')} with --place NAME.") from error
            tell_weather(weather, file.name)
            return
        try:
            sheet = import_sheet(book, SheetKind(kind), file, tract, latitude)
        except NoTract as error:
            raise NoTract(f"{str(error).rstrip('.')}; name it with --tract.") from error
        warn(sheet.warnings)
        say(f"{file.name}: {sheet.written} new entries, {sheet.known} known already.")
