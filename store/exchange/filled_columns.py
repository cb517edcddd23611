"""Leave out the columns of other units that no row needs."""

from __future__ import annotations

from store.reports.report import Column, Report, Row

TWINS = ("_mm", "_m2", "_l", "litres")


def filled(
    columns: tuple[Column, ...], rows: tuple[Row, ...], notes: tuple[str, ...] = ()
) -> Report:
    """A report without the metric columns that are empty in every row."""
    kept = [
        index
        for index, column in enumerate(columns)
        if not column.name.endswith(TWINS) or any(row[index] is not None for row in rows)
    ]
    return Report(
        tuple(columns[index] for index in kept),
        tuple(tuple(row[index] for index in kept) for row in rows),
        notes,
    )
