"""Tell by its content what a weather file is, and read it."""

from __future__ import annotations

from pathlib import Path

from store.csv_text import read_table, read_text
from store.weather.files import ReadOptions, WeatherFile
from store.weather.readers.dated_table import read_dated_table
from store.weather.readers.ghcn import DLY_LINE, LONG_HEADER, LONG_LINE, read_dly, read_long


def read_weather(path: Path, *, options: ReadOptions | None = None) -> WeatherFile:
    """Read daily weather from a file, recognised by content, never by its name.

    Known are GHCN-Daily .dly, GHCN-Daily CSV with a value a line or a day a line,
    daily summaries CSV in either unit system, and any table with a date and rain
    or temperatures. A value flagged by the archive's checks, a total of several
    days and a presumed zero count as missing; a trace is no rain.

    Raises:
        BadFile: cannot be read, or something has to be stated (units, date order,
            station, columns).
        BadLines: lines that cannot be true or contradict each other, unless
            `options.skip_bad_lines`; then they are in `rejected` and left out: the
            whole line of a table with a day a line, the one value in other formats.
        BadValue: an option that makes no sense.
    """
    options = options or ReadOptions()
    lines = read_text(path).splitlines()
    first = next(line for line in lines if line.strip())
    if DLY_LINE.fullmatch(first):
        return read_dly(path, lines, options)
    if LONG_LINE.fullmatch(first) or LONG_HEADER.fullmatch(first):
        return read_long(path, lines, options)
    return read_dated_table(read_table(path), options)
