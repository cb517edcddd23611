"""A table that is filled anew under the pointer."""

import pytest
from rich.style import Style
from rich.text import Text
from textual import events
from textual.app import App
from textual.widgets import DataTable

from tests.tui.driving import drive, settle
from tui.base.table import Column, KeyedTable

COLUMNS = (Column("Name", 10, Text), Column("Again", 10, Text))


class Tables(App):
    def __init__(self):
        super().__init__()
        self.heard = []

    def compose(self):
        yield KeyedTable()

    def on_data_table_header_selected(self, message: DataTable.HeaderSelected):
        self.heard.append(str(message.label))


@pytest.mark.parametrize(
    ("row", "column", "heard"),
    [(-1, 1, ["Again"]), (-1, 2, []), (0, 1, []), (7, 0, []), (0, 9, [])],
)
def test_a_click_on_what_is_gone_by_now_is_for_nobody(row, column, heard):
    app = Tables()

    async def steps(pilot):
        table = app.query_one(KeyedTable)
        table.fill(COLUMNS, {"one": "one"})
        await settle(pilot)
        drawn = Style(meta={"row": row, "column": column})
        at = (1, 1, 0, 0, 1, False, False, False, 1, 1)
        table.post_message(events.Click(table, *at, style=drawn))
        await settle(pilot)

    drive(app, steps)
    assert app.heard == heard
