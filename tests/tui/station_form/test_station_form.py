"""Adding and changing stations, by real keys on a real logbook."""

from datetime import date

import pytest
from textual.widgets import Static

from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.logbook.opening import logbook_at
from store.logbook.places import places
from store.model.snapshot import load
from store.records import Chore, Draft, StationFacts, TankMeasures, TractFacts
from store.units import UnitSystem, gallons_from_litres
from store.vocabulary import ChoreKind, DrinkingSeason, Shape
from store.water.usual import USUAL_TANKS
from tests.new_logbook import new_logbook
from tests.tui.driving import NARROW, WIDE, drive, press, settle
from tui.app import BrimbookApp
from tui.base.leave_question import LeaveQuestion
from tui.station_form.fields import Subject, first_texts, subject_of
from tui.station_form.reading import read_station
from tui.station_form.screen import StationForm
from tui.widgets.form_row import FormRow

TODAY = date(2026, 10, 1)
TANK = TankMeasures(Shape.RECTANGULAR, depth_mm=760.0, length_mm=1219.2, width_mm=914.4)
MEASURED = {"depth": "30", "length": "48", "width": "36", "apron": "150"}


@pytest.fixture
def path(tmp_path):
    """One tract, North, with one station, Oak, installed 2024-05-09; 76 cm deep."""
    book = new_logbook(tmp_path / "book.db")
    book.fixed_today = TODAY
    tract_id, station_id = book.new_id(), book.new_id()
    oak = StationFacts(station_id, tract_id, "Oak", TANK, apron_area_m2=14.0)
    write(
        book,
        "Set up",
        [
            Draft(TODAY, TractFacts(tract_id, "North", latitude_deg=42.0)),
            Draft(TODAY, oak),
            Draft(date(2024, 5, 9), Chore(station_id, ChoreKind.INSTALL)),
        ],
    )
    book.close()
    return book.path


def drive_form(path, steps, name=None, size=NARROW):
    """Take the steps on the form, open for a new station or the one named."""

    async def on_screen(pilot):
        app = pilot.app
        station = None if name is None else app.board.snapshot.places.find_station(name)
        await app.push_screen(StationForm(station and station.station_id))
        await settle(pilot)
        await steps(app, _Form(app.screen, pilot))

    drive(BrimbookApp(path, today=TODAY), on_screen, size, notifications=True)


class _Form:
    def __init__(self, screen, pilot):
        self.screen = screen
        self.pilot = pilot

    def row(self, key):
        return self.screen.query_one(f"#row-{key}", FormRow)

    def said(self, key):
        return str(self.row(key).query_one(".said", Static).content)

    @property
    def capacity(self):
        return str(self.screen.query_one("#capacity", Static).content)

    async def fill(self, **texts):
        """Set fields as if typed; the keys themselves are driven elsewhere."""
        for key, text in texts.items():
            self.row(key).editor.value = text
        await self.pilot.pause()

    async def press(self, *keys):
        await press(self.pilot, *keys)


def _dump(path):
    with logbook_at(path) as book:
        return list(book.db.conn.iterdump())


def _known(path):
    with logbook_at(path) as book:
        return places(book), live_entries(book, (Chore,))


def test_a_station_typed_key_by_key_is_on_disk(path):
    async def steps(app, form):
        keys = [*"W", *["tab"] * 4, *"Pit", "down", "o", "enter"]
        keys += [*"30", "tab", *"60", "tab", *"30", "tab", "tab", "tab", "tab", *"120"]
        await form.press(*keys)
        assert form.row("shape").text == "oblong"
        assert "Holds 209 gal at 30.0 in deep." in form.capacity
        assert "at least 30 in of run, 42 in long" in form.capacity
        await form.press("f2")
        assert not isinstance(app.screen, StationForm)

    drive_form(path, steps)
    known, chores = _known(path)
    pit = known.find_station("Pit")
    assert known.tract_of(pit).name == "W"
    assert pit.tank.shape is Shape.OBLONG
    assert pit.tank.length_mm == pytest.approx(60 * 25.4)
    assert pit.apron_area_m2 == pytest.approx(120 * 0.3048**2)
    assert len(chores) == 1


@pytest.mark.parametrize(
    ("key", "text", "said"),
    [
        ("depth", "0", "must be more than 0"),
        ("depth", "-30", "must be more than 0"),
        ("length", "4x", "'4x' is not a number"),
        ("width", "nan", "'nan' is not a number"),
        ("width", "1_0", "'1_0' is not a number"),
        ("length", "99999", "at most 3937"),
        ("apron", "-1", "from 0 to"),
        ("rim", "2,500", "'2,500' is not a number"),
        ("latitude", "100", "from -90 to 90"),
        ("longitude", "181", "from -180 to 180"),
        ("tract_latitude", "north", "is not a number"),
        ("tract_elevation", "90000", "no land of that height"),
        ("installed", "2026-02-30", "'2026-02-30' is not a date"),
        ("installed", "2026-10-02", "is still to come"),
        ("installed", "1850-05-09", "is before 1900"),
        ("name", "OAK", "North has a station of that name already"),
    ],
)
def test_wrong_fields_say_so(path, key, text, said):
    """Read without the app: what is said beside each wrong field."""
    read = _read(path, **{key: text})
    assert said in read.problems[key]
    assert set(read.problems) == {key}
    assert not read.drafts


