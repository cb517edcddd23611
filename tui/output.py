"""Print rows of an answer as a table, CSV or JSON."""

from __future__ import annotations

import csv
import json
import sys
from collections.abc import Sequence
from datetime import date
from enum import StrEnum
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from store.answers.answer import Cell

WIDE = 200
"""Columns assumed where the output is a file or a pipe, so that nothing is folded."""


class As(StrEnum):
    TABLE = "table"
    CSV = "csv"
    JSON = "json"


def print_rows(columns: Sequence[str], rows: Sequence[Sequence[Cell]], form: As) -> None:
    """Print rows to standard output; a JSON list has one object a row."""
    match form:
        case As.TABLE:
            _print_table(columns, rows)
        case As.CSV:
            writer = csv.writer(sys.stdout, lineterminator="\n")
            writer.writerow(columns)
            writer.writerows(["" if cell is None else cell for cell in row] for row in rows)
        case As.JSON:
            objects = [dict(zip(columns, map(_plain, row), strict=True)) for row in rows]
            print(json.dumps(objects, indent=1, ensure_ascii=False))


def _print_table(columns: Sequence[str], rows: Sequence[Sequence[Cell]]) -> None:
    console = Console() if sys.stdout.isatty() else Console(width=WIDE)
    table = Table(box=None, pad_edge=False, header_style="bold")
    for index, column in enumerate(columns):
        numeric = any(isinstance(row[index], int | float) for row in rows)
        table.add_column(column, justify="right" if numeric else "left")
    for row in rows:
        table.add_row(*(Text("" if cell is None else str(cell)) for cell in row))
    console.print(table)


def _plain(cell: Cell) -> Any:
    return cell.isoformat() if isinstance(cell, date) else cell
