"""Which screen each door opens; its module is loaded when the door is first opened."""

from __future__ import annotations

from collections.abc import Callable

from textual.screen import Screen

from tui.base.board_screen import BoardScreen
from tui.late import Late

DOORS_OPEN = {
    "check_in": "tui.check_in.screen:CheckInScreen",
    "check_in_here": "tui.check_in.screen:CheckInScreen",
    "event": "tui.event.screen:EventScreen",
    "due": "tui.due.screen:DueScreen",
    "work_day": "tui.work_day.screen:WorkDayScreen",
    "season": "tui.season.screen:SeasonScreen",
    "season_settings": "tui.season_settings.screen:SeasonSettingsScreen",
    "outlook": "tui.outlook.screen:OutlookScreen",
    "contamination": "tui.contamination.screen:ContaminationScreen",
    "review": "tui.review.screen:ReviewScreen",
    "new": "tui.station_form.screen:StationForm",
    "import": "tui.importing.screen:ImportScreen",
    "station": "tui.station.screen:StationScreen",
    "site_check": "tui.site_check.screen:SiteCheckScreen",
    "log": "tui.log.screen:LogScreen",
    "log_here": "tui.log.screen:LogScreen",
    "facts": "tui.station_form.screen:StationForm",
    "learned": "tui.learned.screen:LearnedScreen",
}
ROUTES: Late[type[BoardScreen]] = Late(DOORS_OPEN)
UNSAVED_ROUTES: Late[Callable[..., Screen[None]]] = Late(
    {
        **DOORS_OPEN,
        "first_steps": "tui.first_steps.screen:FirstStepsScreen",
        "kit": "tui.work_day.kit_screen:KitScreen",
        "cause_values": "tui.contamination.cause_values:CauseValuesScreen",
        "correction": "tui.base.correction:CorrectionScreen",
    }
)
"""The screen that takes up what was unsaved on it, by its `where`."""
