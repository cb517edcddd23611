"""`python -m tui` does what the `brimbook` command does."""

from tui.cli import main

main(prog_name="brimbook")
