"""Recording a contamination event, driven by keys on a real logbook."""

import hashlib
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from store.contamination.events import EventAction, EventHistory
from store.errors import BadValue, Refused
from store.logbook.opening import logbook_at
from store.model.snapshot import load
from store.model.working_out import board_of
from store.records import (
    BearVisit,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Draft,
    Photo,
    RampCheck,
    StationFacts,
)
from store.units import litres_from_gallons
from store.vocabulary import (
    Access,
    Action,
    AnimalClass,
    AnimalSize,
    Cause,
    Response,
    Strength,
)
from tests.tui.driving import Steps, drive, press, settle
from tui import words
from tui.base.leave_question import LeaveQuestion
from tui.base.typed_field import TypedLine
from tui.event.entered import EventDraft
from tui.event.screen import EventScreen
from tui.overview.screen import OverviewScreen
from tui.station.screen import LogList, StationScreen

TODAY = date(2015, 10, 1)
EVENT_ID = "01990000-0000-7000-8000-000000000001"


def drive_event(book: Any, station: str, steps: Steps) -> None:
    async def on_screen(pilot: Pilot[None]) -> None:
        pilot.app.push_screen(EventScreen(book.ids[station]))
        await settle(pilot)
        await steps(pilot)

    drive(book.app(), on_screen)


def shown(pilot: Pilot[None], where: str) -> str:
    return " ".join(str(pilot.app.screen.query_one(where, Static).content).split())


def events_of(book: Any) -> list[Any]:
    return [entry.fact for entry in book.entries(Contamination, ContaminationAction, RampCheck)]


def test_a_drowned_animal_with_all_that_was_done_takes_few_keys(book: Any) -> None:
    oak = book.ids["Oak flat"]
    keys = ["1", "r", "b", "f", "4", "0", "enter", "x", "enter"]
    assert len(["e", *keys]) < 15

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, *keys[:-1])
        expected = shown(pilot, "#waiting")
        assert "dilution only; safety unknown" in shown(pilot, "#basis").lower()
        assert "takes 406 gal, 5 loads" in shown(pilot, "#refilled")
        assert "As it stands now" in expected, "with the bailing and the refill"
        assert "Again bailed and refilled" in shown(pilot, "#refilled")
        assert "Carcass:" in shown(pilot, "#cautions")
        assert "Hauling water: 40 gal, 334 lb before tank" in shown(pilot, "#cautions")
        await press(pilot, "enter")
        assert not isinstance(pilot.app.screen, EventScreen)
        assert pilot.app.board is not None
        recovery = pilot.app.board.recoveries.of_station(oak)[0]
        assert f"about {words.full_day(recovery.expected)}" in expected

    drive_event(book, "Oak flat", steps)
    first, *later = sorted(
        book.entries(Contamination, ContaminationAction, RampCheck), key=lambda e: e.entry_id
    )
    event_id = first.fact.event_id
    assert first.fact == Contamination(event_id, oak, Cause.DROWNED_ANIMAL, Action.REMOVED)
    assert [entry.fact for entry in later] == [
        ContaminationAction(event_id, oak, Action.BAILED),
        ContaminationAction(event_id, oak, Action.REFILLED, litres_from_gallons(40)),
        RampCheck(oak, in_place=True),
    ]
    assert {entry.batch_id for entry in later} == {first.batch_id}


def test_work_on_an_open_event_is_added_and_seeing_it_clear_ends_it(book: Any) -> None:
    oak = book.ids["Oak flat"]
    book.write(Draft(date(2015, 8, 3), Contamination(EVENT_ID, oak, Cause.DROWNED_ANIMAL)))

    async def steps(pilot: Pilot[None]) -> None:
        assert "Tab: the open event (1)" in shown(pilot, "#head")
        await press(pilot, "tab")
        assert "open event: drowned animal, found 3 Aug" in shown(pilot, "#head")
        assert "about" in shown(pilot, "#refilled")
        await press(pilot, "b", "y")
        assert shown(pilot, "#basis") == "Saved like this, the event is over."
        await press(pilot, "enter")

    drive_event(book, "Oak flat", steps)
    assert events_of(book)[-1] == ContaminationAction(EVENT_ID, oak, Action.SEEN_CLEAR)
    with logbook_at(book.path, TODAY) as logbook:
        assert board_of(load(logbook)).recoveries.by_event == {}


def test_refilling_is_not_offered_where_no_vehicle_gets(book: Any) -> None:
    oak = book.ids["Oak flat"]
    facts = next(e for e in book.entries(StationFacts) if e.fact.station_id == oak)
    on_foot = replace(facts.fact, access=Access.FOOT, bear_country=True)
    book.write(Draft(TODAY, on_foot, revises=facts.entry_id))

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "3")
        assert "Not offered: reached on foot alone." in shown(pilot, "#refilled")
        assert "refilled" not in shown(pilot, "#choices")
        assert "about" in shown(pilot, "#waiting")
        assert shown(pilot, "#cautions").count("Bears:") == 1

    drive_event(book, "Oak flat", steps)


