"""The daily check-in, driven by keys on a real logbook."""

from datetime import date, timedelta
from typing import Any

import pytest
from textual import events
from textual.pilot import Pilot
from textual.widgets import OptionList, Static

from store.logbook.opening import logbook_at
from store.logbook.settings import keep_setting
from store.records import (
    Chore,
    Draft,
    GaugeReading,
    Note,
    RampCheck,
    Reading,
    Sighting,
    StationFacts,
    TankMeasures,
)
from store.units import US_UNITS, litres_from_gallons, mm_from_inches
from store.views.check_in import surprise
from store.vocabulary import ChoreKind, LevelMark, Shape, UseSeen
from tests.tui.driving import drive, press, settle
from tests.tui.driving import typed as typed_in
from tui.base.leave_question import LeaveQuestion
from tui.check_in.entered import CheckIn, StationVisit
from tui.check_in.screen import CheckInScreen

TODAY = date(2015, 10, 1)
LONG_NOTE = "a [b]bold[/] claim, 'quoted' \N{DEER} " + "x" * 500


def typed(text: str) -> list[str]:
    names = {
        ".": "full_stop",
        ">": "greater_than_sign",
        ",": "comma",
        "[": "left_square_bracket",
        "]": "right_square_bracket",
    }
    return [names.get(char, char) for char in text]


def gauges_kept(book: Any) -> None:
    """Both gauges were read some weeks ago, so the check-in begins with them."""
    day = TODAY - timedelta(days=20)
    book.write(*(Draft(day, GaugeReading(book.ids[tract], 0.0)) for tract in ("North", "South")))


def on_card(pilot: Pilot[None]) -> str:
    return " ".join(str(pilot.app.screen.query_one("#card", Static).content).split())


def in_field(pilot: Pilot[None]) -> str:
    return str(pilot.app.screen.query_one(".said", Static).content)


def shown(pilot: Pilot[None], where: str) -> str:
    return str(pilot.app.screen.query_one(where, Static).render())


def in_list(pilot: Pilot[None]) -> list[str]:
    options = pilot.app.screen.query_one(OptionList).options
    return [" ".join(str(option.prompt).split()) for option in options]


def test_the_first_ramp_in_place_shows_how_one_is_built(book: Any) -> None:
    far = book.ids["Far [saddle]"]
    book.write(Draft(date(2015, 6, 1), RampCheck(far, in_place=True)))

    async def steps(pilot: Pilot[None]) -> None:
        for name, shown in (("Far [saddle]", False), ("Oak flat", True)):
            pilot.app.push_screen(CheckInScreen(book.ids[name]))
            await settle(pilot)
            assert "Escape ramp:" not in on_card(pilot)
            assert "(press r when done)" in on_card(pilot)
            await press(pilot, "r")
            assert ("Escape ramp: No water without one." in on_card(pilot)) is shown

    drive(book.app(), steps)


def test_a_whole_check_in_is_saved_as_one_entry_to_undo(book: Any) -> None:
    gauges_kept(book)
    far, oak, rocks = (book.ids[name] for name in ("Far [saddle]", "Oak flat", "Rocks"))

    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("c", *typed("0.4"), "enter", "0", "enter")
        await pilot.press("2", "l", "r", "enter")
        await pilot.press("i", *typed("6.5"), "enter", "k", "3", "enter", "r", "r", "a", "enter")
        await pilot.press("f", *typed("50"), "enter", "o", *typed("see [x]"), "enter", "enter")
        assert "3 stations, 2 gauges" in on_card(pilot)
        await press(pilot, "enter")
        assert not isinstance(pilot.app.screen, CheckInScreen)

    drive(book.app(), steps)
    seen = {
        entry.fact: entry
        for entry in book.entries(GaugeReading, Reading, Sighting, RampCheck, Chore, Note)
        if entry.day == TODAY
    }
    assert set(seen) == {
        GaugeReading(book.ids["North"], mm_from_inches(0.4)),
        GaugeReading(book.ids["South"], 0.0),
        Reading(far, mark=LevelMark.HALF),
        Sighting(far, UseSeen.LIGHT),
        RampCheck(far, in_place=True),
        Reading(oak, below_rim_mm=mm_from_inches(6.5)),
        Sighting(oak, camera_per_day=3.0),
        RampCheck(oak, in_place=False),
        Chore(oak, ChoreKind.RAKE),
        Chore(rocks, ChoreKind.FILL, litres_from_gallons(50)),
        Note(rocks, "see [x]"),
    }
    assert len({entry.batch_id for entry in seen.values()}) == 1


