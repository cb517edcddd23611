"""The command line: opens the interface, and answers the same questions in print."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

import click
import platformdirs

from store.demo.shipped import shipped_demo
from store.errors import BadFile, BrimbookError
from store.logbook.backups import daily_backup
from store.logbook.opening import create_logbook, logbook_at, working_copy
from store.logbook.settings import DEMO_NAME, is_demo
from tui.failure import keep_failure
from tui.late import Late
from tui.parameters import FilePath, today_option
from tui.widgets.signs import Signs, signs_of_terminal

SIXTEEN_COLOURS = "standard"
"""For a terminal that says nothing of itself: else not even the cursor's row would show."""


class OpensByDefault(click.Group):
    """A group whose first word, when it is no command, is a logbook to open."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        if not args or (args[0] not in self.commands and args[0] not in ("--help", "--version")):
            args = ["open", *args]
        return super().parse_args(ctx, args)

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except BrimbookError as error:
            raise click.ClickException(str(error)) from error
        except (click.ClickException, click.exceptions.Exit, click.Abort, BrokenPipeError):
            raise
        except Exception as error:
            sentence = keep_failure(error, f"command {ctx.invoked_subcommand}")
            raise click.ClickException(sentence) from error


COMMANDS = {
    "new": "tui.commands.keeping:new",
    "backup": "tui.commands.keeping:backup",
    "backups": "tui.commands.keeping:list_backups",
    "restore": "tui.commands.keeping:restore_logbook",
    "import": "tui.commands.keeping:import_file",
    "due": "tui.commands.planning:due",
    "calendar": "tui.commands.planning:calendar",
    "timeline": "tui.commands.planning:timeline",
    "places": "tui.commands.planning:places",
    "workday": "tui.commands.planning:workday",
    "sheet": "tui.commands.planning:sheet",
    "kit": "tui.commands.planning:kit",
    "levels": "tui.commands.foreseeing:levels",
    "events": "tui.commands.foreseeing:events",
    "recovery": "tui.commands.foreseeing:recovery",
    "outlook": "tui.commands.foreseeing:outlook",
    "review": "tui.commands.looking_back:review",
    "whatif": "tui.commands.looking_back:whatif",
    "budget": "tui.commands.looking_back:water_budget",
    "learned": "tui.commands.looking_back:what_was_learned",
    "text": "tui.commands.exchange:text",
    "from-text": "tui.commands.exchange:from_text",
    "merge": "tui.commands.exchange:merge_logbooks",
    "log": "tui.commands.exchange:log",
    "stations": "tui.commands.exchange:stations",
    "weather": "tui.commands.fetching:weather",
    "keys": "tui.commands.keys:print_keys",
    "serve": "tui.serve:serve",
}
"""The module of each command, and its name there; loaded when the command is given."""


@click.group(
    cls=OpensByDefault,
    commands=Late(COMMANDS),
    epilog="`brimbook LOGBOOK` opens the interface on a logbook.",
)
@click.version_option(package_name="brimbook")
def main() -> None:
    """A logbook for buried water tanks: levels, check-ins, contamination and the season."""


plain_option = click.option(
    "--plain", is_flag=True,
    help="Draw with plain characters alone, as is done by itself where the terminal has few.",
)  # fmt: skip


def _wants_one_made(path: Path) -> bool:
    """Whether a person at the terminal says to make a logbook where there is none."""
    if path.exists() or path.name == DEMO_NAME or not at_terminal():
        return False
    return click.confirm(f"There is no logbook {path} yet. Make one?")


def at_terminal() -> bool:
    """Whether there is somebody to ask."""
    return sys.stdin.isatty()


@main.command("open")
@click.argument("logbook", type=FilePath(), required=False)
@plain_option
@today_option
def open_interface(logbook: Path | None, plain: bool, today: date | None) -> None:
    """Open the interface on LOGBOOK; without one, on your own, made on first use."""
    if os.environ.get("TERM") == "dumb":
        os.environ.setdefault("TEXTUAL_COLOR_SYSTEM", SIXTEEN_COLOURS)
    from tui.app import BrimbookApp

    path = logbook or platformdirs.user_data_path("brimbook") / "logbook.db"
    greeting = ""
    wanted = logbook is None or _wants_one_made(path)
    if wanted and not path.exists():
        create_logbook(path).close()
        greeting = f"Made a new logbook: {path}"
    with _demo_copy(path) as copy:
        if copy is not None:
            greeting = "This is the demo, opened on a copy: nothing you do here changes it."
        else:
            with logbook_at(path) as book:
                only_read = book.only_read
            greeting = only_read or _backed_up_today(path) or greeting
        signs = signs_of_terminal()
        if plain and signs is Signs.ALL:
            signs = Signs.PLAIN
        lasting = copy is None
        app = BrimbookApp(
            copy or path, today=today, greeting=greeting, signs=signs, lasting=lasting
        )
        app.run()
    if app.return_code:
        raise click.exceptions.Exit(app.return_code)


@main.command()
@plain_option
@today_option
@click.pass_context
def demo(ctx: click.Context, plain: bool, today: date | None) -> None:
    """Open the demo, an invented season, on a copy: nothing you do changes it."""
    ctx.invoke(open_interface, logbook=shipped_demo(), plain=plain, today=today)


def _backed_up_today(path: Path) -> str:
    """Back a logbook up once a day of use; why it could not be, empty where it could."""
    try:
        daily_backup(path)
    except BadFile as error:
        return str(error)
    return ""


@contextmanager
def _demo_copy(path: Path) -> Iterator[Path | None]:
    """A copy of the shipped demo for as long as it is open; None for any other file."""
    if path.name != DEMO_NAME or not path.is_file():
        yield None
        return
    with working_copy(path) as copy:
        with logbook_at(copy) as book:
            shipped = is_demo(book)
        yield copy if shipped else None
