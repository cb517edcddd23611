"""Commands that bring a logbook to others and back: as text, merged, and as sheets."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from store.exchange.log_out import LOG_KINDS, Asked, log_rows
from store.exchange.merge_report import merge_rows, summary
from store.exchange.merging import logbook_of, merge
from store.exchange.stations_out import station_rows
from store.exchange.text_in import logbook_from_text
from store.exchange.text_out import text_lines, write_text
from store.logbook.backups import Why, back_up
from store.logbook.entries import live_entries
from store.logbook.places import places
from store.model.snapshot import load
from store.reports.log_found import found_rows
from store.transfer.importing import SheetKind
from tui.commands.shared import (
    How,
    for_reading,
    for_writing,
    how_to_answer,
    out_option,
    print_report,
    say,
    warn,
)
from tui.parameters import Day, FilePath, logbook_argument, today_option


@click.command()
@logbook_argument
@out_option
def text(logbook: Path, out: Path | None) -> None:
    """Write all of LOGBOOK as plain text: one line for every entry.

    The same logbook gives the same bytes, so the text suits a folder that is synchronised
    and any version control. Nothing is left out: `brimbook from-text` makes the logbook again.
    """
    with for_reading(logbook, None) as book:
        if out is None:
            for line in text_lines(book):
                click.echo(line, nl=False)
        else:
            write_text(book, out)
            say(f"Wrote {out}.")


@click.command("from-text")
@click.argument("file", type=FilePath())
@click.argument("made", metavar="LOGBOOK", type=FilePath())
def from_text(file: Path, made: Path) -> None:
    """Make a new LOGBOOK of the text in FILE.

    A text with a damaged line is refused whole, with the line and what is wrong.
    """
    logbook_from_text(file, made)
    say(f"Made {made} from {file}. Open it with: brimbook {made}")


@click.command("merge")
@logbook_argument
@click.argument("theirs", type=FilePath())
@click.option("--dry-run", is_flag=True, help="Only say what would come in; change nothing.")
@how_to_answer()
@today_option
def merge_logbooks(
    logbook: Path, theirs: Path, dry_run: bool, how: How, today: date | None
) -> None:
    """Bring all entries of THEIRS, a logbook or its text, into LOGBOOK.

    Nothing of either is lost, and THEIRS is only read. Where both changed the same entry,
    the change saved last holds; both are shown, and both are kept. Merging again adds nothing.
    """
    with logbook_of(theirs) as copy, for_writing(logbook, today) as book:
        foreseen = merge(book, copy, dry_run=True)
        shown_in = how.units_of(book)
        print_report(merge_rows(foreseen, shown_in), how, shown_in)
        if dry_run:
            warn((f"Would come in: {summary(foreseen)} Nothing was changed.",))
            return
        if not foreseen.batches:
            warn((summary(foreseen),))
            return
        kept = back_up(logbook, Why.MERGE)
        merge(book, copy)
        warn(
            (
                f"Merged: {summary(foreseen)}",
                "Undo takes back what was saved last, yours and theirs, one at a time. To take "
                f"back the whole merge: brimbook restore {logbook} {kept.path.name}",
            )
        )


@click.command("log")
@logbook_argument
@click.argument("kind", type=click.Choice([kind.value for kind in LOG_KINDS]), required=False)
@click.option(
    "--find",
    "asked",
    metavar="WORDS",
    help="Entries and notes of every kind that hold these words.",
)
@click.option("--station", help="Of this station alone.")
@click.option("--from", "first", type=Day(), help="From this day on.")
@click.option("--to", "last", type=Day(), help="To this day.")
@how_to_answer()
def log(
    logbook: Path,
    kind: str | None,
    asked: str | None,
    station: str | None,
    first: date | None,
    last: date | None,
    how: How,
) -> None:
    """Print the log of LOGBOOK, as an import of that KIND has it.

    With --as csv it has the columns of the import, and the file can be imported again, here
    or into another logbook. The kind 'sheet' has use, ramps and notes. With --find
    and no KIND it prints the entries that hold all of some words, newest first.
    """
    if (kind is None) == (asked is None):
        kinds = ", ".join(one.value for one in LOG_KINDS)
        raise click.UsageError(f"Name one of a kind ({kinds}) and --find WORDS.")
    with for_reading(logbook, None) as book:
        known = places(book)
        station_id = None if station is None else known.find_station(station).station_id
        if kind is None:
            rows = found_rows(load(book), asked or "", station_id, first, last)
        else:
            wanted = Asked(station_id, first, last)
            rows = log_rows(SheetKind(kind), known, live_entries(book), wanted)
        print_report(rows, how, how.units_of(book))


@click.command("stations")
@logbook_argument
@how_to_answer()
def stations(logbook: Path, how: How) -> None:
    """Print the stations of LOGBOOK: tract, tank, apron and way in.

    With --as csv they have the columns of their import, and the file can be imported again,
    here or into another logbook.
    """
    with for_reading(logbook, None) as book:
        rows = station_rows(places(book), live_entries(book))
        print_report(rows, how, how.units_of(book))
