"""Commands that look back on the seasons, and try other forms."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from store.model.snapshot import load
from store.reports.budget import budget_rows
from store.reports.learned import learned_rows
from store.reports.review import review_rows
from store.reports.review_html import review_page
from store.reports.what_if import Asked, what_if_rows
from store.units import m2_from_ft2, mm_from_inches
from store.views.what_if import Change
from store.vocabulary import Exposure
from tui.commands.shared import (
    as_option,
    for_reading,
    logbook_argument,
    out_option,
    print_report,
    today_option,
)
from tui.kept import kept_results
from tui.parameters import Day
from tui.printing import As, deliver

FORMS = tuple(one.value for one in As)
HTML = "html"


@click.command()
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
        deliver(review_page(snapshot, year, memory=kept_results()), out)
    else:
        print_report(review_rows(snapshot, year, memory=kept_results()), form)


@click.command()
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
        print_report(what_if_rows(load(book), station, asked, memory=kept_results()), form)


@click.command("budget")
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
        print_report(budget_rows(load(book), station, first, last, memory=kept_results()), form)


@click.command("learned")
@logbook_argument
@as_option
@today_option
def what_was_learned(logbook: Path, form: str, today: date | None) -> None:
    """Print what the readings taught about each station, and doubted readings."""
    with for_reading(logbook, today) as book:
        print_report(learned_rows(load(book), memory=kept_results()), form)


LOOKING_BACK = (
    review,
    whatif,
    water_budget,
    what_was_learned,
)
