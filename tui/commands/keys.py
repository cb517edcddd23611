"""The command that tells of keys: what each means, and how to change it."""

from __future__ import annotations

import click

from tui.printing import say


@click.command("keys")
def print_keys() -> None:
    """Print what every key means, and where to write keys of your own."""
    from tui.key_table import KEYS, KEYS_FILE, MEANINGS

    width = max(len(one.name) for one in MEANINGS)
    for one in MEANINGS:
        say(f"{KEYS.by_name[one.name]}  {one.name:{width}}  {one.does}")
    say(f'\nA line such as  fill = "é"  in this file gives a meaning another key:\n{KEYS_FILE}')
    for trouble in KEYS.troubles:
        click.echo(trouble, err=True)
