"""Print rows of an answer as a table, CSV or JSON."""

from __future__ import annotations

import csv
import io
import json
import shutil
import sys
from datetime import date
from enum import StrEnum
from pathlib import Path
from typing import Any

import click

from store.csv_text import harmless
from store.file_out import written_to
from store.reports.report import Cell, Report, file_table, print_table
from store.units import Units
from tui.print_layout import laid_out
from tui.widgets.signs import plain, signs_of

USUAL_WIDTH = 80


class As(StrEnum):
    TABLE = "table"
    CSV = "csv"
    JSON = "json"


def deliver(content: bytes, out: Path | None) -> None:
    """Write a file, or where `out` is None put its content on standard output.

    Raises:
        BadFile: the file cannot be written.
    """
    if out is None:
        click.echo(content, nl=False)
        return
    with written_to(out):
        out.write_bytes(content)
    say(f"Wrote {out}.")


def say(line: str, *, err: bool = False) -> None:
    """Print a line in the signs that its reader can see."""
    click.echo(plain(line, signs_of(sys.stderr if err else sys.stdout)), err=err)


def print_rows(report: Report, form: As, units: Units, *, wide: bool = False) -> None:
    """Print rows to standard output; a JSON list has one object a row.

    A table is as wide as the terminal, 80 characters where there is none, and as wide as it
    takes where `wide` asks for all of it.
    """
    if form is As.TABLE:
        width = None if wide else shutil.get_terminal_size((USUAL_WIDTH, 0)).columns
        head, rows = print_table(report, units, wide=wide)
        headings = [column.heading_in(units) for column in head]
        below = next((at for at, column in enumerate(head) if column.sentences), None)
        numeric = [_is_numeric(report, column.name) for column in head]
        for line in laid_out(headings, rows, numeric, below, width):
            say(line)
        return
    columns, file_rows = file_table(report, units)
    if form is As.CSV:
        text = io.StringIO()
        writer = csv.writer(text, lineterminator="\n")
        writer.writerow(columns)
        writer.writerows([csv_cell(cell) for cell in row] for row in file_rows)
        click.echo(text.getvalue().encode(), nl=False)
    else:
        objects = [dict(zip(columns, map(_plain, row), strict=True)) for row in file_rows]
        click.echo(json.dumps(objects, indent=1, ensure_ascii=False).encode())


def csv_cell(cell: Cell) -> Cell:
    """A cell as it is written: nothing is empty, and no text is taken for a formula."""
    if cell is None:
        return ""
    return harmless(cell) if isinstance(cell, str) else cell


def _is_numeric(report: Report, name: str) -> bool:
    at = report.columns.index(name)
    return any(isinstance(row[at], int | float) for row in report.rows)


def _plain(cell: Cell) -> Any:
    return cell.isoformat() if isinstance(cell, date) else cell
