"""The cross-section of a tank."""

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from tui.widgets.tank_picture import RAMP, tank_picture


def lines(share: float | None, width: int, height: int, **facts: bool) -> list[str]:
    return tank_picture(share, width, height, **facts).plain.split("\n")


def test_half_full_tank() -> None:
    assert lines(0.5, 13, 6, ramp=False) == [
        "▁▁▁       ▁▁▁",
        "▒▒│no ramp│▒▒",
        "▒▒│       │▒▒",
        "▒▒│███████│▒▒",
        "▒▒│███████│▒▒",
        "▒▒└───────┘▒▒",
    ]


def test_missing_and_unknown_ramp_are_said_in_words() -> None:
    assert "no ramp" in lines(0.5, 20, 6, ramp=False)[1]
    assert "ramp ?" in lines(0.5, 20, 6)[1]
    assert not any("ramp" in line for line in lines(0.5, 20, 6, ramp=True))


def test_ramp_reaches_from_the_rim_to_the_bottom() -> None:
    assert all(RAMP in line for line in lines(0.5, 20, 7, ramp=True)[1:-1])


def test_ice_lies_on_the_surface_only() -> None:
    picture = lines(0.5, 20, 6, ramp=True, ice=True)
    assert [("≡" in line) for line in picture] == [False, False, False, True, False, False]
    assert not any("≡" in line for line in lines(0.0, 20, 6, ice=True))


def test_cover_and_unknown_level() -> None:
    assert "═" in lines(1.0, 20, 6, covered=True)[0]
    unknown = lines(None, 20, 6, ramp=True)
    assert any("?" in line for line in unknown)
    assert not any("█" in line for line in unknown)


@given(
    share=st.none() | st.floats(-1, 2),
    width=st.integers(1, 60),
    height=st.integers(1, 20),
    ramp=st.sampled_from([True, False, None]),
    ice=st.booleans(),
    covered=st.booleans(),
)
def test_every_line_is_as_wide_as_asked(
    share: float | None, width: int, height: int, ramp: bool | None, ice: bool, covered: bool
) -> None:
    picture = tank_picture(share, width, height, ramp=ramp, ice=ice, covered=covered)
    drawn = picture.plain.split("\n")
    assert len(drawn) == max(height, 4)
    assert {cell_len(line) for line in drawn} == {max(width, 11)}


def test_the_scale_stands_beside_rim_surface_and_bottom() -> None:
    def said(share: float | None) -> dict[str, int]:
        picture = tank_picture(share, 13, 6, scale=("rim", "water", "bottom"))
        rows = picture.plain.split("\n")
        return {row[13:].strip(): number for number, row in enumerate(rows) if row[13:].strip()}

    assert said(1.0) == {"rim": 0, "water": 1, "bottom": 5}
    assert said(0.5) == {"rim": 0, "water": 3, "bottom": 5}
    assert said(0.0) == {"rim": 0, "water": 4, "bottom": 5}
    assert said(None) == {"rim": 0, "bottom": 5}
