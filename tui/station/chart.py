"""What the station's level chart and the picture of its tank show."""

from __future__ import annotations

from rich.text import Text

from store.units import Units
from store.views.log_lines import LineKind
from store.views.station_page import StationPage
from store.weather.days import FloatArray
from tui import words
from tui.base.log_marks import glyph, with_note
from tui.base.tank_scale import picture_width
from tui.widgets.chart_data import ChartData, ChartMark, ChartReading, Threshold
from tui.widgets.tank_picture import tank_picture

_MARKED = frozenset({LineKind.CHORE, LineKind.EVENT, LineKind.ACTION})


def chart_data(page: StationPage, units: Units) -> ChartData | None:
    """The chart of a page in display units; None where there is no level."""
    series = page.level_series
    if series is None:
        return None

    def shown(values_mm: FloatArray) -> tuple[float, ...]:
        return tuple(units.depth(value) for value in values_mm.tolist())

    return ChartData(
        first_day=series.first_day,
        values=shown(series.below_rim_mm),
        today=page.today,
        at_rim=0.0,
        at_bottom=units.depth(series.depth_mm),
        y_label=f"{units.depth_name} below the rim",
        low=shown(series.lowest_mm),
        high=shown(series.highest_mm),
        readings=tuple(
            ChartReading(
                read.on, units.depth(read.below_rim_mm), page.doubts.get(read.entry_id, "")
            )
            for read in series.readings
        ),
        marks=tuple(
            ChartMark(line.on, glyph(line), with_note(line, units))
            for line in reversed(page.lines)
            if line.kind in _MARKED and line.on >= series.first_day
        ),
        thresholds=(Threshold(units.depth(series.dry_mm), "dry"),),
    )


def picture(page: StationPage, units: Units, height: int, most: int) -> Text:
    """The tank as it stands today, to scale, with the depths of rim, water and bottom."""
    depth_mm = page.facts.tank.depth_mm
    share, water = None, ""
    if page.level is not None:
        share = 1.0 - page.level.below_rim_mm / depth_mm
        water = f"{words.depth(page.level.below_rim_mm, units)} down"
    bottom = f"{words.depth(depth_mm, units)} deep"
    return tank_picture(
        share,
        most if page.tank is None else picture_width(page.tank, height, most),
        height,
        ramp=None if page.ramp is None else page.ramp.in_place,
        ice=page.ice,
        covered=page.covered_since is not None,
        scale=("rim", water, bottom),
    )
