"""The line of keys at the foot: what it shows, and a click on it."""

from textual.app import App, ComposeResult
from textual.binding import Binding
from textual.pilot import Pilot

from tests.tui.driving import drive
from tui.base.key_line import KeyLine


class _Keys(App[None]):
    BINDINGS = [  # noqa: RUF012 - as in Textual
        Binding("f", "count", "Fill", tooltip="Fill the tank"),
        Binding("x", "other", "Clear"),
        Binding("h", "hidden", "Hidden", show=False),
    ]
    counted, may = 0, True

    def compose(self) -> ComposeResult:
        yield KeyLine()

    def action_count(self) -> None:
        self.counted += 1

    def action_other(self) -> None:
        self.counted += 10

    def check_action(self, action: str, _: tuple[object, ...]) -> bool | None:
        return (self.may or None) if action == "other" else True


def test_it_shows_the_keys_that_are_to_be_shown_and_a_click_does_what_they_do() -> None:
    app = _Keys()

    async def steps(pilot: Pilot[None]) -> None:
        line = app.query_one(KeyLine)
        assert [one.words for one in line.shown if one.key in "fxh"] == ["Fill", "Clear"]
        start = sum(one.width for one in line.shown[: _place(line, "x")])
        await pilot.click(KeyLine, offset=(start + 1, 0))
        assert app.counted == 10
        await pilot.click(KeyLine, offset=(79, 0))
        assert app.counted == 10
        app.may = False
        app.refresh_bindings()
        await pilot.pause()
        assert not line.shown[_place(line, "x")].works
        await pilot.click(KeyLine, offset=(start + 1, 0))
        assert app.counted == 10

    drive(app, steps)


def _place(line: KeyLine, key: str) -> int:
    return [one.key for one in line.shown].index(key)
