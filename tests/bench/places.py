"""Records, tanks and tables that the benches share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from store.records import StationFacts, TankMeasures
from store.units import MM_PER_INCH, m2_from_ft2
from store.vocabulary import ApronSurface, ExpectedUse, Exposure, Shape
from store.water.forcing import Forcing
from tests.bench.twin_world import record_forcing

IN = MM_PER_INCH
TANK_110 = TankMeasures(
    Shape.RECTANGULAR,
    30 * IN,
    length_mm=48 * IN,
    width_mm=36 * IN,
    bottom_length_mm=24 * IN,
    bottom_width_mm=7.93 * IN,
)
TANK_118 = TankMeasures(Shape.ROUND, 30 * IN, diameter_mm=37 * IN, bottom_diameter_mm=31 * IN)
TANK_160 = TankMeasures(Shape.RECTANGULAR, 30 * IN, length_mm=48 * IN, width_mm=25.7 * IN)
HALF_DRUM = TankMeasures(Shape.HALF_DRUM, 11.25 * IN, length_mm=31.95 * IN, diameter_mm=22.5 * IN)
POOL = TankMeasures(Shape.ROUND, 10 * IN, diameter_mm=59 * IN)


@dataclass(frozen=True, eq=False)
class Place:
    """A daily record of tests/data: its name and the forcing of all its days."""

    name: str
    forcing: Forcing

    @property
    def years(self) -> range:
        last = self.forcing.first_day.toordinal() + self.forcing.days - 1
        return range(self.forcing.first_day.year, date.fromordinal(last).year + 1)

    def index(self, year: int, month: int, day: int) -> int:
        """Which day of the record that is."""
        return (date(year, month, day) - self.forcing.first_day).days


def champion() -> Place:
    return Place("Champion", record_forcing("champion_daily.csv", 40.4, 1000.0))


def new_york() -> Place:
    return Place("New York", record_forcing("new_york_daily.csv", 40.8, 40.0))


def shenandoah() -> Place:
    """Headwaters of the Shenandoah, on which nothing is tuned."""
    return Place("Shenandoah", record_forcing("shenandoah_daily.csv", 38.3, 911.0))


def station(
    tank: TankMeasures,
    apron_ft2: float,
    surface: ApronSurface = ApronSurface.SCULPTED_SOIL,
    exposure: Exposure = Exposure.PART_SHADE,
    use: ExpectedUse = ExpectedUse.AVERAGE,
    name: str = "bench",
) -> StationFacts:
    """A station whose rim stands at ground level."""
    return StationFacts(
        station_id=name,
        tract_id="bench",
        name=name,
        tank=tank,
        apron_area_m2=m2_from_ft2(apron_ft2),
        apron_surface=surface,
        exposure=exposure,
        expected_use=use,
    )


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A markdown table; the first column is text, the others are numbers."""
    rule = ["---"] + ["---:"] * (len(head) - 1)
    return "\n".join("| " + " | ".join(cells) + " |" for cells in (head, rule, *rows))
