"""A station in other forms over all weather years, as rows."""

from __future__ import annotations

from dataclasses import dataclass

from store.errors import BadValue
from store.model.assimilation import FilterCache
from store.model.snapshot import Snapshot
from store.model.working_out import board_of
from store.records import StationFacts
from store.reports.report import Column, Measure, Report
from store.views.what_if import Change, changed_facts, tried

HEAD = (
    Column("form"),
    Column("gallons", "holds", Measure.VOLUME, "litres", digits=0),
    Column("holds_percent", "% holds through heavy use", digits=0, chance=True),
    Column("wet_days", "wet days", digits=1),
    Column("of"),
    Column("fills_a_year", "fills a year", digits=2, printed=1),
    Column("gal_a_year", "a year", Measure.VOLUME, "litres_a_year", digits=0),
)


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
            variant.capacity_l,
            100.0 * variant.hold_chance,
            float(variant.wet_days.mean()),
            variant.heavy_days,
            float(variant.fills.mean()),
            float(variant.brought_l.mean()),
        )
        for variant in found.found.variants
    )
    said = () if found.suggestion is None else (f"{found.suggestion.text}.",)
    return Report(HEAD, rows, (f"Over {found.found.basis}.", *said))
