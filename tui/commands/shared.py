"""What the commands share: their arguments and options, and how they answer."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date
from functools import wraps
from pathlib import Path
from typing import Any

import click

from store.errors import Refused
from store.logbook.opening import Logbook, logbook_at
from store.logbook.settings import is_demo, unit_system
from store.model.snapshot import Snapshot, load
from store.plain_text import plain_sentence
from store.reports.report import Report
from store.transfer.weather import WeatherImported
from store.units import Units, UnitSystem, units
from tui.parameters import FilePath
from tui.printing import As, print_rows
from tui.printing import say as say_line

out_option = click.option(
    "--out",
    type=FilePath(),
    help="Write to this file, not to standard output.",
)
units_option = click.option(
    "--units",
    "asked_units",
    type=click.Choice([one.value for one in UnitSystem]),
    help="Units to answer in, and of the numbers you give; without it an answer to read is in "
    "those of the logbook, CSV, JSON and your numbers in US units.",
)
FORMS = tuple(form.value for form in As)


@dataclass(frozen=True)
class How:
    """How a person wants an answer: `form` is one of `FORMS`, or another of the command's."""

    form: str = As.TABLE.value
    wide: bool = False
    asked: UnitSystem | None = None

    def units_of(self, book: Logbook) -> Units:
        """The units of the answer: files keep theirs, whatever the screens show."""
        if self.asked is None and self.form in (As.CSV, As.JSON):
            return units(UnitSystem.US)
        return units(self.asked or unit_system(book))

    @property
    def given_in(self) -> Units:
        """The units of the numbers that are given with the command."""
        return units(self.asked or UnitSystem.US)

    def load(self, book: Logbook) -> Snapshot:
        """All that a logbook says, in the units of the answer."""
        return replace(load(book), units=self.units_of(book))


def how_to_answer(
    *, forms: Sequence[str] = FORMS, wide: bool = True
) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """The options that say how to answer, brought together in one argument, `how`.

    Without `forms` there is one form only, which is not asked.
    """
    options = [units_option]
    if forms:
        options.insert(0,
            click.option("--as", "form", type=click.Choice(forms), default=forms[0],
                         help="How to print the answer.", show_default=True))  # fmt: skip
    if wide:
        options.append(
            click.option("--wide", is_flag=True, help="All columns of a table, however wide.")
        )

    def with_options(command: Callable[..., None]) -> Callable[..., None]:
        @wraps(command)
        def answered(*args: Any, asked_units: str | None, form: str = As.TABLE.value,
                     wide: bool = False, **given: Any) -> None:  # fmt: skip
            asked = None if asked_units is None else UnitSystem(asked_units)
            command(*args, how=How(form, wide, asked), **given)

        for option in options:
            answered = option(answered)
        return answered

    return with_options


def print_report(answer: Report, how: How, shown_in: Units) -> None:
    warn(answer.notes)
    print_rows(answer, As(how.form), shown_in, wide=how.wide)


@contextmanager
def for_reading(path: Path, today: date | None) -> Iterator[Logbook]:
    with logbook_at(path, today) as book:
        if book.only_read:
            warn((book.only_read,))
        if today is None and book.shown_as_of is not None:
            warn((f"Shown as of {book.shown_as_of}; --today DATE chooses another day.",))
        yield book


@contextmanager
def for_writing(path: Path, today: date | None) -> Iterator[Logbook]:
    with logbook_at(path, today) as book:
        if is_demo(book):
            raise Refused(
                f"{path} is the shipped demo and is never changed; make a logbook of your own "
                "with: brimbook new my.db"
            )
        book.refuse_only_read()
        yield book


def tell_weather(done: WeatherImported, file_name: str) -> None:
    """Say what an import of weather did, and warn of what it left out."""
    warn(done.notes)
    warn(tuple(f"{file_name}, left out {problem}" for problem in done.rejected))
    say(f"{done.counted}; used by {done.users}.")


def say(sentence: str) -> None:
    say_line(plain_sentence(sentence))


def warn(sentences: tuple[str, ...]) -> None:
    for sentence in sentences:
        say_line(plain_sentence(sentence), err=True)


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
