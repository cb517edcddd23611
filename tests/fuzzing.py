"""Files that no person means to bring: sheets, weather and logbooks full of nonsense.

Each `attempt` brings one in and demands that it is taken whole or refused in a sentence,
with the logbook as it was.
"""

from __future__ import annotations

import json
import math
import re
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from xml.sax.saxutils import quoteattr

from hypothesis import strategies as st

from store.errors import BrimbookError
from store.logbook.opening import Logbook, logbook_at
from store.transfer.forecast import import_forecast
from store.transfer.importing import SheetKind, import_sheet
from store.transfer.sheets import (
    CHORES,
    CONTAMINATION,
    DAY_SHEET,
    NORMALS,
    READINGS,
    SEASON,
    STATIONS,
)
from store.transfer.weather import import_weather
from store.vocabulary import Action, Cause, ChoreKind, LevelMark, Shape, WindowKind
from store.weather.files import ReadOptions

TODAY = date(2015, 10, 1)
SHEETS = {
    SheetKind.STATIONS: STATIONS,
    SheetKind.READINGS: READINGS,
    SheetKind.CHORES: CHORES,
    SheetKind.CONTAMINATION: CONTAMINATION,
    SheetKind.NORMALS: NORMALS,
    SheetKind.SEASON: SEASON,
    SheetKind.SHEET: DAY_SHEET,
}
WEATHER_COLUMNS = (
    "date", "year", "month", "day", "station", "name", "latitude", "longitude", "elevation",
    "tmin", "tmax", "tmin_c", "tmax_f", "rain_mm", "prcp", "humidity_pct", "wind_m_s",
    "id", "element", "value", "mdpr", "sun_mj_m2", "dewpoint_c", "awnd", "prcp_attributes",
)  # fmt: skip
WORDS = tuple(
    str(word)
    for words in (Action, Cause, ChoreKind, LevelMark, Shape, WindowKind)
    for word in words
)
NUMBERS = (
    "0", "-0", "1", "30", "12.5", "1e300", "1e308", "1e309", "-1e308", "9" * 5000, "." + "1" * 5000,
    "5e-324", "nan", "inf", "-inf", "1_000", "0x10", "٣", "²", "1,5", "1,500", "-9999", "+",
)  # fmt: skip
DATES = (
    "2015-09-20", "2015-02-30", "0001-01-01", "9999-12-31", "99999-01-01", "20150920", "2015-W38-7",
    "1/2/2015", "31/12/2015", "September 20 2015", "9" * 5000, "2015" + "0" * 5000, "2015-9-20",
    "2015-09-20T00:00:00Z", "1899-12-31", "2200-01-01", "1750-01-01", "4-5", "2/29", "29 February",
)  # fmt: skip
OTHER = (
    "", " ", "Oak", "North/Oak", "North", "=1+1", "\x1b[2J", "\x00", '"', "'", "\ud7ff", "x" * 5000,
    "0:0 10:31 30:110", "0:0 10:1e308", "1:1:1", "yes", "T", "M", ",,,", "\n", "\r", "\u2028",
)  # fmt: skip
CELL = st.one_of(
    st.sampled_from(NUMBERS), st.sampled_from(DATES), st.sampled_from(OTHER),
    st.sampled_from(WORDS), st.text(max_size=8), st.floats().map(str), st.integers().map(str),
    st.dates().map(str),
)  # fmt: skip
TAME = {
    "date": st.dates(date(2015, 5, 6), date(2015, 9, 30)).map(str),
    "installed": st.just("2015-05-05"),
    "first": st.sampled_from(("2 April", "04-05")),
    "last": st.sampled_from(("2 May", "05-20")),
    "station": st.sampled_from(("Oak", "Rocks", "New", "Other", "Third")),
    "tract": st.sampled_from(("North", "South")),
    "shape": st.just("rectangular"),
    "cause": st.sampled_from([str(cause) for cause in Cause]),
    "action": st.sampled_from([str(action) for action in Action]),
    "chore": st.sampled_from([str(chore) for chore in ChoreKind]),
    "level": st.sampled_from([str(mark) for mark in LevelMark]),
    "window": st.sampled_from([str(window) for window in WindowKind]),
    "year": st.sampled_from(("2014", "2015")),
    "day": st.integers(1, 28).map(str),
    "element": st.sampled_from(("PRCP", "TMIN", "TMAX")),
    "note": st.text(max_size=8),
    "use": st.sampled_from(("light", "heavy", "")),
    "ramp": st.sampled_from(("in place", "missing", "")),
    "done": st.sampled_from(("rake", "rake; cover", "")),
    "name": st.text(max_size=8),
    "apron_surface": st.just("grass"),
    "exposure": st.just("open"),
    "access": st.just("foot"),
    "expected_use": st.just("heavy"),
    "bear_country": st.just("yes"),
    "depth_volume_in_gal": st.just(""),
    "bottom_diameter": st.just(""),
    "wet_days": st.just("9"),
    "tmin": st.sampled_from(("1", "2.5")),
    "tmin_c": st.sampled_from(("1", "2.5")),
    "tmin_f": st.sampled_from(("31", "32.5")),
    "tmax": st.sampled_from(("21", "22.5")),
    "tmax_c": st.sampled_from(("21", "22.5")),
    "tmax_f": st.sampled_from(("81", "82.5")),
}
"""What is right in a column; elsewhere a number is."""
NUMBER = st.floats(5, 30).map(lambda number: f"{number:.1f}")
BARE = re.compile(r"(bottom|diameter|_cm$|_mm$|litre|liter)")
"""Columns that are mostly left empty, as their twins in inches and gallons are filled."""


