"""A logbook as plain text: the same bytes for the same entries, line by line."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

from store.errors import BadFile
from store.exchange.text_form import APPLICATION, FORMAT, VERSION, line
from store.file_out import written_to
from store.logbook.opening import Logbook, is_logbook
from store.logbook.schema import MIGRATION_NAMES
from store.logbook.standing import batches_in_order
from store.weather.elements import FIELDS


def text_lines(logbook: Logbook) -> Iterator[bytes]:
    """The lines of a logbook as it stands at one moment, in use or not.

    Raises:
        Refused: a newer version wrote it, so not all of it would be told.
    """
    logbook.refuse_only_read()
    with logbook.reading():
        count = 0
        for one in _lines(logbook):
            count += 1
            yield one
        yield line({"end": True, "lines": count})


def write_text(logbook: Logbook, out: Path) -> None:
    """Write a logbook as text to a file, new or older text, whole or not at all.

    Raises:
        BadFile: the file cannot be written, or is a logbook.
        Refused: as `text_lines`.
    """
    if out.exists() and is_logbook(out):
        raise BadFile(f"{out} is a logbook; name another file for the text of one.")
    with written_to(out):
        handle, unfinished = tempfile.mkstemp(dir=out.parent, prefix=".brimbook-")
        try:
            with os.fdopen(handle, "wb") as file:
                file.writelines(text_lines(logbook))
            Path(unfinished).replace(out)
        finally:
            Path(unfinished).unlink(missing_ok=True)


def _lines(logbook: Logbook) -> Iterator[bytes]:
    yield line(
        {
            "format": FORMAT,
            "version": VERSION,
            "application": APPLICATION,
            "schema": max(MIGRATION_NAMES),
        }
    )
    for name, value in logbook.db.execute("SELECT name, value FROM setting ORDER BY name"):
        yield line({"setting": name, "value": value})
    told: set[str] = set()
    for batch in batches_in_order(logbook.db):
        (written,) = logbook.db.execute(
            "SELECT written_utc FROM batch WHERE batch_id = ?", [batch.batch_id]
        ).fetchone()
        yield line(
            {
                "batch": batch.batch_id,
                "title": batch.title,
                "written": written,
                "undoes": batch.undoes,
            }
        )
        yield from _entries(logbook, batch.batch_id, told)


def _entries(logbook: Logbook, batch_id: str, told: set[str]) -> Iterator[bytes]:
    """The entries of a batch; `told` are the imports whose days stand further up."""
    rows = logbook.db.execute(
        "SELECT entry_id, kind, about, written_utc, revises FROM entry "
        "WHERE batch_id = ? ORDER BY entry_id",
        [batch_id],
    )
    for entry_id, kind, about, written, revises in rows:
        cursor = logbook.db.execute(f"SELECT * FROM {kind} WHERE entry_id = ?", [entry_id])
        names = [column[0] for column in cursor.description]
        fact = dict(zip(names, cursor.fetchone(), strict=True))
        del fact["entry_id"], fact["kind"]
        if kind == "station_facts":
            fact["depth_volume"] = _depth_volume(logbook, entry_id)
        yield line(
            {
                "entry": entry_id,
                "kind": kind,
                "about": about,
                "written": written,
                "revises": revises,
                "fact": {name: value for name, value in fact.items() if value is not None},
            }
        )
        if kind == "weather_import" and fact["import_id"] not in told:
            told.add(fact["import_id"])
            yield from _days(logbook, fact["import_id"])


def _depth_volume(logbook: Logbook, entry_id: str) -> list[list[float]] | None:
    sql = "SELECT depth_mm, volume_l FROM tank_depth_volume WHERE entry_id = ? ORDER BY depth_mm"
    return [list(row) for row in logbook.db.execute(sql, [entry_id])] or None


def _days(logbook: Logbook, import_id: str) -> Iterator[bytes]:
    names = ", ".join(("day", *FIELDS))
    sql = f"SELECT {names} FROM weather_day WHERE import_id = ? ORDER BY day"
    for row in logbook.db.execute(sql, [import_id]):
        yield line({"weather": import_id, **dict(zip(("day", *FIELDS), row, strict=True))})
