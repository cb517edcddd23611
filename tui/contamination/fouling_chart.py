"""The chart of a fouled tank: how strong its water is, or how much it is used."""

from __future__ import annotations

from datetime import date

from textual.app import ComposeResult
from textual.containers import Container
from textual.widgets import Static

from store.contamination.events import EventHistory
from store.contamination.parameters import Priors
from store.model.recovery import EventRecovery
from store.views.fouling_series import FoulingSeries, habit_series, strength_series
from tui.base.log_marks import ACTION_GLYPHS, CLEAR, LOOKED
from tui.widgets.chart_data import ChartData, ChartMark, Threshold
from tui.widgets.level_chart import LevelChart

NO_CHART = "No chart: these dates are a rule of thumb; the basis says why."
LOWEST_PERCENT = 1.0
ROUND_TOPS = (100.0, 200.0, 500.0, 1000.0)


class FoulingChart(Container):
    """The chart of one event, or the sentence why there is none."""

    def __init__(self) -> None:
        super().__init__()
        self._shown: tuple[object, ...] = ()

    def compose(self) -> ComposeResult:
        yield LevelChart(id="chart")
        yield Static(NO_CHART, id="no-chart", markup=False)

    def forget(self) -> None:
        """Draw the next event anew even if its dates are the same."""
        self._shown = ()

    def show(self, found: EventRecovery, priors: Priors, today: date, *, habit: bool) -> None:
        asked = (found.event.event_id, found.outlook.expected, habit)
        if asked == self._shown:
            return
        self._shown = asked
        data = fouling_chart(found, priors, today, habit=habit)
        chart = self.query_one(LevelChart)
        chart.display = data is not None
        self.query_one("#no-chart").display = data is None
        if data is not None:
            chart.load(data, cursor_day=today)


def fouling_chart(
    recovery: EventRecovery, priors: Priors, today: date, *, habit: bool
) -> ChartData | None:
    """The strength of the water in percent of the usual case, on a logarithmic axis.

    The habit of use in percent, where it is asked for or nothing is dissolved. None by
    rule of thumb.
    """
    strength = None if habit else strength_series(recovery, priors)
    if strength is not None:
        return _strength_chart(strength, recovery.event, today)
    used = habit_series(recovery)
    return None if used is None else _habit_chart(used, recovery.event, today)


def _strength_chart(series: FoulingSeries, event: EventHistory, today: date) -> ChartData:
    strongest = 100.0 * float(max(series.high.max(), series.threshold))
    top = next((top for top in ROUND_TOPS if top >= strongest), ROUND_TOPS[-1])
    lowest = min(LOWEST_PERCENT, 100.0 * series.threshold / 5.0)
    return ChartData(
        first_day=series.first_day,
        values=_percent(series.median.tolist()),
        today=today,
        at_rim=top,
        at_bottom=lowest,
        y_label="% of a usual fouling",
        low=_percent(series.low.tolist()),
        high=_percent(series.high.tolist()),
        marks=_marks(event),
        thresholds=(
            Threshold(100.0 * series.threshold, f"animals come back: {series.threshold:.0%}"),
        ),
        axis_format="{:.3g}",
        value_format="{:.3g}",
        is_log=True,
    )


def _habit_chart(series: FoulingSeries, event: EventHistory, today: date) -> ChartData:
    return ChartData(
        first_day=series.first_day,
        values=_percent(series.median.tolist()),
        today=today,
        at_rim=100.0,
        at_bottom=0.0,
        y_label="% of the habit of use",
        low=_percent(series.low.tolist()),
        high=_percent(series.high.tolist()),
        marks=_marks(event),
        thresholds=(Threshold(100.0 * series.threshold, "in use again"),),
        value_format="{:.0f}",
    )


def _percent(shares: list[float]) -> tuple[float, ...]:
    return tuple(100.0 * share for share in shares)


def _marks(event: EventHistory) -> tuple[ChartMark, ...]:
    actions = (
        ChartMark(done.on, ACTION_GLYPHS.get(done.action, CLEAR), done.action.value)
        for done in event.actions
    )
    signs = (ChartMark(sign.on, LOOKED, "looked at the water") for sign in event.signs)
    return tuple(sorted((*actions, *signs), key=lambda mark: mark.day))
