"""The second season, up to the last evening before the day the demo is looked at."""

from __future__ import annotations

from datetime import date

from store.demo.pages import (
    AnyPage,
    GaugePage,
    Line,
    Page,
    WeatherPage,
    answer,
    bears,
    check_in,
    chore,
    done,
    fill,
    found,
    look,
    note,
    photo,
    rake,
    sign,
    site,
)
from store.demo.stations import NOTCH, STATIONS, tract_id
from store.records import CauseSetting, SeasonLimit, SeasonWindow
from store.vocabulary import (
    Action,
    AnimalClass,
    AnimalSize,
    Cause,
    ChoreKind,
    LimitKind,
    PromptKind,
    Response,
    Strength,
    UseSeen,
    WindowKind,
)

NONE, LIGHT, HEAVY = UseSeen.NONE, UseSeen.LIGHT, UseSeen.HEAVY
UNCOVER = ChoreKind.UNCOVER

SPRING: tuple[AnyPage, ...] = (
    Page(
        date(2025, 3, 30),
        f"{NOTCH}: raking from 5 April, a visit costs 12 days",
        (
            Line(SeasonWindow(tract_id(NOTCH), WindowKind.RAKE, "04-05", "05-03")),
            Line(SeasonLimit(tract_id(NOTCH), LimitKind.VISIT_DAYS, 12.0)),
        ),
    ),
    WeatherPage(date(2025, 4, 6), "lower-barn-2025-03.csv", date(2024, 12, 1), date(2025, 3, 31)),
    *check_in(
        date(2025, 4, 12),
        look("Gate", rake("Gate"), use=LIGHT),
        look("Hayfield corner", use=NONE),
        look("Culvert [north]", rake("Culvert [north]"), use=LIGHT),
        look(
            "Clover strip",
            rake("Clover strip"),
            found(
                "toads in the clover",
                Cause.DROWNED_ANIMAL,
                Action.REMOVED,
                "Three toads in the corner behind the ramp; set it closer to the wall.",
                animal=AnimalClass.REPTILE_OR_AMPHIBIAN,
                size=AnimalSize.SMALL,
                days_dead=5.0,
            ),
            use=LIGHT,
        ),
        look("Quarry rim", rake("Quarry rim"), use=LIGHT),
    ),
    *check_in(
        date(2025, 4, 19),
        look("Saddle", rake("Saddle"), chore("Saddle", UNCOVER), use=NONE),
        look("Ledge", rake("Ledge"), use=LIGHT),
        look(
            "Beech bench",
            rake("Beech bench"),
            found(
                "robin on the bench",
                Cause.DROWNED_ANIMAL,
                Action.REMOVED,
                "A robin. Gloves and a net.",
                animal=AnimalClass.BIRD,
                size=AnimalSize.SMALL,
                days_dead=10.0,
            ),
            use=LIGHT,
        ),
        look("Spring draw", rake("Spring draw"), chore("Spring draw", UNCOVER), use=NONE),
        look("Ridge end", rake("Ridge end"), by_eye=True, use=LIGHT),
    ),
    Page(
        date(2025, 4, 26),
        "Lane trough filled for the year",
        (
            Line(fill("Lane trough", 140.0)),
            Line(
                done(
                    "coyote in the trough",
                    Action.SEEN_CLEAR,
                    text="Rinsed out in the autumn, clean water now; a doe drank that evening.",
                )
            ),
        ),
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
        look(
            "Hayfield corner",
            found(
                "mowing in the hayfield",
                Cause.DISTURBANCE,
                Action.LEFT,
                "Mowing up to the rim, and dogs along.",
            ),
            by_eye=True,
            use=LIGHT,
        ),
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
                animal=AnimalClass.FISH,
                size=AnimalSize.SMALL,
                days_dead=2.0,
            ),
            done("minnows in the orchard", Action.BAILED),
            done("minnows in the orchard", Action.REFILLED, 110.0),
            use=NONE,
        ),
        look(
            "Clover strip",
            sign("toads in the clover", smell=Strength.NONE, response=Response.USED),
            done("toads in the clover", Action.SEEN_CLEAR),
            use=LIGHT,
        ),
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
        look("Beech bench", done("robin on the bench", Action.SEEN_CLEAR), use=LIGHT),
        look("Ridge end", use=HEAVY),
    ),
    Page(
        date(2025, 7, 12),
        "Hayfield corner: quiet again",
        (Line(done("mowing in the hayfield", Action.SEEN_CLEAR, text="Hay is in; two does.")),),
    ),
    GaugePage(date(2025, 7, 12), date(2025, 7, 6), date(2025, 7, 12)),
    GaugePage(date(2025, 7, 19), date(2025, 7, 13), date(2025, 7, 19)),
    *check_in(
        date(2025, 8, 9),
        look("Gate", use=LIGHT, camera=1.1),
        look(
            "Culvert [north]",
            sign("dye at the culvert", colour=Strength.FAINT, response=Response.AVOIDED),
            by_eye=True,
            use=NONE,
        ),
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
                animal=AnimalClass.MAMMAL,
                size=AnimalSize.SMALL,
                days_dead=6.0,
            ),
            photo("Quarry rim", "photos/2025-08-16-quarry-rim.jpg", "squirrel at the quarry"),
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
            bears("Saddle"),
            use=NONE,
        ),
        look("Ledge", done("scum on the ledge", Action.SEEN_CLEAR), odd_in=4.0, use=LIGHT),
        look(
            "Spring draw",
            found("bears in the draw", Cause.BEAR_USE, Action.LEFT, "Tracks at the rim."),
            bears("Spring draw"),
            use=LIGHT,
        ),
    ),
    Page(
        date(2025, 8, 24),
        "Saddle: what the camera saw before",
        (
            Line(bears("Saddle"), date(2025, 8, 15)),
            Line(bears("Saddle", 2), date(2025, 8, 19)),
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
    Page(
        date(2025, 9, 20),
        "Dye: they drank while it was still tinted",
        (Line(CauseSetting(Cause.DYE, "clear_share", 0.15)),),
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
                animal=AnimalClass.MAMMAL,
                size=AnimalSize.MEDIUM,
            ),
            sign("opossum on the bench", smell=Strength.STRONG, response=Response.AVOIDED),
            use=NONE,
        ),
        look("Ridge end", by_eye=True, use=HEAVY, camera=3.2),
    ),
    Page(
        date(2025, 9, 21),
        "Ledge: a note",
        (
            Line(note("Ledge", "Lower than rain and deer explain, twice now. Look for a crack.")),
            Line(photo("Ledge", "photos/2025-09-21-ledge-seam.jpg")),
        ),
    ),
    *check_in(
        date(2025, 10, 4),
        look("Gate", use=HEAVY, camera=3.4),
        look("Clover strip", ramp=False, use=HEAVY, camera=4.0),
        look(
            "Quarry rim",
            sign(
                "squirrel at the quarry",
                smell=Strength.FAINT,
                colour=Strength.NONE,
                response=Response.AVOIDED,
            ),
            use=NONE,
        ),
    ),
    Page(
        date(2025, 9, 22),
        "Far corner: site looked at",
        (Line(site("Far corner", rim=True, bank=False, approach=True, hollow=True, asked=True)),),
    ),
    Page(
        date(2025, 9, 22),
        "Old orchard: no look this year",
        (
            Line(
                answer(
                    "Old orchard",
                    PromptKind.CHECK,
                    date(2025, 9, 15),
                    "Acorns everywhere, nobody will come to drink",
                )
            ),
        ),
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
