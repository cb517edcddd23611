"""Finding texts by their words."""

import pytest

from store.logbook.word_index import places_of, word_index

TEXTS = ('Two does at dusk; "mind" the wasps\' nest', "Façade cracked NEAR the ramp", "A doe")


@pytest.mark.parametrize(
    ("asked", "places"),
    [
        ("doe", [0, 2]),
        ("DOES dusk", [0]),
        ("facade", [1]),
        ("near ramp", [1]),
        ("wasps'", [0]),
        ('"mind"', [0]),
        ("ramp* OR doe", []),
        ("moose", []),
        ("", [0, 1, 2]),
        ("- *", [0, 1, 2]),
    ],
)
def test_every_word_asked_for_is_in_what_is_found(asked, places):
    assert places_of(word_index(TEXTS), asked) == places


def test_nothing_is_found_in_nothing():
    assert places_of(word_index([]), "doe") == []
