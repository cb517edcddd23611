"""What the commands share: their arguments and options, and how they answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path

import click

from store.errors import Refused
from store.logbook.opening import Logbook, logbook_at
from store.logbook.settings import is_demo
from store.plain_text import plain_sentence
from store.reports.report import Report
from tui.parameters import Day, FilePath
from tui.printing import As, print_rows

YEARS_AHEAD = 10


def in_sight(_ctx: click.Context, _param: click.Parameter, day: date | None) -> date | None:
    """Refuse days so far off that no weather could be made up for the years between."""
    latest = date.today() + timedelta(days=YEARS_AHEAD * 365)
    if day is not None and day > latest:
        raise click.BadParameter(f"{day} is too far off; the latest is {latest}")
    return day


logbook_argument = click.argument("logbook", type=FilePath())
today_option = click.option(
    "--today", type=Day(), callback=in_sight, help="Work as if it were this date."
)
out_option = click.option(
    "--out",
    type=FilePath(),
    help="Write to this file, not to standard output.",
)
as_option = click.option(
    "--as",
    "form",
    type=click.Choice([form.value for form in As]),
    default=As.TABLE.value,
    help="How to print the rows.",
)


def print_report(answer: Report, form: str) -> None:
    warn(answer.notes)
    print_rows(answer.columns, answer.rows, As(form))


@contextmanager
def for_reading(path: Path, today: date | None) -> Iterator[Logbook]:
    with logbook_at(path, today) as book:
        if book.only_read:
            warn((book.only_read,))
        yield book


@contextmanager
def for_writing(path: Path, today: date | None) -> Iterator[Logbook]:
    with logbook_at(path, today) as book:
        if is_demo(book):
            raise Refused(
                f"{path} is the shipped demo and is never changed; make a logbook of your own "
                "with: brimbook new my.db"
            )
        yield book


def say(sentence: str) -> None:
    click.echo(plain_sentence(sentence))


def warn(sentences: tuple[str, ...]) -> None:
    for sentence in sentences:
        click.echo(plain_sentence(sentence), err=True)


def pairs(texts: tuple[str, ...], option: str, form: str) -> Mapping[str, str]:
    pairs = {}
    for text in texts:
        heading, equals, name = text.rpartition("=")
        if not equals:
            raise click.BadParameter(f"{text!r} is not {form}", param_hint=option)
        if heading in pairs:
            raise click.BadParameter(f"{heading!r} is named twice", param_hint=option)
        pairs[heading] = name
    return pairs
