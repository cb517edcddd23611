"""An import step by step: what is being done in words, and what came of it in the end."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from threading import Event

from store.fetching.archive import STATION_ADDRESS, fetch_station
from store.fetching.download import PATIENT, Progress
from store.logbook.backups import Why
from store.logbook.opening import Logbook
from store.transfer.forecast import keep_forecast
from store.transfer.importing import SheetKind, keep_import, read_import
from store.transfer.weather import keep_weather
from store.weather.readers.recognise import read_weather
from tui.importing.order import ARCHIVE, FORECAST, WEATHER, Order
from tui.importing.result import ImportResult, from_sheet, from_weather
from tui.session import LogbookSession

Step = str | ImportResult | None
"""What is being done, what came of it, or None where it was cancelled."""


def import_steps(session: LogbookSession, order: Order, cancelled: Event) -> Iterator[Step]:
    """Read what is ordered and write it; once `cancelled`, nothing is written any more.

    Raises:
        BrimbookError: it cannot be had, read or written; the logbook is as it was.
    """
    if order.kind != ARCHIVE:
        yield from _kept(session, order, order.path, cancelled)
        return
    with tempfile.TemporaryDirectory(prefix="brimbook-") as folder:
        patience = replace(PATIENT, sleep=cancelled.wait)
        for step in fetch_station(order.station_id, Path(folder), STATION_ADDRESS, patience):
            if cancelled.is_set():
                yield None
                return
            if isinstance(step, Progress):
                yield step.said or f"Fetching {order.station_id}: {step.amount}"
            else:
                yield from _kept(session, order, step, cancelled)


def _kept(session: LogbookSession, order: Order, path: Path, cancelled: Event) -> Iterator[Step]:
    """Read a file, say what is written, and write it."""
    write: Callable[[Logbook], ImportResult]
    tract, latitude = order.tract, order.latitude_deg
    if order.kind in (WEATHER, FORECAST, ARCHIVE):
        file = read_weather(path, options=order.options)
        keep = keep_forecast if order.kind == FORECAST else keep_weather
        what, write = "days", lambda book: from_weather(keep(book, file, tract, latitude))
    else:
        kind = SheetKind(order.kind)
        sheet = session.do(lambda book: read_import(book, kind, path, tract, latitude))
        what, write = (
            "entries",
            lambda book: from_sheet(keep_import(book, kind, path, sheet), path),
        )
    if cancelled.is_set():
        yield None
        return
    session.back_up(Why.IMPORT)
    yield f"Writing the {what} of {path.name} ..."
    yield session.do(write)
