"""Read a spreadsheet saved as text: commas, semicolons or tabs, with a header row.

One reader for every CSV a person brings, so a byte-order mark, Windows line ends
or a European list separator are dealt with once.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from store.errors import BadFile
from store.plain_text import without_controls

MAX_MEGABYTES = 50
"""Larger files are refused: a century of daily weather is under 10 MB."""

SEPARATORS = ",;\t"
FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n")
_NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?")


@dataclass(frozen=True)
class Row:
    """One line under the header; cells are stripped text by column name."""

    line: int
    cells: Mapping[str, str]


@dataclass(frozen=True)
class Table:
    """A file's columns, in lower case with underscores, and its rows."""

    path: Path
    columns: tuple[str, ...]
    rows: tuple[Row, ...]


def read_text(path: Path) -> str:
    """The text of a file, without byte-order mark and control characters.

    Every line ends with a line feed, whatever ended it in the file.

    Raises:
        BadFile: not a file, too large, empty, or not text.
    """
    try:
        if path.is_dir():
            raise BadFile(f"{path} is a directory; name the file inside it.")
        if path.exists() and not path.is_file():
            raise BadFile(f"{path} is a device or a pipe; name a file.")
        size = path.stat().st_size
        if size > MAX_MEGABYTES * 1_000_000:
            raise BadFile(
                f"{path.name} is {size / 1e6:.0f} MB, more than the {MAX_MEGABYTES} MB that are "
                "read at once; cut it to the years and columns you need."
            )
        data = path.read_bytes()
    except OSError as error:
        raise BadFile(f"{path} cannot be read: {error.strerror}; check the name.") from error
    except ValueError as error:
        raise BadFile(f"{path} cannot be the name of a file; check it.") from error
    if b"\0" in data:
        raise BadFile(f"{path.name} is not a text file; save the sheet as CSV and import that.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")
    if not text.strip():
        raise BadFile(f"{path.name} is empty; save the sheet again and import that.")
    return without_controls(text.replace("\r\n", "\n").replace("\r", "\n"))


def harmless(text: str) -> str:
    """A text cell that no spreadsheet runs as a formula: a quote goes before its sign.

    `=`, `+`, `-`, `@`, tab and line ends begin one (OWASP, CSV Injection). A number
    that is written as text is left as it is. `as_meant` takes the quote away again.
    """
    return f"'{text}" if _is_formula(text) and not _NUMBER.fullmatch(text) else text


def as_meant(cell: str) -> str:
    """A cell without the quote that keeps a spreadsheet from running it."""
    return cell[1:] if cell[:1] == "'" and _is_formula(cell) else cell


def _is_formula(text: str) -> bool:
    """Whether a text begins like a formula, behind any quotes; an empty one does not."""
    return text.lstrip("'")[:1] in FORMULA_SIGNS


def column_name(heading: str) -> str:
    """A heading as a column name: `Below rim (in)` becomes `below_rim_in`."""
    return re.sub(r"[^a-z0-9]+", "_", heading.strip().lower()).strip("_")


def read_table(path: Path) -> Table:
    """Read a table with a header row; the separator is the commonest in the header.

    Blank lines are passed over. Cells beyond the header are kept under the name
    `""` so that the caller can reject the line.

    Raises:
        BadFile: as `read_text`, or the header repeats a column.
    """
    text = read_text(path)
    header_line = next(line for line in text.splitlines() if line.strip())
    separator = max(SEPARATORS, key=header_line.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    columns: tuple[str, ...] = ()
    rows: list[Row] = []
    first_line = 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                if columns:
                    rows.append(Row(first_line, _named(columns, cells)))
                else:
                    columns = tuple(column_name(cell) for cell in cells)
                    _refuse_repeats(path, columns)
            first_line = reader.line_num + 1
    except csv.Error as error:
        raise BadFile(f"{path.name}, line {reader.line_num}: {error}; check the quotes.") from error
    return Table(path, tuple(name for name in columns if name), tuple(rows))


def _named(columns: tuple[str, ...], cells: list[str]) -> dict[str, str]:
    named = {
        name: as_meant(cell.strip()) for name, cell in zip(columns, cells, strict=False) if name
    }
    if any(cell.strip() for cell in cells[len(columns) :]):
        named[""] = "more cells than the header has columns"
    return named


def _refuse_repeats(path: Path, columns: tuple[str, ...]) -> None:
    repeated = sorted({name for name in columns if name and columns.count(name) > 1})
    if repeated:
        raise BadFile(
            f"{path.name} has the column {repeated[0]} twice; keep one of them and import again."
        )
