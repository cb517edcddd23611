"""What is entered in a check-in as it is kept while unsaved, and as it is shown again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from store.model.snapshot import Snapshot
from store.plain_data import from_plain, to_plain
from tui.base.typed_field import FieldTyped
from tui.check_in.entered import CheckIn


@dataclass(frozen=True)
class CheckInTyped:
    """What is entered in a check-in, and what stands in the field at the place `at`."""

    sheet: CheckIn
    at: str
    field: FieldTyped | None = None


def plain_check_in(sheet: CheckIn, at: str | None, field: FieldTyped | None) -> Any:
    """Plain data of all of it; None where nothing is entered."""
    if sheet.is_empty and field is None:
        return None
    return to_plain(CheckInTyped(sheet, at or "", field))


def check_in_again(typed: Mapping[str, Any], snapshot: Snapshot) -> CheckInTyped:
    """What `plain_check_in` gave, without places the logbook no longer has.

    Raises:
        BadValue: it is damaged.
    """
    kept = from_plain(CheckInTyped, typed)
    sheet = kept.sheet.among(snapshot.places)
    return replace(kept, sheet=replace(sheet, day=min(sheet.day, snapshot.today)))
