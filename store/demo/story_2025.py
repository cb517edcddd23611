"""The second season, up to the last evening before the day the demo is looked at."""

from __future__ import annotations

from datetime import date

from store.demo.pages import (
    AnyPage,
    GaugePage,
    Line,
    Page,
    WeatherPage,
    check_in,
    chore,
    done,
    fill,
    found,
    look,
    note,
    rake,
)
from store.demo.stations import STATIONS
from store.records import Action, Cause, ChoreKind, UseSeen

NONE, LIGHT, HEAVY = UseSeen.NONE, UseSeen.LIGHT, UseSeen.HEAVY
UNCOVER = ChoreKind.UNCOVER

SPRING: tuple[AnyPage, ...] = (
    WeatherPage(date(2025, 4, 6), "lower-barn-2025-03.csv", date(2024, 12, 1), date(2025, 3, 31)),
    *check_in(
        date(2025, 4, 12),
        look("Gate", rake("Gate"), use=LIGHT),
        look("Hayfield corner", use=NONE),
        look("Culvert [north]", rake("Culvert [north]"), use=LIGHT),
        look("Clover strip", rake("Clover strip"), use=LIGHT),
        look("Quarry rim", rake("Quarry rim"), use=LIGHT),
    ),
    *check_in(
        date(2025, 4, 19),
        look("Saddle", rake("Saddle"), chore("Saddle", UNCOVER), use=NONE),
        look("Ledge", rake("Ledge"), use=LIGHT),
        look("Beech bench", rake("Beech bench"), use=LIGHT),
        look("Spring draw", rake("Spring draw"), chore("Spring draw", UNCOVER), use=NONE),
        look("Ridge end", rake("Ridge end"), by_eye=True, use=LIGHT),
    ),
    Page(
        date(2025, 4, 26),
        "Lane trough filled for the year",
        (Line(fill("Lane trough", 140.0)),),
    ),
    Page(date(2025, 5, 4), "A new spot: Old orchard", (Line(STATIONS["Old orchard"]),)),
    Page(
        date(2025, 5, 10),
        "Install at Old orchard",
        (Line(chore("Old orchard", ChoreKind.INSTALL, 100.0, "Called before digging.")),),
    ),
)

