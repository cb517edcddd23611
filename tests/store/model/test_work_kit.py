import json

import pytest

from store.errors import BadValue, Refused
from store.logbook.journal import redo, undo
from store.logbook.settings import keep_setting
from store.model.work_kit import SETTING, WorkKit, keep_work_kit, work_kit
from store.vocabulary import Access
from tests.new_logbook import new_logbook


@pytest.fixture
def logbook(tmp_path):
    book = new_logbook(tmp_path / "book.db")
    yield book
    book.close()


def test_a_logbook_that_was_never_asked_has_the_assumed_kit(logbook):
    assert work_kit(logbook) == WorkKit()
    assert not work_kit(logbook).asked


def test_a_kit_is_kept_as_the_persons_own(logbook):
    keep_work_kit(logbook, WorkKit(by=Access.VEHICLE, payload_kg=700.0, source_name="Barn <1>"))
    kept = work_kit(logbook)
    assert kept == WorkKit(by=Access.VEHICLE, payload_kg=700.0, source_name="Barn <1>", asked=True)


def test_a_kit_is_undone_down_to_what_an_older_version_kept(logbook):
    keep_setting(logbook, SETTING, json.dumps({"payload_kg": 400.0, "asked": True}))
    for payload_kg in (500.0, 600.0):
        keep_work_kit(logbook, WorkKit(payload_kg=payload_kg))
    left = [work_kit(logbook).payload_kg]
    for change in (undo, undo, redo):
        assert "What you haul with" in change(logbook).title
        left.append(work_kit(logbook).payload_kg)
    assert left == [600.0, 500.0, 400.0, 500.0]
    with pytest.raises(Refused, match="nothing to undo"):
        undo(undo(logbook) and logbook)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"payload_kg": 0.0}, "payload must be more than 0"),
        ({"payload_kg": -100.0}, "payload must be more than 0"),
        ({"payload_kg": float("nan")}, "payload kg cannot be nan"),
        ({"tank_kg": 300.0}, "as heavy as the whole payload"),
        ({"fill_up_minutes": 0.0}, "Filling up must take more"),
        ({"walk_km_per_hour": 0.0}, "Speeds must be more"),
        ({"detour": 0.9}, "detour cannot be under 1"),
        ({"by": Access.FOOT}, "not carried on foot"),
        ({"start_latitude_deg": 40.0}, "start has only one coordinate"),
        (
            {"source_latitude_deg": 95.0, "source_longitude_deg": 0.0},
            "water source at 95, 0 is not on the globe",
        ),
    ],
)
def test_a_kit_that_cannot_be_is_refused(wrong, said):
    with pytest.raises(BadValue, match=said):
        WorkKit(**wrong)


@pytest.mark.parametrize(
    "kept",
    [
        "no json",
        "[]",
        json.dumps({"payload_kg": "heavy"}),
        json.dumps({"payload_kg": None}),
        json.dumps({"payload_kg": -1.0}),
        json.dumps({"by": "mule"}),
    ],
)
def test_a_kit_spoilt_by_another_program_is_told(logbook, kept):
    keep_setting(logbook, SETTING, kept)
    with pytest.raises(BadValue, match="enter it again"):
        work_kit(logbook)


def test_what_a_newer_version_keeps_besides_is_passed_over(logbook):
    keep_setting(logbook, SETTING, json.dumps({"payload_kg": 400.0, "colour": "red"}))
    assert work_kit(logbook) == WorkKit(payload_kg=400.0)


def test_a_source_without_place_is_at_the_start():
    kit = WorkKit(start_latitude_deg=40.0, start_longitude_deg=-80.0)
    assert kit.source.place == kit.start
