"""What the station's level chart and the picture of its tank show."""

from __future__ import annotations

from rich.text import Text

from store.units import Units
from store.views.log_lines import LineKind
from store.views.station_page import StationPage
from store.weather.days import FloatArray
from tui.base.log_marks import glyph, with_note
from tui.widgets.chart_data import ChartData, ChartMark, ChartReading, Threshold
from tui.widgets.tank_picture import tank_picture

_MARKED = frozenset({LineKind.CHORE, LineKind.EVENT, LineKind.ACTION})


def chart_data(page: StationPage, units: Units) -> ChartData | None:
    """The chart of a page in display units; None where there is no level."""
    course = page.course
    if course is None:
        return None

    def shown(values_mm: FloatArray) -> tuple[float, ...]:
        return tuple(units.depth(value) for value in values_mm.tolist())

    thresholds = [Threshold(units.depth(course.dry_mm), "dry")]
    if course.reach_mm < course.dry_mm:
        thresholds.append(Threshold(units.depth(course.reach_mm), "out of reach of deer"))
    return ChartData(
        first_day=course.first_day,
        values=shown(course.below_rim_mm),
        today=page.today,
        at_rim=0.0,
        at_bottom=units.depth(course.depth_mm),
        y_label=f"{units.depth_name} below the rim",
        low=shown(course.lowest_mm),
        high=shown(course.highest_mm),
        readings=tuple(
            ChartReading(read.on, units.depth(read.below_rim_mm)) for read in course.readings
        ),
        marks=tuple(
            ChartMark(line.on, glyph(line), with_note(line, units))
            for line in reversed(page.lines)
            if line.kind in _MARKED and line.on >= course.first_day
        ),
        thresholds=tuple(thresholds),
    )


def picture(page: StationPage, width: int, height: int) -> Text:
    """The tank as it stands today."""
    share = None
    if page.level is not None:
        share = 1.0 - page.level.below_rim_mm / page.facts.tank.depth_mm
    return tank_picture(
        share,
        width,
        height,
        ramp=None if page.ramp is None else page.ramp.in_place,
        ice=page.ice,
        covered=page.covered_since is not None,
    )
