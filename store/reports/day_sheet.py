"""The sheet to take along on a day of work: one page for a phone and the printer, or text."""

from __future__ import annotations

import json
from datetime import date
from enum import StrEnum
from html import escape
from textwrap import fill

from store.haul.problem import NO_LIMITS, Limits
from store.model.assimilation import FilterCache
from store.model.board import Board
from store.model.snapshot import Snapshot
from store.model.work_kit import WorkKit
from store.model.working_out import board_of
from store.reports.sheet_page import POLICY, SCRIPT, STYLE
from store.reports.sheet_parts import SheetParts, SheetStop, sheet_parts
from store.views.work_day import WorkDay, work_day
from store.vocabulary import UseSeen

USES = tuple(use.value for use in UseSeen)
RAMPS = ("in place", "missing")
TEXT_WIDTH = 78


class SheetForm(StrEnum):
    HTML = "html"
    TEXT = "text"


def day_sheet(
    snapshot: Snapshot,
    kit: WorkKit,
    on: date | None = None,
    limits: Limits = NO_LIMITS,
    tract_name: str | None = None,
    form: SheetForm = SheetForm.HTML,
    *,
    memory: FilterCache | None = None,
) -> str:
    """The sheet of a day, today without `on`, for one tract or all.

    Raises:
        BadValue: as `work_day`.
        NotFound: no tract of that name.
    """
    only = None
    if tract_name is not None:
        tract = snapshot.places.find_tract(tract_name)
        stations = snapshot.places.stations.values()
        only = [one.station_id for one in stations if one.tract_id == tract.tract_id]
    board = board_of(snapshot, memory)
    write = sheet_html if form is SheetForm.HTML else sheet_text
    return write(board, work_day(board, kit, on or snapshot.today, limits, only))


def sheet_html(board: Board, day: WorkDay) -> str:
    """A whole page that loads nothing: stops in order, tasks, boxes to fill in, cautions.

    What is typed into it is saved as a CSV that the import of sheets reads. Whatever a
    person typed in the logbook stands in it as text.
    """
    parts = sheet_parts(board, day)
    title, columns = _safe(parts.title), _safe(json.dumps(parts.columns))
    summary = "".join(f"<p>{_safe(line)}</p>" for line in parts.summary)
    stops = "".join(_section(parts, stop) for stop in parts.stops)
    cautions = "".join(
        f"<p><b>{_safe(one.subject)}:</b> {_safe(one.text)}</p>" for one in parts.cautions
    )
    saving = (
        '<p class="screen boxes"><button id="save" type="button">Save as CSV</button></p>'
        '<p class="screen" id="said"></p>'
    )
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"/>'
        '<meta name="viewport" content="width=device-width, initial-scale=1"/>'
        f'<meta http-equiv="Content-Security-Policy" content="{_safe(POLICY)}"/>'
        f"<title>{title}</title><style>{STYLE}</style></head>\n"
        f'<body data-columns="{columns}"><h1>{title}</h1>{summary}\n'
        f'<p class="boxes"><label>Date of the visit <input id="date" type="date" '
        f'value="{_safe(parts.date)}"/></label></p>\n'
        f'{stops}{saving}\n<div class="cautions">{cautions}</div>\n'
        f"<script>{SCRIPT}</script></body></html>\n"
    )


def _section(parts: SheetParts, stop: SheetStop) -> str:
    told = [line for line in (stop.directions, stop.water) if line]
    words = "".join(f"<p>{_safe(line)}</p>" for line in told)
    tasks = "".join(_task(text, chore) for text, chore in stop.tasks)
    below, volume = parts.columns[2], parts.columns[5]
    depth_name, volume_name = parts.units.depth_name, parts.units.volume_name
    boxes = (
        _number(f"Below rim, {depth_name}", below),
        _choice("Use", "use", USES),
        _choice("Ramp", "ramp", RAMPS),
        _number(f"Brought, {volume_name}", volume),
        '<label class="wide">Note <input type="text" data-column="note"/></label>',
    )
    return (
        f'<section data-station="{_safe(stop.station)}"><h2>{_safe(stop.heading)}</h2>{words}'
        f'{tasks}<div class="boxes">{"".join(boxes)}</div></section>\n'
    )


def _task(text: str, chore: str | None) -> str:
    tick = f' data-chore="{_safe(chore)}"' if chore else ""
    return f'<p class="boxes"><label><input type="checkbox"{tick}/> {_safe(text)}</label></p>'


def _number(label: str, column: str) -> str:
    box = f'<input type="number" min="0" step="any" inputmode="decimal" data-column="{column}"/>'
    return f"<label>{_safe(label)} {box}</label>"


def _choice(label: str, column: str, words: tuple[str, ...]) -> str:
    options = "".join(f"<option>{_safe(word)}</option>" for word in ("", *words))
    paper = f'<span class="paper">({_safe(", ".join(words))})</span>'
    return f'<label>{label} {paper}<select data-column="{column}">{options}</select></label>'


def _safe(text: str) -> str:
    """Text that stays text in a page; characters that no page may hold become blanks."""
    kept = "".join(one if one >= " " else " " for one in text)
    return escape(kept.translate({0xFFFE: " ", 0xFFFF: " "}))


def sheet_text(board: Board, day: WorkDay) -> str:
    """The same in plain text, with lines to write on."""
    parts = sheet_parts(board, day)
    lines = [parts.title, "=" * len(parts.title), *(_wrapped(line) for line in parts.summary), ""]
    for stop in parts.stops:
        lines += [_wrapped(stop.heading)]
        lines += [_wrapped(line, "   ") for line in (stop.directions, stop.water) if line]
        lines += [_wrapped(f"[ ] {text}", "   ") for text, _ in stop.tasks]
        lines += [
            f"   Below rim, {parts.units.depth_name}: ______   Use: none / light / heavy   "
            "Ramp: in place / missing",
            f"   Brought, {parts.units.volume_name}: ______   Note: {'_' * 44}",
            "",
        ]
    lines += [_wrapped(f"{one.subject}: {one.text}") for one in parts.cautions]
    return "\n".join(lines) + "\n"


def _wrapped(text: str, indent: str = "") -> str:
    return fill(text, TEXT_WIDTH, initial_indent=indent, subsequent_indent=indent)
