"""A station in other forms over all weather years, as rows in US units."""

from __future__ import annotations

from dataclasses import dataclass

from store.errors import BadValue
from store.model.assimilation import FilterCache
from store.model.board import board_of
from store.model.snapshot import Snapshot
from store.records import StationFacts
from store.reports.report import Report
from store.units import gallons_from_litres
from store.views.what_if import Change, changed_facts, tried


@dataclass(frozen=True)
class Asked:
    """A form asked for beside the usual ones, with its name."""

    name: str
    change: Change


def what_if_rows(
    snapshot: Snapshot, name: str, asked: Asked | None = None, *, memory: FilterCache | None = None
) -> Report:
    """The station as it is, then changed as `asked`, or else in the usual forms.

    Raises:
        NotFound: no such station.
        BadValue: it has no level, or the form is no possible tank.
    """
    facts = snapshot.places.find_station(name)
    board = board_of(snapshot, memory)
    forms: list[tuple[str, StationFacts]] | None = None
    if asked is not None:
        made = changed_facts(facts, asked.change)
        if made == facts:
            raise BadValue(f"{facts.name} is like that already; ask for something else.")
        forms = [(asked.name, made)]
    found = tried(board, facts.station_id, forms)
    rows = tuple(
        (
            variant.name,
            round(gallons_from_litres(variant.capacity_l)),
            round(100.0 * variant.hold_chance),
            round(float(variant.wet_days.mean()), 1),
            variant.heavy_days,
            round(float(variant.fills.mean()), 2),
            round(gallons_from_litres(float(variant.brought_l.mean()))),
        )
        for variant in found.found.variants
    )
    said = () if found.suggestion is None else (f"{found.suggestion.text}.",)
    columns = ("form", "gallons", "holds_percent", "wet_days", "of", "fills_a_year", "gal_a_year")
    return Report(columns, rows, (f"Over {found.found.basis}.", *said))
