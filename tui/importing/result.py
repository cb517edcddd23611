"""What the import screen says when an import is done."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from store.transfer.importing import SheetImported
from store.transfer.weather import WeatherImported


@dataclass(frozen=True)
class ImportResult:
    title: str
    lines: tuple[str, ...]


def from_weather(done: WeatherImported) -> ImportResult:
    left_out = len(done.rejected)
    lines = [f"Used by {done.users}.", *done.notes]
    if left_out:
        lines.append(f"Left out: {left_out} bad {'line' if left_out == 1 else 'lines'}.")
    return ImportResult(
        f"{done.counted}.",
        (*lines, *(str(problem) for problem in done.rejected)),
    )


def from_sheet(done: SheetImported, path: Path) -> ImportResult:
    return ImportResult(
        f"{path.name}: {done.written} new entries, {done.known} known already.", done.warnings
    )
