"""What the words of a command line may be: days, files, degrees; and what all commands take."""

from __future__ import annotations

import math
import os
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import click

from store.errors import BadValue
from store.logbook.checks import EARLIEST
from store.plain_text import plain_sentence
from store.typed import day_from

YEARS_AHEAD = 10


class Day(click.ParamType[date]):
    """A calendar date, as 2026-10-15."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        if isinstance(value, date):
            return value
        try:
            day = day_from(value)
        except BadValue as error:
            self.fail(str(error), param, ctx)
        if day < EARLIEST:
            self.fail(f"{day} is before {EARLIEST}; no logbook reaches back so far", param, ctx)
        return day


class FilePath(click.Path):
    """A path that the file system can hold, whether or not anything is there."""

    def __init__(self) -> None:
        super().__init__(path_type=Path)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Path:
        path = Path(os.fsdecode(super().convert(value, param, ctx)))
        try:
            path.exists()
        except OSError as error:
            self.fail(plain_sentence(f"{path}: {error.strerror}"), param, ctx)
        return path


class Latitude(click.FloatRange):
    """Degrees, north positive."""

    def __init__(self) -> None:
        super().__init__(-90, 90)

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        degrees = float(super().convert(value, param, ctx))
        if math.isnan(degrees):
            self.fail(f"{value} is not a latitude", param, ctx)
        return degrees


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
