"""Which screen each door opens."""

from __future__ import annotations

from collections.abc import Callable

from textual.screen import Screen

from tui.base.board_screen import BoardScreen
from tui.base.correction import CorrectionScreen
from tui.check_in.screen import CheckInScreen
from tui.contamination.cause_values import CauseValuesScreen
from tui.contamination.screen import ContaminationScreen
from tui.due.screen import DueScreen
from tui.event.screen import EventScreen
from tui.first_steps.screen import FirstStepsScreen
from tui.importing.screen import ImportScreen
from tui.learned.screen import LearnedScreen
from tui.log.screen import LogScreen
from tui.outlook.screen import OutlookScreen
from tui.review.screen import ReviewScreen
from tui.season.screen import SeasonScreen
from tui.season_settings.screen import SeasonSettingsScreen
from tui.site_check.screen import SiteCheckScreen
from tui.station.screen import StationScreen
from tui.station_form.screen import StationForm
from tui.work_day.kit_screen import KitScreen
from tui.work_day.screen import WorkDayScreen

ROUTES: dict[str, type[BoardScreen]] = {
    "check_in": CheckInScreen,
    "check_in_here": CheckInScreen,
    "event": EventScreen,
    "due": DueScreen,
    "work_day": WorkDayScreen,
    "season": SeasonScreen,
    "season_settings": SeasonSettingsScreen,
    "outlook": OutlookScreen,
    "contamination": ContaminationScreen,
    "review": ReviewScreen,
    "new": StationForm,
    "import": ImportScreen,
    "station": StationScreen,
    "site_check": SiteCheckScreen,
    "log": LogScreen,
    "log_here": LogScreen,
    "facts": StationForm,
    "learned": LearnedScreen,
}
UNSAVED_ROUTES: dict[str, Callable[..., Screen[None]]] = {
    **ROUTES,
    "first_steps": FirstStepsScreen,
    "kit": KitScreen,
    "cause_values": CauseValuesScreen,
    "correction": CorrectionScreen,
}
"""The screen that takes up what was unsaved on it, by its `where`."""