def test_impossible_days_are_refused_with_a_sentence_and_nothing_is_lost(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("2", "d", *["delete"], *"2015-10-02", "enter")
        assert "still to come" in shown(pilot, ".said")
        await pilot.press("escape", "right_square_bracket")
        assert "still to come" in shown(pilot, ".said")
        pilot.app.screen.action_shift(-200)
        await pilot.press("enter")
        assert "was installed on 5 May 2015" in shown(pilot, ".said")
        pilot.app.screen.action_shift(200)
        await pilot.press("up", "up")
        await pilot.press("s")
        assert "was retired on 29 September 2015" in shown(pilot, ".said")
        assert "●2 additive" in shown(pilot, "#choices")

    drive_event(book, "Far [saddle]", steps)
    assert events_of(book) == []


def test_leaving_asks_once_something_is_entered(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("6", "o", "z", "escape", "escape")
        assert isinstance(pilot.app.screen, LeaveQuestion)
        await press(pilot, "s")
        assert not isinstance(pilot.app.screen, EventScreen | LeaveQuestion)

    drive_event(book, "Oak flat", steps)
    (event,) = events_of(book)
    assert (event.cause, event.action, event.note) == (Cause.OTHER, Action.LEFT, "z")


def test_a_carcass_described_in_full_takes_fewer_than_15_keys(book: Any) -> None:
    oak = book.ids["Oak flat"]
    keys = ["1", "j", "z", "H", "3", "enter", "r", "x", "b", "f", "enter", "enter"]
    assert len(["e", *keys]) < 15

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, *keys[:-1])
        choices = shown(pilot, "#choices")
        assert "mammal" in choices
        assert "medium (up to a raccoon)" in choices
        assert "3 days dead" in choices
        assert "Escape ramp:" in shown(pilot, "#cautions")
        assert "Disinfecting:" in shown(pilot, "#cautions")
        await press(pilot, keys[-1])

    drive_event(book, "Oak flat", steps)
    event = next(said for said in events_of(book) if isinstance(said, Contamination))
    assert (event.station_id, event.cause) == (oak, Cause.DROWNED_ANIMAL)
    assert event.animal is AnimalClass.MAMMAL
    assert event.animal_size is AnimalSize.MEDIUM
    assert event.days_dead == 3.0


@pytest.mark.parametrize(
    ("key", "cause"),
    [("7", Cause.SPILL), ("8", Cause.SILT), ("9", Cause.DRY_SPELL), ("0", Cause.DISTURBANCE)],
)
def test_the_other_causes_have_keys_too(book: Any, key: str, cause: Cause) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, key, "enter")

    drive_event(book, "Oak flat", steps)
    assert [event.cause for event in events_of(book)] == [cause]


def test_signs_move_the_date_before_and_after_at_once(book: Any) -> None:
    oak = book.ids["Oak flat"]
    found = Contamination(EVENT_ID, oak, Cause.DROWNED_ANIMAL, Action.REMOVED)
    book.write(Draft(date(2015, 8, 3), found))

    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("M")
        assert "Tab turns to one" in shown(pilot, ".said")
        await press(pilot, "tab", "M", "C", "V")
        said = shown(pilot, "#basis")
        assert "smell none" in shown(pilot, "#choices")
        assert "without the signs seen" in said
        before, after = said.partition("with them: ")[::2]
        assert after.partition(".")[0] not in before
        await press(pilot, "enter")

    drive_event(book, "Oak flat", steps)
    (sign,) = [entry.fact for entry in book.entries(ContaminationSign)]
    assert sign == ContaminationSign(EVENT_ID, oak, Strength.NONE, Strength.NONE, Response.USED)


