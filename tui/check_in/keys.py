"""The keys of the check-in."""

from __future__ import annotations

from textual.binding import Binding, BindingType

from tui.base.keys import key_of
from tui.key_table import bind

CHECKIN_KEYS: list[BindingType] = [
    Binding("enter", "next", "Next", key_display="Enter", id="checkin.next",
            tooltip="Go on to the next; after the last, save"),
    Binding("down", "down", "On one", show=False, id="checkin.down",
            tooltip="Go on to the next, never saving"),
    Binding("up", "previous", "Back one", show=False, id="checkin.previous",
            tooltip="Go back to the one before"),
    Binding("4", "mark('full')", "Full", show=False, id="checkin.full",
            tooltip="The tank is full"),
    Binding("3", "mark('three quarters')", "3/4", show=False, id="checkin.three_quarters",
            tooltip="Three quarters of the depth"),
    Binding("2", "mark('half')", "1/2", show=False, id="checkin.half",
            tooltip="Half of the depth"),
    Binding("1", "mark('quarter')", "1/4", show=False, id="checkin.quarter",
            tooltip="A quarter of the depth"),
    Binding("0", "mark('dry')", "Dry", show=False, id="checkin.dry",
            tooltip="The tank is dry"),
    bind("yes", "as_expected", "As expected", show=False, id="checkin.as_expected",
         tooltip="The water stands as the model expected"),
    bind("measured", "measure", "Measured", show=False, id="checkin.measured",
         tooltip="Type how far the water stands below the rim"),
    bind("no", "use('none')", "No use", show=False, id="checkin.use_none",
         tooltip="Looked for sign of use, none seen"),
    bind("light", "use('light')", "Light use", show=False, id="checkin.use_light",
         tooltip="Light sign of use"),
    bind("heavy", "use('heavy')", "Heavy use", show=False, id="checkin.use_heavy",
         tooltip="Heavy sign of use"),
    bind("camera", "camera", "Camera", show=False, id="checkin.camera",
         tooltip="Type how many animals a day the camera counted"),
    bind("ramp", "ramp", "Ramp", show=False, id="checkin.ramp",
         tooltip="Escape ramp: in place, missing, not looked"),
    bind("rake", "rake", "Raked", show=False, id="checkin.rake",
         tooltip="The apron was raked today"),
    bind("fill", "fill", "Filled", show=False, id="checkin.fill",
         tooltip="Water was brought; press again to take it back"),
    bind("order", "order", "Order", show=False, id="checkin.order",
         tooltip="The level was seen after the water was brought, or on coming after all"),
    bind("drain", "drain", "Drained", show=False, id="checkin.drain",
         tooltip="The tank was emptied; press again to take it back"),
    bind("cover", "cover", "Cover", show=False, id="checkin.cover",
         tooltip="The cover was put on, or taken off where it was on"),
    bind("note", "note", "Note", show=False, id="checkin.note", tooltip="Type a note"),
    bind("take_out", "clear", "Clear", id="checkin.clear",
         tooltip="Drop all that was entered for this place"),
    bind("earlier", "shift(-1)", "Day before", show=False,
         id="checkin.earlier", tooltip="The whole check-in is about the day before"),
    bind("later", "shift(1)", "Day after", show=False,
         id="checkin.later", tooltip="The whole check-in is about the day after"),
    bind("day", "date", "Date", id="checkin.date",
         tooltip="Type the day that the whole check-in is about"),
    bind("find", "jump", "Find", id="checkin.jump",
         tooltip="Type part of a name, to go to that station"),
    bind("save", "save", "Save", id="checkin.save", tooltip="Save all that is entered"),
    Binding("pagedown", "scroll_room(1)", "Card down", show=False, id="checkin.card_down",
            tooltip="Scroll the card down"),
    Binding("pageup", "scroll_room(-1)", "Card up", show=False, id="checkin.card_up",
            tooltip="Scroll the card up"),
    bind("quit", "quit_brimbook", "Quit", id="checkin.quit", tooltip="Leave Brimbook"),
]  # fmt: skip


def key(action: str, argument: str | int | None = None) -> str:
    """The key of an action of the check-in."""
    return key_of(CHECKIN_KEYS, action, argument)
