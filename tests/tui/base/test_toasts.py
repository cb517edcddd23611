"""What is told to a person never stands over what they type."""

from textual.widgets._toast import Toast

from tests.tui.driving import drive, press, settle
from tui.check_in.screen import CheckInScreen
from tui.station_form.screen import StationForm

LONG = "A sentence long enough to be folded into several lines, as those about errors are. " * 3


def test_a_sentence_stands_at_the_far_end_from_the_field(book):
    async def steps(pilot):
        app = pilot.app
        for screen, keys in ((CheckInScreen(book.ids["Rocks"]), "o"), (StationForm(), "")):
            await app.push_screen(screen)
            await settle(pilot)
            await press(pilot, *keys)
            for place in (None, *(["shift+tab"] if not keys else [])):
                await press(pilot, *filter(None, [place]))
                app.say(LONG)
                await settle(pilot)
                toast = app.screen.query(Toast).last()
                assert toast.region.height > 2
                assert not toast.region.overlaps(app.screen.focused.region), (screen, place)
                app.clear_notifications()
                await settle(pilot)

    drive(book.app(), steps, notifications=True)
