"""What is offered when a logbook was opened: unsaved entries, or a new logbook's first steps."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from store.model.board import Board
from store.unsaved import Unsaved
from tui.routes import UNSAVED_ROUTES

if TYPE_CHECKING:
    from tui.app import BrimbookApp


def offer_at_start(app: BrimbookApp, board: Board) -> None:
    """Ask about the latest of what was left unsaved; lead a logbook without a tank."""
    if app.unsaved_work.waiting:
        *others, latest = app.unsaved_work.waiting
        app.unsaved_work.offer(latest, partial(_open, app, board, latest), others=len(others))
    elif not board.snapshot.places.stations:
        app.push_screen(UNSAVED_ROUTES["first_steps"]())


def _open(app: BrimbookApp, board: Board, one: Unsaved) -> None:
    """Open the screen of something unsaved, which then shows it."""
    opens, about = UNSAVED_ROUTES.get(one.where), one.about.split()
    places = board.snapshot.places
    if opens is None or (about and about[0] not in {*places.stations, *places.tracts}):
        app.say("The station of that is no longer in the logbook; it cannot be taken up.")
        return
    app.unsaved_work.chosen = one
    app.push_screen(opens(*about))
