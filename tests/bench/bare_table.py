"""A table of Textual with as many rows and columns as a register, and nothing else."""

from textual.app import App, ComposeResult
from textual.widgets import DataTable, Footer

ROWS, COLUMNS = 14, 9


class BareTable(App[None]):
    """What a start is measured against."""

    def compose(self) -> ComposeResult:
        yield DataTable(cursor_type="row")
        yield Footer()

    def on_mount(self) -> None:
        table = self.query_one(DataTable)
        table.add_columns(*(f"Col {number}" for number in range(COLUMNS)))
        for row in range(ROWS):
            table.add_row(*(f"{row} {number}" for number in range(COLUMNS)))


if __name__ == "__main__":
    BareTable().run()
