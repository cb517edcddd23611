"""Parameters of a cause set by the keeper: what is written, and what holds after."""

from pathlib import Path

import pytest

from store.contamination.parameters import CAUSE_PRIORS, LIMITS
from store.errors import BadValue
from store.logbook.journal import undo, write
from store.logbook.opening import Logbook, create_logbook
from store.model.snapshot import Snapshot, load
from store.views.cause_settings import parameter_lines, setting_drafts
from store.vocabulary import Cause


@pytest.fixture
def logbook(tmp_path: Path) -> Logbook:
    return create_logbook(tmp_path / "book.db")


def value(snapshot: Snapshot, name: str) -> float:
    lines = parameter_lines(snapshot, Cause.DYE)
    return next(line.value for line in lines if line.name == name)


def test_every_parameter_is_told_with_its_evidence(logbook: Logbook) -> None:
    for cause in Cause:
        lines = parameter_lines(load(logbook), cause)
        assert [line.name for line in lines] == list(LIMITS)
        assert all(line.evidence and not line.is_changed for line in lines)
        for line in lines:
            if line.likely is not None:
                assert line.limits.low <= line.likely[0] < line.value < line.likely[1]


def test_a_value_is_set_changed_undone_and_put_back(logbook: Logbook) -> None:
    documented = CAUSE_PRIORS[Cause.DYE]["clear_share"].median
    write(logbook, "Set", setting_drafts(load(logbook), Cause.DYE, "clear_share", 0.2))
    write(logbook, "Again", setting_drafts(load(logbook), Cause.DYE, "clear_share", 0.3))
    snapshot = load(logbook)
    assert value(snapshot, "clear_share") == 0.3
    (changed,) = [line for line in parameter_lines(snapshot, Cause.DYE) if line.is_changed]
    assert changed.documented == documented
    assert changed.evidence == CAUSE_PRIORS[Cause.DYE]["clear_share"].evidence
    assert setting_drafts(snapshot, Cause.DYE, "clear_share", 0.3) == ()
    undo(logbook)
    assert value(load(logbook), "clear_share") == 0.2
    write(logbook, "Back", setting_drafts(load(logbook), Cause.DYE, "clear_share", None))
    assert value(load(logbook), "clear_share") == documented
    assert setting_drafts(load(logbook), Cause.DYE, "clear_share", None) == ()


def test_a_value_outside_its_limits_is_refused(logbook: Logbook) -> None:
    for name, wrong in (("clear_share", 1.4), ("habit_days", 0.0), ("nothing", 1.0)):
        with pytest.raises(BadValue):
            setting_drafts(load(logbook), Cause.DYE, name, wrong)
