"""Commands that look back on the seasons, and try other forms."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from store.reports.budget import budget_rows
from store.reports.learned import learned_rows
from store.reports.review import review_rows
from store.reports.review_html import review_page
from store.reports.what_if import Asked, what_if_rows
from store.views.what_if import Change
from store.vocabulary import Exposure
from tui.commands.shared import (
    FORMS,
    How,
    for_reading,
    how_to_answer,
    out_option,
    print_report,
)
from tui.kept import kept_results
from tui.parameters import Day, logbook_argument, today_option
from tui.printing import deliver

HTML = "html"


@click.command()
@logbook_argument
@click.option("--season", "year", type=int, metavar="YEAR",
              help="One season, by the year of its heavy-use weeks; all if not given.")  # fmt: skip
@how_to_answer(forms=(*FORMS, HTML))
@out_option
@today_option
def review(logbook: Path, year: int | None, how: How, out: Path | None, today: date | None) -> None:
    """Print what each season was like at the stations of LOGBOOK, and what it teaches."""
    if how.form != HTML and out is not None:
        raise click.UsageError("--out is for the page: add --as html.")
    with for_reading(logbook, today) as book:
        snapshot = how.load(book)
    if how.form == HTML:
        deliver(review_page(snapshot, year, memory=kept_results()), out)
    else:
        print_report(review_rows(snapshot, year, memory=kept_results()), how, snapshot.units)


@click.command()
@logbook_argument
@click.argument("station")
@click.option("--length", type=float, metavar="INCHES", help="Another length.")
@click.option("--width", type=float, metavar="INCHES", help="Another width.")
@click.option("--diameter", type=float, metavar="INCHES", help="A round tank.")
@click.option("--depth", type=float, metavar="INCHES", help="Another depth.")
@click.option("--apron", type=float, metavar="SQUARE_FEET", help="Another apron.")
@click.option(
    "--exposure", type=click.Choice([one.value for one in Exposure]), help="More shade, or less."
)
@how_to_answer()
@today_option
def whatif(
    logbook: Path,
    station: str,
    length: float | None,
    width: float | None,
    diameter: float | None,
    depth: float | None,
    apron: float | None,
    exposure: str | None,
    how: How,
    today: date | None,
) -> None:
    """Print how STATION would do with another tank, apron or shade, over all weather years.

    Without a change it is tried larger, deeper, with a better apron and in more shade, and
    what to do is suggested.
    """
    lengths = {
        "length_mm": length, "width_mm": width, "diameter_mm": diameter, "depth_mm": depth
    }  # fmt: skip
    change = Change(
        **{name: None if shown is None else how.given_in.depth_from(shown)
           for name, shown in lengths.items()},
        apron_m2=None if apron is None else how.given_in.area_from(apron),
        exposure=None if exposure is None else Exposure(exposure),
    )  # fmt: skip
    asked = None if change == Change() else Asked("as asked", change)
    with for_reading(logbook, today) as book:
        snapshot = how.load(book)
    report = what_if_rows(snapshot, station, asked, memory=kept_results())
    print_report(report, how, snapshot.units)


@click.command("budget")
@logbook_argument
@click.argument("station")
@click.option("--from", "first", type=Day(), help="First day; start of the year if not given.")
@click.option("--to", "last", type=Day(), help="Last day; today if not given.")
@how_to_answer()
@today_option
def water_budget(
    logbook: Path,
    station: str,
    first: date | None,
    last: date | None,
    how: How,
    today: date | None,
) -> None:
    """Print where the water of STATION came from and went."""
    with for_reading(logbook, today) as book:
        snapshot = how.load(book)
    report = budget_rows(snapshot, station, first, last, memory=kept_results())
    print_report(report, how, snapshot.units)


@click.command("learned")
@logbook_argument
@how_to_answer()
@today_option
def what_was_learned(logbook: Path, how: How, today: date | None) -> None:
    """Print what the readings taught about each station, and doubted readings."""
    with for_reading(logbook, today) as book:
        snapshot = how.load(book)
    print_report(learned_rows(snapshot, memory=kept_results()), how, snapshot.units)
