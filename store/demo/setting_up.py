"""The first evening: the keeper writes up the tracts and the tanks that stand."""

from __future__ import annotations

from datetime import date

from store.demo.climate import RAIN_MM, TMAX_C, TMIN_C, WET_DAYS
from store.demo.pages import AnyPage, Line, Page, WeatherPage, check_in, chore, look
from store.demo.stations import QUARRY, STATIONS, TRACTS
from store.model.work_kit import TITLE, WorkKit, kept_as
from store.records import MonthlyNormals
from store.vocabulary import Access, ChoreKind, UseSeen

FIRST_EVENING = date(2024, 3, 24)
LATER_STATIONS = ("Old orchard", "Far corner")
OLD_INSTALLS = (
    ("Culvert [north]", date(2023, 5, 6), 60.0),
    ("Lane trough", date(2023, 5, 6), 120.0),
    ("Saddle", date(2023, 5, 13), None),
    ("Beech bench", date(2023, 5, 13), None),
    ("Quarry rim", date(2023, 5, 20), None),
    ("Stone wall", date(2023, 5, 20), None),
)
QUARRY_ID = next(tract.tract_id for tract in TRACTS if tract.name == QUARRY)
NORMALS = tuple(
    MonthlyNormals(QUARRY_ID, number, *(float(value) for value in month))
    for number, month in enumerate(zip(RAIN_MM, WET_DAYS, TMIN_C, TMAX_C, strict=True), 1)
)
"""Typed in before the tract had a record; a record goes before them."""
BORROWED = WorkKit(by=Access.VEHICLE, payload_kg=500.0)
"""A truck that was borrowed for a day, entered, and undone when it went back."""

PAGES: tuple[AnyPage, ...] = (
    WeatherPage(FIRST_EVENING, "lower-barn-to-2024-03.csv", date(2010, 1, 1), date(2024, 3, 22)),
    Page(FIRST_EVENING, "Three tracts", tuple(Line(tract) for tract in TRACTS)),
    Page(FIRST_EVENING, f"A usual year at {QUARRY}", tuple(Line(month) for month in NORMALS)),
    Page(
        FIRST_EVENING,
        "The tanks that stand, and the spots chosen",
        tuple(Line(facts) for name, facts in STATIONS.items() if name not in LATER_STATIONS),
    ),
    Page(
        FIRST_EVENING,
        "Installs of last year, from paper",
        tuple(
            Line(chore(name, ChoreKind.INSTALL, gallons), on) for name, on, gallons in OLD_INSTALLS
        ),
    ),
    Page(FIRST_EVENING, TITLE, (Line(kept_as(BORROWED)),), undone=True),
    *check_in(
        FIRST_EVENING,
        look("Gate", by_eye=True, use=UseSeen.NONE),
        look("Hayfield corner", by_eye=True, use=UseSeen.NONE),
    ),
)