def test_decimals_may_follow_a_comma(path):
    read = _read(path, rim="6,5")
    (facts,) = (d.fact for d in read.drafts if isinstance(d.fact, StationFacts))
    assert facts.rim_above_ground_mm == pytest.approx(6.5 * 25.4)


@pytest.mark.parametrize(("typed", "water_l"), [("", None), ("0", 0.0), ("40", 151.4)])
def test_an_install_keeps_the_water_in_the_tank(path, typed, water_l):
    read = _read(path, installed="2026-05-09", water=typed)
    (chore,) = (d.fact for d in read.drafts if isinstance(d.fact, Chore))
    assert chore.volume_l == (None if water_l is None else pytest.approx(water_l, abs=0.1))


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        ({"installed": "2026-05-09", "water": "400"}, "from 0 to 224.4, not 400"),
        ({"water": "40"}, "Type the day it was installed too"),
    ],
)
def test_water_that_cannot_be_in_a_new_tank_is_refused(path, texts, said):
    assert said in _read(path, **texts).problems["water"]


def _read(path, **texts):
    with logbook_at(path, TODAY) as book:
        snapshot = load(book)
        ids = book.new_id(), book.new_id()
    subject = Subject(snapshot.units, TODAY, snapshot.places, *ids)
    typed = first_texts(subject) | {"tract": "North", "name": "Pit"} | MEASURED | texts
    return read_station(typed, subject)


@pytest.mark.parametrize(
    ("texts", "key", "said"),
    [
        ({"shape": "round"}, "diameter", "is missing"),
        ({"shape": "oblong", "width": "60"}, "length", "longer overall than it is wide"),
        ({"shape": "measured"}, "depth_volume", "is missing"),
        ({"shape": "measured", "depth_volume": "0:0"}, "depth_volume", "at least two pairs"),
        ({"shape": "measured", "depth_volume": "0:0 10"}, "depth_volume", "'10' is not in:gal"),
        ({"shape": "measured", "depth_volume": "0:0 9:8 8:9"}, "depth_volume", "both rise"),
        ({"name": " "}, "name", "Give the station a name"),
        ({"tract": ""}, "tract", "Name the tract"),
        ({"apron": ""}, "apron", "is missing"),
    ],
)
def test_what_is_missing_or_does_not_fit(path, texts, key, said):
    read = _read(path, **texts)
    assert said in read.problems[key]
    assert not read.drafts


def test_every_shape_can_be_read(path):
    shapes = {
        "round": {"diameter": "37"},
        "half-drum": {"diameter": "23", "length": "34"},
        "measured": {"depth_volume": "0:0 10:31.5 30:110"},
        "rectangular": {"bottom_length": "40", "bottom_width": "30"},
    }
    for shape, texts in shapes.items():
        read = _read(path, shape=shape, **texts)
        assert not read.problems
        assert read.tank is not None
    assert _read(path, shape="half-drum", diameter="23", length="34").tank.depth_mm == (
        pytest.approx(11.5 * 25.4)
    )


def test_nothing_wrong_is_saved_and_nothing_typed_is_lost(path):
    before = _dump(path)

    async def steps(app, form):
        await form.fill(tract="North", name="[b]Pit[/b]", depth="0", length="4x")
        assert form.said("depth").startswith("! It must be more than 0")
        assert form.said("length").startswith("! '4x' is not a number")
        assert not form.said("apron").startswith("!")
        await form.press("f2")
        assert isinstance(app.screen, StationForm)
        assert form.said("apron").startswith("! It is missing")
        assert app.focused is form.row("depth").editor
        await form.press("escape")
        assert isinstance(app.screen, LeaveQuestion)
        await form.press("escape")
        assert form.row("name").text == "[b]Pit[/b]"
        assert form.row("length").text == "4x"
        await form.press("escape", "x")
        assert not isinstance(app.screen, StationForm)

    drive_form(path, steps)
    assert _dump(path) == before


def test_single_letter_keys_of_the_app_do_nothing_on_a_choice(path):
    async def steps(app, form):
        form.row("exposure").editor.focus()
        await form.press("q", "u", "m", "d")
        assert isinstance(app.screen, StationForm)
        assert app.board.snapshot.units.system is UnitSystem.US
        assert form.row("exposure").text == "deep shade"

    drive_form(path, steps)


def test_an_unusual_tank_is_warned_about_and_digging_too(path):
    async def steps(_, form):
        await form.fill(**MEASURED)
        assert "far from the usual" not in form.capacity
        await form.fill(length="400", depth="90")
        assert "far from the usual 100 to 160 gal" in form.capacity
        assert "far from the usual depth of 30 in" in form.capacity
        digging = str(form.screen.query_one("#digging", Static).content)
        assert "call 811" in digging
        assert "Taylor & Tuttle 2007" in digging

    drive_form(path, steps, size=WIDE)