@st.composite
def cells(draw: st.DrawFn, column: str, line: int, wild_percent: int) -> str:
    """A cell that is right for its column, or anything, in so many of a hundred."""
    if draw(st.integers(0, 99)) < wild_percent:
        return draw(CELL)
    if column == "month":
        return str(line % 12 + 1)
    tame = TAME.get(column, st.just("") if BARE.search(column) else NUMBER)
    return draw(tame)


@st.composite
def tables(draw: st.DrawFn, columns: tuple[str, ...], needed: tuple[str, ...]) -> bytes:
    """A file with some of the columns, in any order, torn and encoded somehow."""
    chosen = draw(st.lists(st.sampled_from(columns), unique=True, max_size=len(columns)))
    all_needed = draw(st.integers(0, 9)) > 0
    names = draw(st.permutations(sorted({*chosen, *(needed if all_needed else ())})))
    wild = draw(st.sampled_from((0, 1, 5, 40)))
    if draw(st.integers(0, 9)) == 0:
        names = [*names, draw(CELL)]
    separator = draw(st.sampled_from(",,,;\t"))
    lines = [separator.join(names)]
    for line in range(draw(st.sampled_from((0, 1, 1, 1, 2, 6, 12, 12)))):
        lines.append(
            separator.join(_quoted(draw(cells(name, line, wild)), separator) for name in names)
        )
    text = draw(st.sampled_from(("\n", "\n", "\r\n", "\r"))).join(lines)
    data = text.encode(draw(st.sampled_from(("utf-8", "utf-8", "utf-8", "utf-8-sig", "utf-16"))))
    if draw(st.integers(0, 9)) == 0:
        at = draw(st.integers(0, len(data)))
        data = data[:at] + draw(st.binary(max_size=5)) + data[at:]
    return data


def _quoted(text: str, separator: str) -> str:
    plain = not any(one in text for one in (separator, '"', "\n", "\r"))
    return text if plain else '"' + text.replace('"', '""') + '"'


def sheets(kind: SheetKind) -> st.SearchStrategy[bytes]:
    """Files of a kind, more or less."""
    if kind is SheetKind.PLACES:
        return places_files()
    sheet = SHEETS[kind]
    needed = tuple(names[0] for names in sheet.needed)
    tank = ("tract", "length_in", "width_in", "depth_in") if kind is SheetKind.STATIONS else ()
    return tables(tuple(sorted(sheet.columns)), (*needed, *tank))


@st.composite
def month_lines(draw: st.DrawFn) -> bytes:
    """Lines like those of a GHCN-Daily station file, some of them torn."""
    lines = []
    for _ in range(draw(st.integers(1, 5))):
        head = draw(st.sampled_from(("USC00111329", "USW00094728", "x")))
        year = draw(st.sampled_from(("2014", "2015", "9999", "0000", "20\u06615", "    ")))
        month = draw(st.sampled_from(("01", "02", "09", "13", "00", "xx")))
        element = draw(st.sampled_from(("PRCP", "TMIN", "TMAX", "SNOW")))
        days = "".join(
            draw(st.sampled_from(("  100   ", "-9999   ", "99999  X", "    T  S", " 1e9    ")))
            for _ in range(draw(st.sampled_from((31, 31, 31, 30, 2))))
        )
        lines.append(f"{head}{year}{month}{element}{days}")
    return "\n".join(lines).encode()


JSON = st.recursive(
    st.one_of(
        st.none(), st.booleans(), st.floats(-200, 200), st.integers(), st.text(max_size=6),
        st.sampled_from(("Point", "Oak", "FeatureCollection", "Feature", math.nan, 10**400)),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=4),
        st.dictionaries(
            st.sampled_from(("type", "features", "geometry", "coordinates", "properties", "name")),
            inner,
            max_size=4,
        ),
    ),
    max_leaves=12,
)  # fmt: skip
DEGREES = st.one_of(st.floats(-90, 90), st.floats(), st.sampled_from((*NUMBERS, None, [], 10**400)))