SUMMER: tuple[AnyPage, ...] = (
    WeatherPage(date(2025, 6, 8), "lower-barn-2025-05.csv", date(2025, 4, 1), date(2025, 6, 6)),
    *check_in(
        date(2025, 6, 14),
        look("Gate", use=LIGHT),
        look("Hayfield corner", by_eye=True, use=LIGHT),
        look(
            "Culvert [north]",
            found(
                "dye at the culvert",
                Cause.DYE,
                Action.LEFT,
                "Marking dye washed in from the road bank; water is blue.",
            ),
            done(
                "dye at the culvert",
                Action.BAILED,
                70.0,
                "Bailed half of it onto the bank, away from the ditch.",
            ),
            use=NONE,
        ),
        look("Old orchard", use=NONE),
        look("Lane trough", by_eye=True, use=NONE),
    ),
    GaugePage(date(2025, 6, 21), date(2025, 6, 15), date(2025, 6, 21)),
    GaugePage(date(2025, 6, 28), date(2025, 6, 22), date(2025, 6, 28)),
    GaugePage(date(2025, 7, 5), date(2025, 6, 29), date(2025, 7, 5)),
    *check_in(
        date(2025, 7, 5),
        look(
            "Old orchard",
            found(
                "minnows in the orchard",
                Cause.DEAD_FISH,
                Action.REMOVED,
                "Minnows put in against mosquitoes, all dead. Netted out with gloves on.",
            ),
            done("minnows in the orchard", Action.BAILED),
            done("minnows in the orchard", Action.REFILLED, 110.0),
            use=NONE,
        ),
        look("Clover strip", use=LIGHT),
    ),
    *check_in(
        date(2025, 7, 6),
        look(
            "Ledge",
            found(
                "scum on the ledge",
                Cause.OTHER,
                Action.LEFT,
                "A thick green mat on the water. Not touched; asked the wildlife agency.",
            ),
            use=NONE,
        ),
        look("Beech bench", use=LIGHT),
        look("Ridge end", use=HEAVY),
    ),
    GaugePage(date(2025, 7, 12), date(2025, 7, 6), date(2025, 7, 12)),
    GaugePage(date(2025, 7, 19), date(2025, 7, 13), date(2025, 7, 19)),
    *check_in(
        date(2025, 8, 9),
        look("Gate", use=LIGHT, camera=1.1),
        look("Culvert [north]", by_eye=True, use=NONE),
        look("Old orchard", done("minnows in the orchard", Action.SEEN_CLEAR), use=LIGHT),
    ),
    *check_in(
        date(2025, 8, 16),
        look(
            "Quarry rim",
            found(
                "squirrel at the quarry",
                Cause.DROWNED_ANIMAL,
                Action.REMOVED,
                "Squirrel. Taken out with gloves and a net; no water to bail with up here.",
            ),
            use=LIGHT,
        ),
    ),
    *check_in(
        date(2025, 8, 23),
        look(
            "Saddle",
            found(
                "bears at the saddle, 2025",
                Cause.BEAR_USE,
                Action.COVERED,
                "Fresh tracks, water muddied. Covered it and went straight out.",
            ),
            use=NONE,
        ),
        look("Ledge", done("scum on the ledge", Action.SEEN_CLEAR), odd_in=4.0, use=LIGHT),
        look(
            "Spring draw",
            found("bears in the draw", Cause.BEAR_USE, Action.LEFT, "Tracks at the rim."),
            use=LIGHT,
        ),
    ),
    WeatherPage(date(2025, 9, 7), "lower-barn-2025-09.csv", date(2025, 6, 7), date(2025, 9, 5)),
    Page(date(2025, 9, 7), "A spot for next May: Far corner", (Line(STATIONS["Far corner"]),)),
)

AUTUMN: tuple[AnyPage, ...] = (
    *check_in(
        date(2025, 9, 20),
        look("Gate", use=LIGHT, camera=1.9),
        look("Culvert [north]", done("dye at the culvert", Action.SEEN_CLEAR), use=LIGHT),
        look("Old orchard", ramp=None, use=LIGHT),
        look("Lane trough", by_eye=True, use=NONE, odd_in=-6.0),
    ),
    Page(
        date(2025, 9, 20),
        "Lane trough: a note",
        (Line(note("Lane trough", "Fuller than it should be. Did somebody top it up?")),),
    ),
    *check_in(
        date(2025, 9, 21),
        look("Saddle", done("bears at the saddle, 2025", Action.SEEN_CLEAR), use=NONE),
        look("Ledge", odd_in=8.0, use=LIGHT),
        look(
            "Beech bench",
            found(
                "opossum on the bench",
                Cause.DROWNED_ANIMAL,
                Action.LEFT,
                "Opossum at the bottom, too deep to reach safely alone. Come back with a net.",
            ),
            use=NONE,
        ),
        look("Ridge end", by_eye=True, use=HEAVY, camera=3.2),
    ),
    Page(
        date(2025, 9, 21),
        "Ledge: a note",
        (Line(note("Ledge", "Lower than rain and deer explain, twice now. Look for a crack.")),),
    ),
    *check_in(
        date(2025, 10, 4),
        look("Gate", use=HEAVY, camera=3.4),
        look("Clover strip", ramp=False, use=HEAVY, camera=4.0),
        look("Quarry rim", use=NONE),
    ),
    Page(
        date(2025, 10, 4),
        "Gate: a note",
        (
            Line(
                note(
                    "Gate",
                    'Two does and a fawn at dusk 🦌; the old sign still says "Mind the wasps".',
                )
            ),
        ),
    ),
    WeatherPage(date(2025, 10, 7), "lower-barn-2025-10.csv", date(2025, 9, 6), date(2025, 10, 6)),
)

SEASON: tuple[AnyPage, ...] = (*SPRING, *SUMMER, *AUTUMN)
