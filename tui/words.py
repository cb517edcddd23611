"""How dates, levels and amounts are written on every screen."""

from __future__ import annotations

from datetime import date

from store.units import Units

UNKNOWN = "-"
HALF_A_YEAR = 183


def short_day(day: date | None, today: date) -> str:
    """`12 Apr` in the same season, `Apr'24` farther away: at most six characters."""
    if day is None:
        return UNKNOWN
    return f"{day.day} {day:%b}" if abs((day - today).days) < HALF_A_YEAR else f"{day:%b'%y}"


def full_day(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"


def days_ago(days: int | None) -> str:
    if days is None:
        return "never"
    return {0: "today", 1: "1 day ago"}.get(days, f"{days} days ago")


def percent(share: float) -> str:
    return f"{100.0 * share:.0f}%"


def volume(litres: float, units: Units) -> str:
    return f"{units.volume(litres):.0f} {units.volume_name}"


def depth(mm: float, units: Units) -> str:
    return f"{units.depth(mm):.1f} {units.depth_name}"


def span(high_mm: float, low_mm: float, units: Units) -> str:
    """A band of depths, the fuller edge first."""
    return f"{units.depth(high_mm):.1f} to {units.depth(low_mm):.1f} {units.depth_name}"


def rain(mm: float, units: Units) -> str:
    digits = 2 if units.rain_name == "in" else 1
    return f"{units.rain(mm):.{digits}f} {units.rain_name}"


def area(m2: float, units: Units) -> str:
    return f"{units.area(m2):.0f} {units.area_name}"