@st.composite
def features(draw: st.DrawFn) -> object:
    """A point of GeoJSON, or nearly."""
    geometry = {"type": "Point", "coordinates": draw(st.lists(DEGREES, max_size=3))}
    name = draw(st.sampled_from(("Oak", "Rocks", "Elsewhere", 5, None)))
    whole = {"type": "Feature", "geometry": geometry, "properties": {"name": name}}
    return draw(st.one_of(st.just(whole), st.just(whole), JSON))


@st.composite
def waypoints(draw: st.DrawFn) -> str:
    """A point of GPX, or nearly; its numbers are short, as Python writes no longer ones."""
    latitude, longitude = (draw(st.one_of(st.floats(-90, 90).map(str), CELL)) for _ in range(2))
    name = draw(st.sampled_from(("Oak", "Rocks", "&amp;", "&lol;", "<wpt/>", "\x00")))
    place = f"lat={quoteattr(latitude)} lon={quoteattr(longitude)}"
    return f"<wpt {place}><name>{name}</name></wpt>"


def places_files() -> st.SearchStrategy[bytes]:
    collection = st.lists(features(), max_size=4).map(
        lambda found: {"type": "FeatureCollection", "features": found}
    )
    gpx = st.lists(waypoints(), max_size=4).map(lambda found: f"<gpx>{''.join(found)}</gpx>")
    deep = st.sampled_from(('{"a":' * 100_000, "<gpx>" + "<a>" * 50_000, "<!DOCTYPE gpx><gpx/>"))
    return st.one_of(
        collection.map(_json), JSON.map(_json), gpx.map(str.encode), deep.map(str.encode)
    )


def _json(told: object) -> bytes:
    """As JSON, its numbers of any length."""
    limit = sys.get_int_max_str_digits()
    sys.set_int_max_str_digits(0)
    try:
        return json.dumps(told).encode()
    finally:
        sys.set_int_max_str_digits(limit)


def weather_files() -> st.SearchStrategy[bytes]:
    return st.one_of(
        tables(WEATHER_COLUMNS, ("date", "tmin_c", "tmax_f", "rain_mm")),
        tables(WEATHER_COLUMNS, ("year", "month", "day", "rain_mm")),
        tables(WEATHER_COLUMNS, ("id", "date", "element", "value")),
        month_lines(),
        st.binary(max_size=200),
    )


def attempt_sheet(path: Path, file: Path, kind: SheetKind, data: bytes) -> bool:
    """Bring a sheet into the logbook; gives whether it was taken."""
    return _attempt(path, file, data, lambda book: import_sheet(book, kind, file, "North", 40.0))


def attempt_weather(path: Path, file: Path, data: bytes, *, forecast: bool, skip: bool) -> bool:
    """Bring a weather file, or a forecast, into the logbook; gives whether it was taken."""
    bring = import_forecast if forecast else import_weather
    options = ReadOptions(skip_bad_lines=skip)
    return _attempt(path, file, data, lambda book: bring(book, file, options, "North", None))


def _attempt(path: Path, file: Path, data: bytes, bring: Callable[[Logbook], object]) -> bool:
    file.write_bytes(data)
    before = counted(path)
    try:
        with logbook_at(path, TODAY) as logbook:
            bring(logbook)
    except BrimbookError as error:
        if not str(error).strip():
            raise ValueError("refused without a word") from error
        assert counted(path) == before, "a refused file left something behind"
        return False
    return True


def counted(path: Path) -> tuple[int, ...]:
    """How many rows the logbook has in the tables that every import writes to."""
    with logbook_at(path, TODAY) as logbook:
        assert logbook.db.execute("PRAGMA foreign_key_check").fetchall() == []
        return tuple(
            logbook.db.execute(f"SELECT count(*) FROM {table}").fetchone()[0]
            for table in ("batch", "entry", "weather_day", "tract", "station", "weather_file")
        )


def damaged(data: bytes) -> st.SearchStrategy[bytes]:
    """A logbook file with bytes changed, cut off or put in."""
    place = st.integers(0, len(data) - 1)
    changes = st.lists(st.tuples(st.one_of(st.integers(0, 200), place), st.binary(max_size=40)),
                       min_size=1, max_size=6)  # fmt: skip

    def change(made: tuple[list[tuple[int, bytes]], int]) -> bytes:
        changed = bytearray(data)
        for at, new in made[0]:
            changed[at : at + len(new)] = new
        return bytes(changed[: made[1]])

    cut = st.one_of(st.just(len(data)), st.just(len(data)), place)
    return st.tuples(changes, cut).map(change)