def test_lists_gauges_then_stations_in_service_and_names_those_left_out(book: Any) -> None:
    gauges_kept(book)

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c")
        assert in_list(pilot) == [
            "> Rain North",
            "Rain South",
            "Far [saddle]",
            "Oak flat",
            "Rocks",
            "Summary",
        ]
        assert "Left out, not installed or retired: Given up." in on_card(pilot)
        await pilot.press("left_square_bracket", "left_square_bracket")
        assert "Given up" in " ".join(in_list(pilot))
        await pilot.press("right_square_bracket")
        assert "Given up" not in " ".join(in_list(pilot))

    drive(book.app(), steps)


def test_gauges_nobody_keeps_come_last_and_enter_passes_them_by(book: Any) -> None:
    """North's gauge was read 60 days ago, South's 61."""
    for tract, days in (("North", 60), ("South", 61)):
        book.write(Draft(TODAY - timedelta(days=days), GaugeReading(book.ids[tract], 1.0)))

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c")
        assert in_list(pilot) == [
            "> Rain North",
            "Far [saddle]",
            "Oak flat",
            "Rocks",
            "Rain South",
            "Summary",
        ]
        await pilot.press("enter", "enter", "enter", "enter")
        assert "> Summary" in in_list(pilot)
        assert "Left out, not installed or retired: Given up." in on_card(pilot)
        await pilot.press("up", *typed("0.5"), "enter")
        assert "Rain South: 0.50 in" in on_card(pilot)
        await press(pilot, "enter")

    drive(book.app(), steps)
    (entry,) = [entry for entry in book.entries(GaugeReading) if entry.day == TODAY]
    assert entry.fact == GaugeReading(book.ids["South"], mm_from_inches(0.5))


def test_a_reading_saved_elsewhere_meanwhile_is_never_replaced_unasked(book: Any) -> None:
    """The other session's entry is written while this screen stands open."""
    oak = book.ids["Oak flat"]

    async def steps(pilot: Pilot[None]) -> None:
        pilot.app.push_screen(CheckInScreen(oak))
        await settle(pilot)
        await press(pilot, "2")
        book.write(Draft(TODAY, Reading(oak, mark=LevelMark.FULL)))
        await press(pilot, "s")
        assert isinstance(pilot.app.screen, CheckInScreen)
        assert "Read full elsewhere meanwhile." in in_field(pilot)
        assert [entry.fact.mark for entry in book.entries(Reading)] == [LevelMark.FULL]
        await press(pilot, "s")
        assert not isinstance(pilot.app.screen, CheckInScreen)

    drive(book.app(), steps)
    (held,) = book.entries(Reading)
    assert held.fact.mark is LevelMark.HALF
    assert held.revises is not None, "the other is kept as what it replaced"


def test_the_check_in_keeps_to_the_tract_that_is_shown(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "g", "g", "c")
        assert in_list(pilot) == ["> Rocks", "Rain South", "Summary"]
        assert "South only" in shown(pilot, "#status")
        await pilot.press("down")
        assert "Given up." in on_card(pilot)

    drive(book.app(), steps)


def test_a_second_value_for_the_same_day_revises_the_first(book: Any) -> None:
    gauges_kept(book)
    oak, north = book.ids["Oak flat"], book.ids["North"]
    book.write(
        Draft(TODAY, GaugeReading(north, mm_from_inches(0.4))),
        Draft(TODAY, Reading(oak, below_rim_mm=mm_from_inches(6))),
    )

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c")
        assert "already: 0.40 in" in on_card(pilot)
        await pilot.press(*typed("0.6"), "enter", "enter", "enter")
        assert "already: 6.0 in" in on_card(pilot)
        await press(pilot, "3", "s")

    drive(book.app(), steps)
    assert {entry.fact for entry in book.entries(GaugeReading, Reading)} == {
        Reading(oak, mark=LevelMark.THREE_QUARTERS),
        GaugeReading(north, mm_from_inches(0.6)),
        *(GaugeReading(book.ids[tract], 0.0) for tract in ("North", "South")),
    }


