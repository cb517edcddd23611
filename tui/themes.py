"""The two looks of Brimbook: water, earth and warnings on dark soil or on light paper.

Colour only repeats what a word or a shape says. Water is blue, work and earth are ochre, what
endangers is a bluish red, which those who see no red or no green still tell from ochre.
"""

from textual.theme import Theme

WATER_DARK, EARTH_DARK, DANGER_DARK = "#4a9fd4", "#e3bd68", "#e8627f"
WATER_LIGHT, EARTH_LIGHT, DANGER_LIGHT = "#0b5c8a", "#7d5a00", "#99124f"

DARK = Theme(
    name="brimbook-dark",
    primary=WATER_DARK,
    secondary="#2c6e96",
    accent=EARTH_DARK,
    warning=EARTH_DARK,
    error=DANGER_DARK,
    success="#7fc8a9",
    foreground="#e6e3dc",
    background="#12140f",
    surface="#191c16",
    panel="#262b24",
    dark=True,
)
LIGHT = Theme(
    name="brimbook-light",
    primary=WATER_LIGHT,
    secondary="#3f86ad",
    accent=EARTH_LIGHT,
    warning=EARTH_LIGHT,
    error=DANGER_LIGHT,
    success="#1d6b4f",
    foreground="#1e211b",
    background="#f7f4ec",
    surface="#efebe0",
    panel="#e0dacb",
    dark=False,
)
