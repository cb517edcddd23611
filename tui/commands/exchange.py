"""Commands that bring a logbook to others and back: as text, merged, and as sheets."""

from __future__ import annotations

from pathlib import Path

import click

from store.exchange.text_in import logbook_from_text
from store.exchange.text_out import text_lines, write_text
from tui.commands.shared import for_reading, logbook_argument, out_option, say
from tui.parameters import FilePath


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
@logbook_argument
def from_text(file: Path, logbook: Path) -> None:
    """Make a new LOGBOOK of the text in FILE.

    A text with a damaged line is refused whole, with the line and what is wrong.
    """
    logbook_from_text(file, logbook)
    say(f"Made {logbook} from {file}. Open it with: brimbook {logbook}")


EXCHANGE = (text, from_text)
