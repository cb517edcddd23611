"""Typing: wrong things are told where they stand, and letters act only where they should."""

from store.records import GaugeReading, Reading
from tests.tui.driving import drive, press, settle
from tui.base import field_screen
from tui.check_in.screen import CheckInScreen
from tui.station_form.screen import StationForm


def test_what_is_wrong_is_told_as_it_is_typed_and_units_are_taken(book, monkeypatch):
    monkeypatch.setattr(field_screen, "PAUSE_S", 0.01)

    async def steps(pilot):
        screen = CheckInScreen()
        await pilot.app.push_screen(screen)
        await settle(pilot)
        field = screen.field
        screen._go(len(screen._stops) - 1)
        await press(pilot, *"5 gal")
        await pilot.pause(0.1)
        assert "'5 gal' is not a number of in, ft, mm" in field.said
        await press(pilot, "ctrl+u", *"5 mm")
        await pilot.pause(0.1)
        assert field.said == ""
        await press(pilot, "up", "down")
        assert field.text == "5 mm", "as it was typed"
        await press(pilot, "enter")
        at = next(i for i, stop in enumerate(screen._stops) if stop.name == "Rocks")
        screen._go(at)
        await press(pilot, "i", *"99 in")
        await pilot.pause(0.1)
        assert "under the bottom" in field.said
        await press(pilot, "ctrl+u", *"30 cm", "enter", "i")
        assert field.text == "11.81"
        await press(pilot, "enter", "s")

    drive(book.app(), steps)
    (rain,) = book.entries(GaugeReading)
    assert rain.fact.rain_mm == 5.0
    (reading,) = book.entries(Reading)
    assert reading.fact.below_rim_mm == 300.0, "looking at it again changed nothing"


def test_a_letter_over_a_form_without_focus_does_nothing(book):
    async def steps(pilot):
        form = StationForm(book.ids["Rocks"])
        await pilot.app.push_screen(form)
        await settle(pilot)
        before = pilot.app.board
        for letter in "uUmq":
            form.set_focus(None)
            await press(pilot, letter)
            assert pilot.app.screen is form
            assert form.focused is form.rows["tract"].editor
        assert pilot.app.board is before
        assert form.texts["tract"] == "South", "the letter only brought the focus back"
        await press(pilot, "down")
        assert form.focused is form.rows["tract_latitude"].editor
        await press(pilot, "up", "up")
        assert form.focused is list(form.rows.values())[-1].editor
        form.rows["shape"].editor.value = "round"
        await settle(pilot)
        form.rows["diameter"].editor.focus()
        await press(pilot, "f3")
        assert not form.rows["diameter"].display
        assert form.focused is form.rows["width"].editor, "the nearest before one that went"
        assert pilot.app.is_running

    drive(book.app(), steps)
