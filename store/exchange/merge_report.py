"""What a merge comes to, as rows: what comes in, and where the two logbooks disagree."""

from __future__ import annotations

from typing import Any

from store.exchange.merging import Conflict, Merged
from store.logbook.rows import columns_of, kind_of
from store.records import Entry
from store.reports.report import Column, Report, Row
from store.units import Units

COLUMNS = tuple(Column(name) for name in ("what", "about", "where", "mine", "theirs", "holds"))
GONE = "taken back"


def merge_rows(merged: Merged, units: Units) -> Report:
    """A row for each batch that comes in and for each conflict; contradictions as notes."""
    coming: list[Row] = [
        ("comes in", one.written_utc[:10], "", "", f"{one.title} ({_counted(one.entries)})", "")
        for one in merged.batches
    ]
    return Report(
        COLUMNS, (*coming, *(_row(one, units) for one in merged.conflicts)), merged.contradictions
    )


def summary(merged: Merged) -> str:
    """How much came in, and in how many things the logbooks disagree, as a sentence."""
    entries = sum(one.entries for one in merged.batches)
    if not entries:
        return "There is nothing new to bring in."
    count = len(merged.conflicts)
    disagree = "" if not count else f"; {count} {'thing was' if count == 1 else 'things were'} "
    return f"{_counted(entries)}{disagree}{'changed in both' if count else ''}."


def _counted(entries: int) -> str:
    return "1 entry" if entries == 1 else f"{entries} entries"


def _row(one: Conflict, units: Units) -> Row:
    either = one.mine or one.theirs
    what = kind_of(type(either.fact)).replace("_", " ") if either else ""
    apart = _apart(one.mine, one.theirs)
    if one.holds is None:
        holds = GONE
    else:
        same = (one.holds.day, one.holds.fact)
        holds = "mine" if one.mine and same == (one.mine.day, one.mine.fact) else "theirs"
    return (
        f"conflict: {what}",
        str(either.day) if either else "",
        one.where,
        _words(one.mine, apart, units),
        _words(one.theirs, apart, units),
        holds,
    )


def _apart(one: Entry | None, other: Entry | None) -> set[str] | None:
    """The fields in which two entries differ; None for all of them."""
    if one is None or other is None:
        return None
    mine, theirs = _fields(one), _fields(other)
    return {name for name in mine | theirs if mine.get(name) != theirs.get(name)}


def _fields(entry: Entry) -> dict[str, Any]:
    return {"date": entry.day.isoformat(), **columns_of(entry.fact)}


def _words(entry: Entry | None, apart: set[str] | None, units: Units) -> str:
    if entry is None:
        return GONE
    shown = {
        name: value
        for name, value in _fields(entry).items()
        if (name in apart if apart is not None else value not in (None, ""))
        and not name.endswith("_id")
        and name != "date"
    }
    if apart is not None and "date" in apart:
        shown = {"date": entry.day.isoformat(), **shown}
    return ", ".join(_word(name, value, units) for name, value in shown.items())


def _word(name: str, value: Any, units: Units) -> str:
    convert_to = {
        "_mm": (units.depth, units.depth_name),
        "_l": (units.volume, units.volume_name),
        "_m2": (units.area, units.area_name),
    }
    for ending, (convert, unit) in convert_to.items():
        if name.endswith(ending):
            written = "-" if value is None else f"{convert(value):.1f} {unit}"
            return f"{name.removesuffix(ending).replace('_', ' ')} {written}"
    return f"{name.replace('_', ' ')} {'-' if value in (None, '') else value}"