def test_changing_one_fact_leaves_the_others_to_the_last_bit(path):
    """76.0 cm are 29.921 in on screen; only what was typed anew may change."""

    async def steps(app, form):
        assert form.row("depth").text == "29.92"
        assert "42 is known" in form.said("tract_latitude")
        await form.fill(
            apron="200", retired="2026-09-01", tract_elevation="1000", directions="Left [at] oak"
        )
        await form.press("f2")
        assert not isinstance(app.screen, StationForm)

    drive_form(path, steps, "Oak")
    known, chores = _known(path)
    oak = known.find_station("Oak")
    assert oak.tank == TANK
    assert oak.apron_area_m2 == pytest.approx(200 * 0.3048**2)
    assert oak.directions == "Left [at] oak"
    assert known.tract_of(oak).elevation_m == pytest.approx(304.8)
    assert known.tract_of(oak).latitude_deg == 42.0
    assert [(chore.day, chore.fact.chore) for chore in chores][1:] == [
        (date(2026, 9, 1), ChoreKind.RETIRE)
    ]


def test_leaving_unchanged_asks_nothing_and_saving_unchanged_writes_nothing(path):
    before = _dump(path)

    for key in ("f2", "escape"):

        async def steps(app, form, key=key):
            await form.press(key)
            assert not isinstance(app.screen, StationForm | LeaveQuestion)

        drive_form(path, steps, "Oak")
    assert _dump(path) == before


def test_a_retirement_can_be_moved_and_taken_back(path):
    for text in ("2026-09-01", "2026-09-02", ""):
        with logbook_at(path, TODAY) as book:
            oak = next(iter(places(book).stations.values()))
            subject = subject_of(load(book), oak.station_id, ("-", "-"))
            read = read_station(first_texts(subject) | {"retired": text}, subject)
            write(book, "Retired", read.drafts)
        retired = [c.day.isoformat() for c in _known(path)[1] if c.fact.chore is ChoreKind.RETIRE]
        assert retired == ([text] if text else [])


def test_a_retirement_before_the_install_is_wrong(path):
    with logbook_at(path, TODAY) as book:
        oak = next(iter(places(book).stations.values()))
        subject = subject_of(load(book), oak.station_id, ("-", "-"))
    read = read_station(first_texts(subject) | {"retired": "2024-05-08"}, subject)
    assert "installed on 2024-05-09" in read.problems["retired"]


def test_nothing_goes_beyond_80_columns(path):
    async def steps(_, form):
        await form.fill(**MEASURED, name="x" * 500)
        rows = form.screen.query_one("#rows")
        assert rows.virtual_size.width <= 80
        assert max(row.region.right for row in form.screen.query(FormRow)) <= 80

    drive_form(path, steps)


def test_the_bear_season_of_a_tract_is_asked_in_bear_country_alone(path):
    async def steps(app, form):
        assert not form.row("tract_bears_first").display
        await form.fill(bears="yes", tract_bears_first="4-1")
        assert form.row("tract_bears_first").display
        assert "both days" in form.said("tract_bears_last")
        await form.fill(tract_bears_last="03-15")
        assert "month and day" in form.said("tract_bears_first")
        await form.fill(tract_bears_last="6-15")
        await form.press("f2")
        assert not isinstance(app.screen, StationForm)

    drive_form(path, steps, "Oak")
    (tract,) = _known(path)[0].tracts.values()
    assert (tract.bear_season_first, tract.bear_season_last) == ("04-01", "06-15")


def test_the_keeper_chooses_when_animals_drink_on_a_tract(path):
    async def steps(app, form):
        assert form.row("tract_drinking").text == "as it is"
        await form.fill(tract_drinking="dry summer")
        await form.press("f2")
        assert not isinstance(app.screen, StationForm)

    drive_form(path, steps, "Oak")
    (tract,) = _known(path)[0].tracts.values()
    assert tract.drinking is DrinkingSeason.DRY_SUMMER
    drive_form(path, steps, "Oak")
    assert _known(path)[0].tracts == {tract.tract_id: tract}, "saved unchanged, it stays"


def test_a_usual_tank_fills_its_measures_in(book):
    async def steps(pilot):
        await press(pilot, "N")
        form = pilot.app.screen
        seen = []
        for _ in USUAL_TANKS:
            await press(pilot, "f3")
            tank = read_station(form.texts, form._subject).tank
            assert tank is not None, "every usual tank is a whole one"
            seen.append(gallons_from_litres(tank.capacity_l))
        assert seen == pytest.approx([110.0, 160.0, 140.0, 29.0], rel=0.03)
        await press(pilot, "f3")
        tank = read_station(form.texts, form._subject).tank
        assert gallons_from_litres(tank.capacity_l) == pytest.approx(seen[0])

    drive(book.app(), steps)
