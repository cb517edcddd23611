"""Rows with named columns: an answer that can be printed, exported or shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import Enum, auto

from store.units import Quantity, Units, UnitSystem

Cell = str | float | int | bool | date | None
Row = tuple[Cell, ...]


class Measure(Enum):
    """What the numbers of a column are of; they are kept in litres, mm, m2, kg, km and m."""

    VOLUME = auto()
    DEPTH = auto()
    AREA = auto()
    WEIGHT = auto()
    WATER_WEIGHT = auto()
    """The weight of so many litres."""
    DISTANCE = auto()
    """Kilometres of way."""
    HEIGHT = auto()
    """Metres above the sea."""

    def shown(self, value: float, units: Units) -> float:
        """A stored number in the units of the reader."""
        match self:
            case Measure.VOLUME:
                return units.volume(value)
            case Measure.DEPTH:
                return units.depth(value)
            case Measure.AREA:
                return units.area(value)
            case Measure.WEIGHT:
                return units.weight(value)
            case Measure.WATER_WEIGHT:
                return units.water_weight(value)
            case Measure.DISTANCE:
                return units.distance(value)
            case Measure.HEIGHT:
                return units.shown(Quantity.HEIGHT, value)

    def unit(self, units: Units) -> str:
        """The name of that unit."""
        match self:
            case Measure.VOLUME:
                return units.volume_name
            case Measure.DEPTH:
                return units.depth_name
            case Measure.AREA:
                return units.area_name
            case Measure.WEIGHT | Measure.WATER_WEIGHT:
                return units.weight_name
            case Measure.DISTANCE:
                return units.distance_name
            case Measure.HEIGHT:
                return units.height_name


class Where(Enum):
    """Where a column stands."""

    EVERYWHERE = auto()
    WIDE = auto()
    """In files, and in print when all columns are asked for."""
    FILE = auto()
    """In files alone."""
    PRINT = auto()
    """In print alone."""
    WIDE_PRINT = auto()
    """In print alone, when all columns are asked for."""


NOT_IN_FILES = (Where.PRINT, Where.WIDE_PRINT)


@dataclass(frozen=True)
class Column:
    """A column of an answer: its name in a file, its heading in print.

    Numbers of a `measure` stand in the rows as the store keeps them; a file gets them with
    `digits` decimals under `name`, or under `metric` in metric units, and a print with
    `printed` decimals, the unit after the heading. A column of `sentences` may be printed
    below its row.
    """

    name: str
    heading: str = ""
    measure: Measure | None = None
    metric: str = ""
    digits: int | None = None
    printed: int | None = None
    where: Where = Where.EVERYWHERE
    sentences: bool = False
    blank: str = ""
    """What a cell without anything says in print."""
    chance: bool = False
    """A chance in percent: never told as 0 or 100, for it is counted in a sample."""

    def name_in(self, units: Units) -> str:
        metric = units.system is UnitSystem.METRIC and self.metric
        return self.metric if metric else self.name

    def heading_in(self, units: Units) -> str:
        """The words above the column in print, with the unit where it has one."""
        if self.measure is None:
            return self.heading or self.name.replace("_", " ")
        return f"{self.heading} {self.measure.unit(units)}".strip()

    def cell_in(self, cell: Cell, units: Units, digits: int | None) -> Cell:
        """A cell in the units of the reader, rounded."""
        if isinstance(cell, bool) or not isinstance(cell, int | float):
            return cell
        value = cell if self.measure is None else self.measure.shown(cell, units)
        if digits is None:
            return value
        return round(value, digits) + 0.0 if digits else round(value)


@dataclass(frozen=True)
class Report:
    """Rows under columns; `notes` are sentences a person should see with them."""

    head: tuple[Column, ...]
    rows: tuple[Row, ...]
    notes: tuple[str, ...] = ()

    @property
    def columns(self) -> tuple[str, ...]:
        """The names of the columns in US units."""
        return tuple(column.name for column in self.head)


def file_table(report: Report, units: Units) -> tuple[tuple[str, ...], tuple[Row, ...]]:
    """The names and rows of a report in a file."""
    return (
        tuple(c.name_in(units) for c in report.head if c.where not in NOT_IN_FILES),
        tuple(_file_row(report.head, row, units) for row in report.rows),
    )


def _file_row(head: Sequence[Column], row: Row, units: Units) -> Row:
    return tuple(
        column.cell_in(cell, units, column.digits)
        for column, cell in zip(head, row, strict=True)
        if column.where not in NOT_IN_FILES
    )


def print_table(
    report: Report, units: Units, *, wide: bool
) -> tuple[tuple[Column, ...], tuple[tuple[str, ...], ...]]:
    """The columns and texts of a report in print: those that matter most, or all of them.

    A column without a single word is left out unless all are asked for.
    """
    wanted = {Where.EVERYWHERE, Where.PRINT, *([Where.WIDE, Where.WIDE_PRINT] if wide else [])}
    kept = [
        at
        for at, column in enumerate(report.head)
        if column.where in wanted
        and (wide or column.blank or not report.rows or _says_something(report, at))
    ]
    return (
        tuple(report.head[at] for at in kept),
        tuple(tuple(_text(report.head[at], row[at], units) for at in kept) for row in report.rows),
    )


def _says_something(report: Report, at: int) -> bool:
    return any(row[at] not in (None, "") for row in report.rows)


def _text(column: Column, cell: Cell, units: Units) -> str:
    digits = column.digits if column.printed is None else column.printed
    shown = column.cell_in(cell, units, digits)
    if shown is None:
        return column.blank
    if column.chance and isinstance(cell, int | float):
        return "<1" if cell < 0.5 else ">99" if cell > 99.5 else f"{cell:.0f}"
    if isinstance(shown, float) and digits is not None:
        return f"{shown:.{digits}f}"
    return str(shown).replace("\t", " ")
