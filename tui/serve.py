"""The command that shows a logbook in a browser tab."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from tui.commands.shared import for_reading
from tui.parameters import logbook_argument, today_option
from tui.serving.server import LOOPBACK, is_loopback, open_to_others, serve_logbook


@click.command()
@logbook_argument
@click.option("--port", type=click.IntRange(1, 65535), default=8000, show_default=True,
              help="Port of the page.")  # fmt: skip
@click.option("--host", default=LOOPBACK, show_default=True,
              help="Another address than this machine's own, for others to reach.")  # fmt: skip
@today_option
def serve(logbook: Path, port: int, host: str, today: date | None) -> None:
    """Show LOGBOOK in a browser tab, on this machine alone."""
    with for_reading(logbook, today):
        pass
    if not is_loopback(host):
        click.echo(open_to_others(host), err=True)
    serve_logbook(logbook, host, port, today)