def test_a_bail_of_140_percent_is_refused_and_one_of_80_is_in_the_log(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("1", "percent_sign", *"140", "enter")
        assert "140 percent cannot be" in shown(pilot, ".said")
        await pilot.press("s")
        assert isinstance(pilot.app.screen, EventScreen)
        await pilot.press("home", *["delete"] * 4, *"80", "enter")
        assert "bailed 80%" in shown(pilot, "#choices")
        await press(pilot, "enter")

    drive_event(book, "Oak flat", steps)
    (event,) = events_of(book)
    with logbook_at(book.path, TODAY) as logbook:
        levels = board_of(load(logbook)).levels.by_station[book.ids["Oak flat"]]
    assert event.action is Action.BAILED
    assert event.volume_l == pytest.approx(0.8 * levels.volume_l[-2], rel=0.03)
    assert levels.volume_l[-1] < 0.3 * levels.volume_l[-2]


def test_bears_are_counted_in_bear_country_with_their_pattern(book: Any) -> None:
    oak = book.ids["Oak flat"]
    facts = next(e for e in book.entries(StationFacts) if e.fact.station_id == oak)
    book.write(
        Draft(TODAY, replace(facts.fact, bear_country=True), revises=facts.entry_id),
        Draft(date(2015, 9, 25), BearVisit(oak, 2)),
    )

    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("up", "B")
        assert "not in bear country" in shown(pilot, ".said")
        await pilot.press("down", "B", "3", "enter")
        # Five visits in the seven days from 25 September to 1 October.
        assert "25 Sep to 1 Oct: 5, 5.0 a week" in shown(pilot, "#choices")
        assert "Bears that come: Drain the tank" in shown(pilot, "#cautions")
        await press(pilot, "enter")

    drive_event(book, "Oak flat", steps)
    assert [entry.fact.visits for entry in book.entries(BearVisit)] == [2, 3]
    assert events_of(book) == []


def test_a_picture_is_kept_with_the_event_and_a_missing_one_is_said(
    book: Any, tmp_path: Path
) -> None:
    picture = tmp_path / "a [b].jpg"
    picture.write_bytes(b"abc")

    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("1", "P")
        pilot.app.screen.query_one(TypedLine).value = str(tmp_path / "no.jpg")
        await press(pilot, "enter")
        assert "There is no picture" in shown(pilot, ".said")
        await pilot.press("P")
        pilot.app.screen.query_one(TypedLine).value = str(picture)
        await press(pilot, "enter")
        await press(pilot, "enter")
        picture.unlink()
        pilot.app.push_screen(StationScreen(book.ids["Oak flat"]))
        await settle(pilot)
        prompts = [str(option.prompt) for option in pilot.app.screen.query_one(LogList).options]
        assert any("a [b].jpg" in line and "file missing" in line for line in prompts)

    drive_event(book, "Oak flat", steps)
    (event,) = events_of(book)
    (photo,) = [entry.fact for entry in book.entries(Photo)]
    assert photo.event_id == event.event_id
    assert photo.sha256 == hashlib.sha256(b"abc").hexdigest()


def sheet(**given: Any) -> EventDraft:
    return EventDraft("a", TODAY, "ev", **given)


def test_leaving_it_and_seeing_it_clear_exclude_every_other_action() -> None:
    done = sheet().turned(Action.BAILED).turned(Action.REMOVED)
    assert done.in_order == [Action.REMOVED, Action.BAILED]
    assert done.turned(Action.LEFT).in_order == [Action.LEFT]
    assert done.turned(Action.LEFT).turned(Action.COVERED).in_order == [Action.COVERED]


def test_moving_to_a_new_event_drops_only_what_it_cannot_have() -> None:
    event = EventHistory("old", TODAY, Cause.DYE, (EventAction(TODAY, Action.LEFT),))
    old = sheet(new_cause=Cause.DYE, note="n").turned(Action.LEFT).about(event, "old")
    assert old.actions == frozenset()
    assert old.turned(Action.SEEN_CLEAR).about(None, "new") == replace(
        sheet(new_cause=Cause.DYE, note="n"), event_id="new"
    )


def test_nothing_is_written_before_it_is_said_what_fouled_the_tank_or_was_done() -> None:
    event = EventHistory("old", TODAY - timedelta(days=9), Cause.DYE, ())
    for unsaid in (sheet(ramp=True), sheet(event=event, note="n")):
        with pytest.raises(BadValue, match="first"):
            unsaid.drafts()


def test_an_event_entered_elsewhere_meanwhile_is_one_question(book: Any) -> None:
    oak, rocks = book.ids["Oak flat"], book.ids["Rocks"]

    def dye_at(station_id: str, event_id: str) -> Draft:
        return Draft(TODAY, Contamination(event_id, station_id, Cause.DYE, Action.LEFT))

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "1")
        book.write(dye_at(rocks, EVENT_ID[:-1] + "2"), dye_at(oak, EVENT_ID))
        await press(pilot, "enter")
        said = shown(pilot, "#field .said")
        assert "Entered elsewhere meanwhile: fouled: dye; left as it was." in said
        assert "Tab turns to the open event" in said
        assert len(book.entries(Contamination)) == 2, "nothing is saved unasked"
        await press(pilot, "enter")
        assert not isinstance(pilot.app.screen, EventScreen)

    drive_event(book, "Oak flat", steps)
    causes = [entry.fact.cause for entry in book.entries(Contamination)]
    assert sorted(causes) == [Cause.DROWNED_ANIMAL, Cause.DYE, Cause.DYE]


def test_causes_stand_alone_until_one_is_chosen_or_something_entered(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        assert "0 disturbance" in shown(pilot, "#choices")
        assert "Done" not in shown(pilot, "#choices")
        await press(pilot, "b")
        assert "b bailed" in shown(pilot, "#choices")
        await press(pilot, "b", "1")
        assert "x carcass removed" in shown(pilot, "#choices")

    drive_event(book, "Oak flat", steps)


def test_a_station_taken_out_meanwhile_closes_the_screen_with_a_word(book):
    async def steps(pilot):
        await press(pilot, "e")
        assert type(pilot.app.screen) is EventScreen
        while True:
            try:
                pilot.app.session.undo()
            except Refused:
                break
        pilot.app.refresh_board()
        await settle(pilot)
        assert type(pilot.app.screen) is OverviewScreen
        pilot.app.open_screen("event", book.ids["Rocks"])
        await settle(pilot)
        assert type(pilot.app.screen) is OverviewScreen

    drive(book.app(), steps)
