"""What is hauled with, read from the texts of a form."""

import pytest

from store.errors import BadValue
from store.model.work_kit import WorkKit
from store.units import METRIC_UNITS, US_UNITS
from store.views.work_kit_fields import kit_fields, kit_from, kit_text, read_kit

KIT = WorkKit()


def texts(units, **typed):
    return {field.name: kit_text(KIT, field, units) for field in kit_fields(units)} | typed


@pytest.mark.parametrize("units", [US_UNITS, METRIC_UNITS])
def test_a_kit_left_as_it_was_is_the_same_to_the_last_bit(units):
    assert read_kit(KIT, texts(units), units).kit == KIT


def test_amounts_carry_their_own_units():
    read = read_kit(KIT, texts(US_UNITS, tank_l="150 L", drive_km_per_hour="30 km/h"), US_UNITS)
    assert read.kit is not None
    assert (read.kit.tank_l, read.kit.drive_km_per_hour) == (150.0, 30.0)


def test_every_field_that_is_wrong_is_told_at_once():
    typed = texts(
        US_UNITS,
        by="mule",
        payload_kg="0",
        tank_l="",
        tank_kg="2 m",
        detour="0.5",
        start_latitude_deg="40",
        source_latitude_deg="95",
        source_longitude_deg="-80",
    )
    read = read_kit(KIT, typed, US_UNITS)
    assert read.kit is None
    said = {
        "by": "no way to haul",
        "payload_kg": "must be more than 0",
        "tank_l": "Hauling tank is empty",
        "tank_kg": "'2 m' is not a number of lb, kg",
        "detour": "under 1",
        "start_latitude_deg": "only one coordinate",
        "source_latitude_deg": "not on the globe",
    }
    assert set(read.problems) == set(said)
    for name, words in said.items():
        assert words in read.problems[name]
    with pytest.raises(BadValue, match="no way to haul"):
        kit_from(KIT, typed, US_UNITS)


def test_numbers_that_fit_only_together_are_no_mistake():
    """A payload below the old tank's weight, with a lighter tank: neither is wrong."""
    alone = read_kit(KIT, texts(US_UNITS, payload_kg="40"), US_UNITS)
    together = read_kit(KIT, texts(US_UNITS, payload_kg="40", tank_kg="5"), US_UNITS)
    assert set(alone.problems) == {"payload_kg"}
    assert together.kit is not None
    assert together.kit.payload_kg == pytest.approx(40 * 0.45359237)
