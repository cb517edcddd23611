"""Print rows of an answer as a table, CSV or JSON."""

from __future__ import annotations

import csv
import json
import sys
from collections.abc import Sequence
from datetime import date
from enum import StrEnum
from pathlib import Path
from typing import Any

import click
from rich.cells import cell_len
from rich.console import Console
from rich.table import Table
from rich.text import Text

from store.csv_text import harmless
from store.errors import BadValue
from store.reports.report import Cell

SENTENCES = "text"
"""The one column that may be folded over several lines."""


class As(StrEnum):
    TABLE = "table"
    CSV = "csv"
    JSON = "json"


def deliver(content: bytes, out: Path | None) -> None:
    """Write a file, or where `out` is None put its content on standard output.

    Raises:
        BadValue: the file cannot be written.
    """
    if out is None:
        click.echo(content, nl=False)
        return
    try:
        out.write_bytes(content)
    except OSError as error:
        raise BadValue(f"{out} cannot be written: {error.strerror}; choose another.") from error
    click.echo(f"Wrote {out}.")


def print_rows(columns: Sequence[str], rows: Sequence[Sequence[Cell]], form: As) -> None:
    """Print rows to standard output; a JSON list has one object a row."""
    match form:
        case As.TABLE:
            _print_table(columns, rows)
        case As.CSV:
            writer = csv.writer(sys.stdout, lineterminator="\n")
            writer.writerow(columns)
            writer.writerows([csv_cell(cell) for cell in row] for row in rows)
        case As.JSON:
            objects = [dict(zip(columns, map(_plain, row), strict=True)) for row in rows]
            print(json.dumps(objects, indent=1, ensure_ascii=False))


def csv_cell(cell: Cell) -> Cell:
    """A cell as it is written: nothing is empty, and no text is taken for a formula."""
    if cell is None:
        return ""
    return harmless(cell) if isinstance(cell, str) else cell


def _print_table(columns: Sequence[str], rows: Sequence[Sequence[Cell]]) -> None:
    """Whole cells always: only sentences fold, and only where somebody looks on."""
    width = None if sys.stdout.isatty() else _full_width(columns, rows)
    table = Table(box=None, pad_edge=False, header_style="bold")
    for index, column in enumerate(columns):
        numeric = any(isinstance(row[index], int | float) for row in rows)
        table.add_column(
            column,
            justify="right" if numeric else "left",
            no_wrap=column != SENTENCES,
            overflow="fold",
        )
    for row in rows:
        table.add_row(*(Text(_text(cell)) for cell in row))
    Console(width=width).print(table)


def _full_width(columns: Sequence[str], rows: Sequence[Sequence[Cell]]) -> int:
    """Characters that no line of the table needs more than."""
    lines = (columns, *rows)
    widest = (max(cell_len(_text(line[at])) for line in lines) for at in range(len(columns)))
    return sum(widest) + 2 * len(columns)


def _text(cell: Cell) -> str:
    return "" if cell is None else str(cell).replace("\t", " ")


def _plain(cell: Cell) -> Any:
    return cell.isoformat() if isinstance(cell, date) else cell
