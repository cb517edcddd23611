"""The timeline as rows."""

from datetime import date

import pytest

from store.errors import BadValue, NotFound
from store.reports.timeline import timeline_rows
from store.views.timeline import season_timeline


def test_every_mark_stretch_and_task_is_a_row(snapshot, board, known):
    rows = timeline_rows(snapshot, memory=known).rows
    timeline = season_timeline(board)
    labels = {row.label for row in timeline.rows}
    assert {row[0] for row in rows} <= labels
    marks = sum(len(row.marks) for row in timeline.rows)
    spans = sum(not span.is_task for row in timeline.rows for span in row.spans)
    tasks = sum(len(row.tasks) for row in timeline.rows)
    assert len(rows) == marks + spans + tasks


def test_days_and_station_narrow_it(snapshot, known):
    october = date(2015, 10, 1), date(2015, 10, 31)
    rows = timeline_rows(snapshot, *october, station="North/Oak", memory=known).rows
    assert rows
    assert {row[0] for row in rows} == {"North/Oak"}
    assert all(row[2] <= october[1] for row in rows)
    assert all(row[3] is None or row[3] >= october[0] for row in rows)
    with pytest.raises(NotFound):
        timeline_rows(snapshot, station="nowhere", memory=known)
    with pytest.raises(BadValue, match="earlier day first"):
        timeline_rows(snapshot, *reversed(october), memory=known)
