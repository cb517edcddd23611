"""Correcting and withdrawing an entry of the log, from whatever screen shows it."""

from __future__ import annotations

from store.model.board import Board
from store.views.log_lines import LogLine, log_lines, withdrawal_drafts
from tui.base.board_screen import BoardScreen
from tui.base.correction import CorrectionScreen
from tui.base.log_marks import line_words, log_text
from tui.base.withdraw import WithdrawScreen


def correct(screen: BoardScreen, owner_id: str, line: LogLine) -> None:
    """Open an entry of a station, or of a tract's gauge, for correction."""
    screen.app.push_screen(CorrectionScreen(owner_id, line.entry.entry_id))


async def withdraw(screen: BoardScreen, board: Board, owner_id: str, line: LogLine) -> None:
    """Ask whether and why an entry is taken back, and do so; for use in a worker."""
    units = board.snapshot.units
    lines = log_lines(board.snapshot, owner_id)
    with_it = len(withdrawal_drafts(lines, line, "")) - 1
    reason = await screen.app.push_screen_wait(WithdrawScreen(log_text(line, units), with_it))
    if reason is not None:
        title = f"{board.snapshot.label_of(owner_id)}: withdrew {line_words(line, units)}"
        await screen.brimbook.save(title, withdrawal_drafts(lines, line, reason))
