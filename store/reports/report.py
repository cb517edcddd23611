"""Rows with named columns: an answer that can be printed, exported or shown."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

Cell = str | float | int | bool | date | None


@dataclass(frozen=True)
class Report:
    """Rows under `columns`; `notes` are sentences a person should see with them."""

    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()
