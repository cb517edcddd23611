"""The first season: raking and installs to the closing up for the winter."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from store.demo.pages import (
    AnyPage,
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
    sign,
)
from store.demo.setting_up import FIRST_EVENING
from store.demo.stations import STATIONS, station_id
from store.records import Sighting
from store.vocabulary import (
    Action,
    AnimalClass,
    AnimalSize,
    ApronSurface,
    Cause,
    ChoreKind,
    Response,
    Strength,
    UseSeen,
)

NONE, LIGHT, HEAVY = UseSeen.NONE, UseSeen.LIGHT, UseSeen.HEAVY
COVER, UNCOVER, INSTALL = ChoreKind.COVER, ChoreKind.UNCOVER, ChoreKind.INSTALL
DRAIN, RETIRE = ChoreKind.DRAIN, ChoreKind.RETIRE

SPRING: tuple[AnyPage, ...] = (
    *check_in(
        date(2024, 4, 13),
        look("Gate", rake("Gate"), use=LIGHT),
        look("Hayfield corner", rake("Hayfield corner"), use=NONE),
        look("Culvert [north]", rake("Culvert [north]"), use=LIGHT),
        look(
            "Lane trough",
            found(
                "coyote in the trough",
                Cause.DROWNED_ANIMAL,
                Action.REMOVED,
                "Coyote, under the ice since the winter. Asked the wildlife agency, gloves on.",
                animal=AnimalClass.MAMMAL,
                size=AnimalSize.LARGE,
                days_dead=60.0,
            ),
            by_eye=True,
            ramp=False,
            use=NONE,
        ),
    ),
    *check_in(
        date(2024, 4, 14),
        look("Quarry rim", rake("Quarry rim"), use=LIGHT, odd_in=10),
        look("Stone wall", rake("Stone wall"), use=NONE),
    ),
    Page(
        date(2024, 4, 15),
        "Quarry rim: read the tape wrong",
        (
            Line(
                look("Quarry rim")[0].fact,
                date(2024, 4, 14),
                corrects=True,
            ),
        ),
    ),
    *check_in(
        date(2024, 4, 20),
        look("Saddle", rake("Saddle"), chore("Saddle", UNCOVER), use=NONE),
        look("Beech bench", rake("Beech bench"), use=LIGHT),
    ),
    Page(
        date(2024, 5, 11),
        "Install day at Upper Notch",
        (
            Line(chore("Spring draw", INSTALL, note="Called before digging; soil moist.")),
            Line(chore("Ledge", INSTALL, 5.0, "Two packs of water carried up.")),
            Line(chore("Ridge end", INSTALL, 2.0)),
        ),
    ),
    Page(
        date(2024, 5, 18),
        "Install at Clover strip",
        (Line(chore("Clover strip", INSTALL, 80.0)),),
    ),
    WeatherPage(date(2024, 6, 2), "lower-barn-2024-05.csv", date(2024, 3, 23), date(2024, 5, 31)),
)

SUMMER: tuple[AnyPage, ...] = (
    *check_in(
        date(2024, 6, 15),
        look("Gate", use=LIGHT),
        look("Hayfield corner", by_eye=True, use=LIGHT),
        look(
            "Culvert [north]",
            found(
                "road wash at the culvert",
                Cause.SILT,
                Action.LEFT,
                "Silt and old leaves washed in from the road.",
            ),
            sign("road wash at the culvert", colour=Strength.STRONG),
            use=LIGHT,
        ),
        look("Lane trough", by_eye=True, use=NONE),
        look("Clover strip", use=LIGHT),
    ),
    *check_in(
        date(2024, 6, 23),
        look(
            "Saddle",
            found(
                "bears at the saddle, 2024",
                Cause.BEAR_USE,
                Action.LEFT,
                "Hair on the rim, mud all over. Left at once and made noise going out.",
            ),
            use=NONE,
        ),
        look("Spring draw", use=NONE),
        look("Ledge", use=LIGHT),
        look("Beech bench", use=LIGHT),
        look(
            "Ridge end",
            found(
                "dry at the ridge end",
                Cause.DRY_SPELL,
                Action.LEFT,
                "Mud in the bottom; tracks go by and do not stop.",
            ),
            by_eye=True,
            use=NONE,
        ),
    ),
    *check_in(
        date(2024, 7, 13),
        look(
            "Clover strip",
            found(
                "raccoon in the clover",
                Cause.DROWNED_ANIMAL,
                Action.REMOVED,
                "Young raccoon. Gloves, shovel, buried well away from the water.",
                animal=AnimalClass.MAMMAL,
                size=AnimalSize.MEDIUM,
                days_dead=3.0,
            ),
            ramp=False,
            use=NONE,
        ),
    ),
    Page(
        date(2024, 7, 14),
        "Clover strip bailed and refilled",
        (
            Line(done("raccoon in the clover", Action.BAILED)),
            Line(done("raccoon in the clover", Action.REFILLED, 110.0)),
            Line(look("Clover strip", ramp=True)[1].fact),
        ),
    ),
    *check_in(
        date(2024, 7, 20),
        look(
            "Saddle",
            done("bears at the saddle, 2024", Action.SEEN_CLEAR, text="Tracks of three deer."),
            use=LIGHT,
        ),
    ),
    Page(
        date(2024, 7, 20),
        "Ridge end holds water again",
        (Line(done("dry at the ridge end", Action.SEEN_CLEAR, text="Fresh tracks at the rim.")),),
    ),
    Page(
        date(2024, 7, 21),
        "Stone wall: a note",
        (Line(note("Stone wall", "Frost has split the seam; drops an inch a day.")),),
        undone=True,
    ),
    Page(
        date(2024, 7, 21),
        "Ledge: a note",
        (Line(note("Ledge", "Good shade from noon on; keep the limb above the liner.")),),
    ),
    Page(
        date(2024, 7, 28),
        "Gate: fuel on the water",
        (
            Line(
                found(
                    "fuel at the gate",
                    Cause.SPILL,
                    Action.LEFT,
                    "A saw was fueled at the rim; a film on the water. Kept flames away and called "
                    "the spill line, who took the film off with pads.",
                )
            ),
            Line(sign("fuel at the gate", smell=Strength.STRONG, response=Response.AVOIDED)),
        ),
    ),
    *check_in(
        date(2024, 8, 3),
        look(
            "Hayfield corner",
            found(
                "salt block in the hayfield",
                Cause.ADDITIVE,
                Action.DRAINED,
                "Somebody dropped a salt block in the water. Taken out, tank emptied.",
            ),
            done("salt block in the hayfield", Action.REFILLED, 100.0),
            use=NONE,
        ),
    ),
    Page(
        date(2024, 8, 17),
        "Stone wall given up",
        (
            *look("Stone wall", use=NONE),
            Line(chore("Stone wall", DRAIN, note="Seam split by frost; cannot be mended there.")),
            Line(chore("Stone wall", RETIRE, note="Hole filled in and levelled the same day.")),
        ),
    ),
    WeatherPage(date(2024, 9, 15), "lower-barn-2024-09.csv", date(2024, 6, 1), date(2024, 9, 13)),
)

AUTUMN: tuple[AnyPage, ...] = (
    *check_in(
        date(2024, 9, 21),
        look(
            "Gate",
            sign(
                "fuel at the gate",
                smell=Strength.NONE,
                colour=Strength.NONE,
                response=Response.USED,
            ),
            done("fuel at the gate", Action.SEEN_CLEAR),
            use=LIGHT,
            camera=1.6,
        ),
        look(
            "Hayfield corner",
            done("salt block in the hayfield", Action.SEEN_CLEAR),
            use=LIGHT,
        ),
        look("Culvert [north]", done("road wash at the culvert", Action.SEEN_CLEAR), use=LIGHT),
        look("Lane trough", use=NONE),
        look(
            "Clover strip",
            done("raccoon in the clover", Action.SEEN_CLEAR, text="Clear, and used again."),
            use=LIGHT,
            camera=2.1,
        ),
        look("Quarry rim", use=LIGHT),
    ),
    *check_in(
        date(2024, 9, 22),
        look("Saddle", use=LIGHT),
        look("Ledge", use=LIGHT),
        look("Beech bench", use=LIGHT, camera=1.2),
        look("Spring draw", use=NONE),
        look("Ridge end", use=HEAVY),
    ),
    Page(
        date(2024, 9, 22),
        "Spring draw: apron shaped and trodden",
        (
            Line(
                replace(STATIONS["Spring draw"], apron_surface=ApronSurface.SCULPTED_SOIL),
                FIRST_EVENING,
                corrects=True,
            ),
        ),
    ),
    Page(
        date(2024, 10, 12),
        "Fill day",
        (
            *look("Gate", fill("Gate"), use=LIGHT),
            *look("Clover strip", fill("Clover strip", 60.0), use=HEAVY),
        ),
    ),
    Page(
        date(2024, 10, 12),
        "Fill at Culvert [north]",
        (Line(fill("Culvert [north]", 50.0)),),
        undone=True,
    ),
    Page(
        date(2024, 10, 12),
        "Fill at Hayfield corner",
        (Line(fill("Hayfield corner", 50.0)),),
    ),
    Page(
        date(2024, 10, 13),
        "Hayfield corner: it was 60 gallons",
        (Line(fill("Hayfield corner", 60.0), date(2024, 10, 12), corrects=True),),
    ),
    Page(
        date(2024, 10, 27),
        "Cameras, end of October",
        tuple(
            Line(Sighting(station_id(name), None, per_day))
            for name, per_day in (("Gate", 4.3), ("Clover strip", 5.1), ("Beech bench", 2.7))
        ),
    ),
    *check_in(
        date(2024, 11, 9),
        look("Gate", use=HEAVY, camera=3.8),
        look("Clover strip", use=HEAVY, camera=4.4),
        look("Ridge end", by_eye=True, use=HEAVY),
        look("Beech bench", by_eye=True, use=HEAVY, camera=2.2),
    ),
    Page(
        date(2024, 11, 16),
        "Closing up for the winter",
        (
            Line(chore("Lane trough", DRAIN, note="Before it freezes; it stands above ground.")),
            Line(chore("Saddle", COVER)),
            Line(chore("Spring draw", COVER)),
        ),
    ),
    WeatherPage(date(2024, 12, 1), "lower-barn-2024-11.csv", date(2024, 9, 14), date(2024, 11, 30)),
)

SEASON: tuple[AnyPage, ...] = (*SPRING, *SUMMER, *AUTUMN)
