"""The keys of the event screen, and the words for what they say."""

from __future__ import annotations

from textual.binding import Binding, BindingType

from store.contamination.events import CARCASS_CAUSES
from store.vocabulary import Action, Cause
from tui.base.keys import key_of
from tui.key_table import bind

CAUSES = (
    ("1", Cause.DROWNED_ANIMAL, "drowned animal"),
    ("2", Cause.ADDITIVE, "additive"),
    ("3", Cause.BEAR_USE, "bear use"),
    ("4", Cause.DEAD_FISH, "dead fish"),
    ("5", Cause.DYE, "dye, flavour"),
    ("6", Cause.OTHER, "other"),
    ("7", Cause.SPILL, "fuel, chemicals"),
    ("8", Cause.SILT, "silt, leaves"),
    ("9", Cause.DRY_SPELL, "dry spell"),
    ("0", Cause.DISTURBANCE, "disturbance"),
)
CAUSE_KEYS = f"{CAUSES[0][0]} to {CAUSES[-2][0]} or {CAUSES[-1][0]}"
CARCASS_KEYS = " or ".join(key for key, cause, _ in CAUSES if cause in CARCASS_CAUSES)
ACTIONS = (
    ("no", Action.LEFT, "left as it is"),
    ("take_out", Action.REMOVED, "carcass removed"),
    ("bail", Action.BAILED, "bailed"),
    ("drain", Action.DRAINED, "water let out"),
    ("fill", Action.REFILLED, "refilled"),
    ("cover", Action.COVERED, "covered"),
    ("yes", Action.SEEN_CLEAR, "clear, used again"),
)

EVENT_KEYS: list[BindingType] = [
    bind("save", "save", "Save", id="event.save",
         tooltip="Save the event and what was done, together", first="enter"),
    Binding("tab", "other_event", "New or open", key_display="Tab", id="event.other",
            tooltip="Switch between a new event and the open ones of this station"),
    Binding("up", "station(-1)", "Station before", show=False, id="event.station_before",
            tooltip="The event was at the station before"),
    Binding("down", "station(1)", "Next station", show=False, id="event.station_after",
            tooltip="The event was at the next station"),
    bind("earlier", "shift(-1)", "Day before", show=False,
         id="event.earlier", tooltip="Found or done a day earlier"),
    bind("later", "shift(1)", "Day after", show=False,
         id="event.later", tooltip="Found or done a day later, up to today"),
    bind("day", "date", "Date", id="event.date",
         tooltip="Type the date on which it was found or done"),
    *(
        Binding(key, f"cause('{cause.value}')", words.capitalize(), show=False,
                id=f"event.cause_{key}", tooltip=f"What fouled the tank: {words}")
        for key, cause, words in CAUSES
    ),
    *(
        bind(meaning, f"done('{action.value}')", words.capitalize(), show=False,
             id=f"event.done_{meaning}", tooltip=f"What was done: {words}; again takes it back")
        for meaning, action, words in ACTIONS
    ),
    bind("percent", "bail_percent", "Percent bailed", show=False, id="event.percent",
         tooltip="Type how much of the water was bailed, in percent"),
    bind("animal", "turn('animal')", "Animal", show=False, id="event.animal",
         tooltip="What drowned: mammal, bird, reptile or amphibian, fish"),
    bind("size", "turn('size')", "Size", show=False, id="event.size",
         tooltip="Up to a raccoon (medium), larger (large), up to a squirrel (small)"),
    bind("how_long", "days_dead", "Days dead", show=False, id="event.days_dead",
         tooltip="Type how many days it had lain when it was found"),
    bind("smell", "turn('smell')", "Smell", show=False, id="event.smell",
         tooltip="Of an open event: the water smells not at all, faintly, strongly"),
    bind("colour", "turn('colour')", "Colour", show=False, id="event.colour",
         tooltip="Of an open event: the water is coloured not at all, faintly, strongly"),
    bind("visits", "turn('response')", "Animals", show=False, id="event.response",
         tooltip="Of an open event: animals use the water again, or avoid it"),
    bind("bears", "bears", "Bear visits", show=False, id="event.bears",
         tooltip="Type how many times bears came that day; in bear country"),
    bind("photo", "photo", "Photo", show=False, id="event.photo",
         tooltip="Type the path of a picture to keep with the event"),
    bind("ramp", "ramp", "Ramp", show=False, id="event.ramp",
         tooltip="Escape ramp: in place, missing, not looked"),
    bind("note", "note", "Note", show=False, id="event.note", tooltip="Type a note"),
    Binding("pagedown", "scroll_room(1)", "Cautions down", show=False, id="event.down",
            tooltip="Scroll the cautions down"),
    Binding("pageup", "scroll_room(-1)", "Cautions up", show=False, id="event.up",
            tooltip="Scroll the cautions up"),
    bind("quit", "quit_brimbook", "Quit", id="event.quit", tooltip="Leave Brimbook"),
]  # fmt: skip


def key(action: str, argument: str | int | None = None) -> str:
    """The key of an action of the event screen."""
    return key_of(EVENT_KEYS, action, argument)
