"""Whether the colours can be read, and told apart by people who see colours otherwise."""

from itertools import combinations

import numpy as np
import pytest
from textual.theme import Theme

from store.weather.days import FloatArray
from tui.themes import DARK, LIGHT

MACHADO = {
    "no red cones": [
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ],
    "no green cones": [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ],
    "all cones": np.eye(3).tolist(),
}
"""Machado, Oliveira and Fernandes 2009, IEEE TVCG 15(6):1291, severity 1; values from memory."""


def linear(colour: str | None) -> FloatArray:
    """Linear RGB of `#rrggbb`, IEC 61966-2-1."""
    assert colour is not None
    share = np.array([int(colour[at : at + 2], 16) for at in (1, 3, 5)]) / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def contrast(one: str | None, other: str | None) -> float:
    """W3C, WCAG 2.1, contrast ratio."""
    light, dark = sorted(
        (float(linear(colour) @ (0.2126, 0.7152, 0.0722)) + 0.05 for colour in (one, other)),
        reverse=True,
    )
    return light / dark


def lab(rgb: FloatArray) -> FloatArray:
    """CIE 1976 L*a*b* of linear RGB under D65, IEC 61966-2-1."""
    to_xyz = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    white = np.array([0.9505, 1.0, 1.089])
    x, y, z = np.cbrt(np.clip(to_xyz @ rgb, 0.0, None) / white)
    return np.array([116 * y - 16, 500 * (x - y), 200 * (y - z)])


THEMES = pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)


@THEMES
def test_words_stand_out(theme: Theme) -> None:
    """WCAG 2.1, 1.4.3: 4.5 to 1 for words; 1.4.11: 3 to 1 for what is drawn."""
    for ground in (theme.background, theme.surface, theme.panel):
        assert contrast(theme.foreground, ground) >= 4.5
        for drawn in (theme.primary, theme.accent, theme.error, theme.success):
            assert contrast(drawn, ground) >= 3.0, (drawn, ground)
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


@THEMES
@pytest.mark.parametrize("eyes", MACHADO)
def test_water_earth_and_danger_are_told_apart(theme: Theme, eyes: str) -> None:
    """Some ten times the least difference that is seen in CIE 1976, about 2.3."""
    seen = {
        colour: lab(np.clip(MACHADO[eyes] @ linear(colour), 0.0, 1.0))
        for colour in (theme.primary, theme.accent, theme.error)
    }
    for one, other in combinations(seen, 2):
        assert np.linalg.norm(seen[one] - seen[other]) > 20, (one, other)
