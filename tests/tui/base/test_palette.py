"""Actions found by their words."""

from textual.command import CommandPalette

from store.logbook.opening import SHOWN_AS_OF, logbook_at
from store.logbook.settings import keep_setting
from tests.tui.driving import drive, press, settle
from tui.app import BrimbookApp
from tui.base.palette import ActionProvider, OwnDayProvider
from tui.due.screen import DueScreen
from tui.overview.screen import OverviewScreen


async def found(pilot, query):
    provider = ActionProvider(pilot.app.screen)
    return [str(hit.text) async for hit in provider.search(query)]


def test_every_action_of_the_screen_is_found_by_its_words(book):
    async def steps(pilot):
        provider = ActionProvider(pilot.app.screen)
        told = [str(hit.text) async for hit in provider.discover()]
        assert len(told) == len(set(told))
        assert any(text.startswith("Timeline: ") for text in told)
        assert any(text.startswith("Help: ") for text in told)
        assert not any("command" in text.casefold() for text in told)
        assert len(await found(pilot, "gallons and pounds")) == 1

    drive(book.app(), steps)


def test_it_opens_by_a_key_and_does_what_is_chosen(book):
    async def steps(pilot):
        await press(pilot, "ctrl+p")
        assert isinstance(pilot.app.screen, CommandPalette)
        await press(pilot, *"gallons", "space", *"and")
        for _ in range(200):
            await pilot.pause(0.01)
            if pilot.app.screen.query("OptionList").first().option_count:
                break
        await press(pilot, "enter")
        for _ in range(200):
            await pilot.pause(0.01)
            if isinstance(pilot.app.screen, DueScreen):
                break
        assert isinstance(pilot.app.screen, DueScreen)
        await press(pilot, "escape", "ctrl+p", "escape")
        assert isinstance(pilot.app.screen, OverviewScreen)

    drive(book.app(), steps)


def test_a_logbook_with_a_day_of_its_own_says_so_until_that_is_ended(book):
    with logbook_at(book.path) as logbook:
        keep_setting(logbook, SHOWN_AS_OF, book.today.isoformat())

    def title(pilot):
        return str(pilot.app.screen.query_one("#status").content)

    async def steps(pilot):
        assert title(pilot).startswith("Shown as of Thu 1 Oct 2015")
        (hit,) = [hit async for hit in OwnDayProvider(pilot.app.screen).search("today")]
        await hit.command()
        await settle(pilot)
        assert "as of" not in title(pilot)
        assert not [hit async for hit in OwnDayProvider(pilot.app.screen).discover()]
        with logbook_at(book.path) as logbook:
            assert logbook.shown_as_of is None

    drive(BrimbookApp(book.path), steps)