def test_an_impossible_depth_is_refused_in_the_field_and_stays(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("c", "4", "i", "3", "1", "enter")
        assert "under the bottom: the tank is 30.0 in deep" in in_field(pilot)
        assert pilot.app.screen.query_one("TypedLine").value == "31"
        await pilot.press("backspace", "enter")
        assert "level 3.0 in below the rim" in on_card(pilot)

    drive(book.app(), steps)


def test_a_reading_far_from_the_model_is_pointed_out_but_taken(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("c")
        level = float(on_card(pilot).split("modeled")[1].split(",")[1].split()[0])
        await pilot.press("4" if level > 15 else "0")
        assert f"The model expected {level:.1f} in below the rim" in on_card(pilot)
        await pilot.press("i", *typed(f"{level}"), "enter")
        assert "The model expected" not in on_card(pilot)

    drive(book.app(), steps)


def test_leaving_half_way_asks_and_can_go_on_or_save(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("c", "2", "escape")
        assert isinstance(pilot.app.screen, LeaveQuestion)
        await pilot.press("escape")
        assert "level half" in on_card(pilot)
        await press(pilot, "escape", "s")
        assert not isinstance(pilot.app.screen, CheckInScreen)

    drive(book.app(), steps)
    assert [entry.fact.mark for entry in book.entries(Reading)] == [LevelMark.HALF]


def test_nothing_entered_leaves_at_once_and_discarding_writes_nothing(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("c", "escape")
        assert not isinstance(pilot.app.screen, CheckInScreen | LeaveQuestion)
        await pilot.press("c", "2", "escape", "x")
        assert not isinstance(pilot.app.screen, CheckInScreen | LeaveQuestion)

    drive(book.app(), steps)
    assert book.entries(Reading) == []


def test_what_the_logbook_refuses_stays_as_typed(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("c", "2")
        screen = pilot.app.screen
        assert isinstance(screen, CheckInScreen)
        screen._sheet = screen._sheet.shifted(-400, TODAY)
        await press(pilot, "s")
        assert pilot.app.screen is screen
        assert "level half" in on_card(pilot)

    drive(book.app(), steps)
    assert book.entries(Reading) == []


def test_keys_that_come_in_one_burst_are_not_mixed_up(book: Any) -> None:
    """A slow line delivers `i 6 . 5 Enter Enter 4` at once; the 6 is no key of its own."""

    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("c")
        for char in "i6.5\r\r4o4\r":
            key = "enter" if char == "\r" else typed(char)[0]
            pilot.app.post_message(events.Key(key, char))
        await pilot.press("down")
        assert in_list(pilot)[:2] == ["Far [saddle] 6.5 in", "Oak flat full o"]

    drive(book.app(), steps)


def test_a_long_note_of_any_characters_is_kept_whole(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("c", "o")
        pilot.app.screen.query_one("TypedLine").value = LONG_NOTE
        await pilot.press("escape")
        assert "\N{DEER}" in on_card(pilot)
        await press(pilot, "s")

    drive(book.app(), steps)
    assert [entry.fact.text for entry in book.entries(Note)] == [LONG_NOTE]


def test_amounts_are_typed_in_the_units_of_the_logbook(book: Any) -> None:
    with logbook_at(book.path, TODAY) as logbook:
        keep_setting(logbook, "units", "metric")

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c", "i", "2", "0", "enter", "down", "down", "down")
        await press(pilot, *typed("12,5"), "enter", "s")

    drive(book.app(), steps)
    assert {entry.fact for entry in book.entries(GaugeReading, Reading)} == {
        GaugeReading(book.ids["North"], 12.5),
        Reading(book.ids["Far [saddle]"], below_rim_mm=200.0),
    }


def test_a_note_is_gone_on_with_and_pasted_lines_become_one(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("c", "o", "a", "enter", "o", "b")
        pilot.app.screen.query_one("TypedLine").post_message(events.Paste("c\nd"))
        await pilot.press("enter")
        assert "note: abc d" in on_card(pilot)
        await pilot.click("#stops", offset=(4, 2))
        assert "Rocks" in on_card(pilot)

    drive(book.app(), steps)


def fourteen(make_book: Any) -> Any:
    names = tuple(f"Tank {number:02}" for number in range(1, 15))
    return make_book({"North": names[:7], "South": names[7:]})


def test_fourteen_stations_take_fewer_than_sixty_keys(make_book: Any) -> None:
    """Every station's level by eye and sign of use, every third one's ramp as well.

    Counted from the overview until it is saved; the digits of the two gauges and of
    two measured levels are left out.
    """
    book = fourteen(make_book)
    gauges_kept(book)
    keys, digits = ["c"], 0
    for rain in ("0.35", "0.4"):
        keys += [*typed(rain), "enter"]
        digits += len(rain)
    for number in range(14):
        if number in (3, 9):
            keys += ["i", *typed("7.5"), "enter"]
            digits += 3
        else:
            keys.append("43210"[number % 5])
        keys += ["nlh"[number % 3], *(["r"] if number % 3 == 0 else []), "enter"]
    keys.append("enter")
    assert len(keys) - digits < 60

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, *keys)
        assert not isinstance(pilot.app.screen, CheckInScreen)

    drive(book.app(), steps)
    assert len(book.entries(Reading)) == 14
    assert len(book.entries(Sighting)) == 14
    assert len(book.entries(RampCheck)) == 5
    assert len([entry for entry in book.entries(GaugeReading) if entry.day == TODAY]) == 2


def test_fourteen_levels_alone_take_29_keys_where_no_gauge_is_kept(make_book: Any) -> None:
    book = fourteen(make_book)
    marks = ["43210"[number % 5] for number in range(14)]
    keys = ["c", *(key for mark in marks for key in (mark, "enter"))]
    keys[-1] = "s"
    assert len(keys) == 29

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, *keys)
        assert not isinstance(pilot.app.screen, CheckInScreen)

    drive(book.app(), steps)
    assert len(book.entries(Reading)) == 14


@pytest.mark.parametrize("days", [1, 30])
def test_the_day_never_goes_past_today(days: int) -> None:
    assert CheckIn(TODAY - timedelta(days=3)).shifted(days, TODAY).day <= TODAY
    assert CheckIn(TODAY).shifted(days, TODAY).day == TODAY


def test_a_station_cleared_or_toggled_back_counts_as_not_entered() -> None:
    sheet = CheckIn(TODAY).with_seen("a", StationVisit.ramp_turned)
    for _ in range(2):
        assert not sheet.is_empty
        sheet = sheet.with_seen("a", StationVisit.ramp_turned)
    assert sheet.is_empty
    assert sheet.title == "Check-in of 1 October 2015: nothing entered"


def test_a_level_is_measured_or_judged_never_both() -> None:
    seen = StationVisit().judged(LevelMark.HALF).measured(10.0)
    assert seen.reading("a") == Reading("a", below_rim_mm=10.0)
    assert seen.judged(LevelMark.DRY).reading("a") == Reading("a", mark=LevelMark.DRY)


def test_one_key_enters_what_the_model_expected(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c", "slash")
        await typed_in(pilot, "oak")
        await press(pilot, "y", "s")
        (entry,) = book.entries(Reading)
        assert entry.fact.station_id == book.ids["Oak flat"]
        levels = pilot.app.board.levels.of(entry.fact.station_id)  # type: ignore[attr-defined]
        assert bool(levels.read[-1])

    drive(book.app(), steps)


def test_a_day_is_typed_and_a_name_found(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c", "d")
        await typed_in(pilot, "2015-09-20")
        assert "Check-in of Sun 20 Sep 2015" in shown(pilot, "#status")
        await press(pilot, "slash")
        await typed_in(pilot, "rock")
        assert "> Rocks" in in_list(pilot)
        await press(pilot, "slash")
        await typed_in(pilot, "nowhere")
        assert "No station here is named nowhere" in shown(pilot, "#field .said")
        await press(pilot, "escape", "d")
        await typed_in(pilot, "2099-01-01")
        assert "still to come" in shown(pilot, "#field .said")
        await press(pilot, "escape", "2", "s")
        (entry,) = book.entries(Reading)
        assert (entry.day, entry.fact.station_id) == (date(2015, 9, 20), book.ids["Rocks"])

    drive(book.app(), steps)


def test_a_fill_says_its_room_its_weight_and_the_level_after(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c", "slash")
        await typed_in(pilot, "rock")
        await press(pilot, "2", "f")
        card = on_card(pilot)
        assert "Room for" in card
        assert "then 100% full, 0.0 in below the rim" in card
        await press(pilot, *"20")
        assert "20 gal, 167 lb: then" in on_card(pilot)
        await press(pilot, *"0")
        assert "more than there is room for would run over" in on_card(pilot)
        await press(pilot, "backspace", "enter")
        assert "Entered: found half; then filled 20 gal" in on_card(pilot)

    drive(book.app(), steps)


def test_a_fill_beyond_the_room_is_one_question_and_is_taken(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c", "slash")
        await typed_in(pilot, "rock")
        await press(pilot, "f", *"300", "enter")
        assert on_card(pilot).count("?") == 1
        assert "for: was the tank lower, or did it run over?" in on_card(pilot)
        await press(pilot, "s")

    drive(book.app(), steps)
    assert [entry.fact.volume_l for entry in book.entries(Chore)][-1] == litres_from_gallons(300)


def test_a_level_entered_after_a_fill_counts_as_seen_after_it(book: Any) -> None:
    rocks = book.ids["Rocks"]

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c", "slash")
        await typed_in(pilot, "rock")
        await press(pilot, "f", *"20", "enter", "3")
        card = on_card(pilot)
        assert "Entered: filled 20 gal; then three quarters (>: the other way round)" in card
        await press(pilot, ">")
        assert "Entered: found three quarters; then filled 20 gal (>:" in on_card(pilot)
        await press(pilot, ">", "s")

    drive(book.app(), steps)
    (entry,) = book.entries(Reading)
    assert entry.fact == Reading(rocks, mark=LevelMark.THREE_QUARTERS, after_work=True)


def test_a_gauge_is_found_by_name(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c", "slash")
        await typed_in(pilot, "rain so")
        assert "> Rain South" in in_list(pilot)

    drive(book.app(), steps)


def test_a_caution_stands_once_in_a_check_in(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c", "f", *"20", "enter")
        assert "Hauling water: 20 gal, 167 lb before tank" in on_card(pilot)
        assert on_card(pilot).count("Open water:") == 1
        await press(pilot, "enter", "f", *"30")
        assert "30 gal, 250 lb" in on_card(pilot)
        assert "go first. Cautions as at Far [saddle]." in on_card(pilot)
        await press(pilot, "enter", "D")
        assert "Fouled tank:" in on_card(pilot), "draining asks for more than a fill"
        assert "Open water:" not in on_card(pilot)
        await press(pilot, "up")
        assert "Open water:" in on_card(pilot)

    drive(book.app(), steps)


def test_a_level_seen_after_the_fill_is_said_and_kept(book: Any) -> None:
    rocks = book.ids["Rocks"]

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c", "slash")
        await typed_in(pilot, "rock")
        await press(pilot, ">")
        assert "Enter a level and a fill first" in in_field(pilot)
        await press(pilot, "4", "f", *"20", "enter")
        assert "found full; then filled 20 gal" in on_card(pilot)
        assert on_card(pilot).count("?") == 1
        assert "Was that level seen after the fill? > says so." in on_card(pilot)
        await press(pilot, ">")
        assert "Entered: filled 20 gal; then full" in on_card(pilot)
        assert "?" not in on_card(pilot)
        await press(pilot, "s")

    drive(book.app(), steps)
    assert [entry.fact for entry in book.entries(Reading)] == [
        Reading(rocks, mark=LevelMark.FULL, after_work=True)
    ]


def test_a_level_of_a_day_whose_fill_is_in_the_log_counts_as_seen_after_it(book: Any) -> None:
    """The level found before it stays, for the two are not of the same moment."""
    rocks = book.ids["Rocks"]
    found = Reading(rocks, mark=LevelMark.QUARTER)
    book.write(Draft(TODAY, found), Draft(TODAY, Chore(rocks, ChoreKind.FILL, 200.0)))

    async def steps(pilot: Pilot[None]) -> None:
        pilot.app.push_screen(CheckInScreen(rocks))
        await settle(pilot)
        await press(pilot, "3")
        assert "level three quarters after the fill" in on_card(pilot)
        assert "already" not in on_card(pilot)
        await press(pilot, ">")
        assert "already: quarter; a new level takes its place" in on_card(pilot)
        await press(pilot, ">", "s")

    drive(book.app(), steps)
    after = Reading(rocks, mark=LevelMark.THREE_QUARTERS, after_work=True)
    assert [entry.fact for entry in book.entries(Reading)] == [found, after]


def test_a_high_reading_with_a_fill_is_no_alarm() -> None:
    tank = TankMeasures(Shape.ROUND, 762.0, diameter_mm=900.0)
    facts = StationFacts("s", "t", "Oak", tank, 10.0)
    high = Reading("s", mark=LevelMark.FULL)
    assert surprise(facts, high, 700.0, US_UNITS) is not None
    assert surprise(facts, high, 700.0, US_UNITS, filled=True) is None
    low = Reading("s", mark=LevelMark.DRY)
    assert surprise(facts, low, 100.0, US_UNITS, filled=True) is not None


def test_cover_and_drain_are_entered_where_they_are_done(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "c", "slash")
        await typed_in(pilot, "rock")
        await press(pilot, "D", "v")
        assert "drained; cover put on" in on_card(pilot)
        await press(pilot, "s")
        await press(pilot, "c", "slash")
        await typed_in(pilot, "rock")
        await press(pilot, "v")
        assert "cover taken off" in on_card(pilot)
        await press(pilot, "v")
        assert "cover" not in on_card(pilot).split("Entered:")[1].split("\n")[0]

    drive(book.app(), steps)
    kinds = [entry.fact.chore for entry in book.entries(Chore)]
    assert kinds[-2:] == [ChoreKind.DRAIN, ChoreKind.COVER]
