"""How days, marks, chances, amounts and cautions are written on every screen."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from rich.text import Text

from store.records import Entry
from store.season.cautions import (
    Caution,
    danger_first,
    in_words_of_the_job,
    water_and_weight,
)
from store.season.look import LookValue
from store.season.prompt import WORK, Prompt, PromptState, days_of
from store.units import Units
from store.vocabulary import LevelMark

UNKNOWN = "-"
OUT_OF_SIGHT = "not within a year"
BEYOND = "later"
"""A date farther than the model looks ahead, where there is room for no more."""
HALF_A_YEAR = 183
LEAST_DAYS = 0.5
SHORT_MARKS = {
    LevelMark.FULL: "full",
    LevelMark.THREE_QUARTERS: "3/4",
    LevelMark.HALF: "1/2",
    LevelMark.QUARTER: "1/4",
    LevelMark.DRY: "dry",
}
"""Levels by eye where there is room for no more."""
LOCAL_RULES = "Local codes and the wildlife agency's rules go first."
_STATE_MARKS = {
    PromptState.OVERDUE: "!",
    PromptState.DUE: "*",
    PromptState.PUT_OFF: ">",
    PromptState.DECLINED: "x",
}


def state_mark(state: PromptState) -> str:
    """The mark of a state, so that colour never tells it alone."""
    return _STATE_MARKS.get(state, " ")


def prompt_mark(prompt: Prompt) -> str:
    """The mark of a prompt's state; a danger is marked as if it were overdue."""
    return "!" if prompt.endangers else state_mark(prompt.state)


def day_month(day: date) -> str:
    return f"{day.day} {day:%b}"


def plain_day(day: date | None) -> str:
    return OUT_OF_SIGHT if day is None else f"{day_month(day)} {day.year}"


def full_day(day: date) -> str:
    return f"{day:%a} {plain_day(day)}"


def short_day(day: date | None, today: date, unknown: str = UNKNOWN) -> str:
    """`12 Apr` in the same season, `Apr'24` farther away: at most six characters."""
    if day is None:
        return unknown
    return day_month(day) if abs((day - today).days) < HALF_A_YEAR else f"{day:%b'%y}"


def moment(entry: Entry) -> str:
    """When an entry was written, by the clock of this place."""
    written = entry.written_utc.astimezone()
    return f"{plain_day(written.date())} {written:%H:%M}"


def days_ago(days: int | None) -> str:
    if days is None:
        return "never"
    return {0: "today", 1: "1 day ago"}.get(days, f"{days} days ago")


def percent(share: float) -> str:
    return f"{100.0 * share:.0f}%"


def chance(share: float | None) -> str:
    """A chance as text; never 0 or 100, for the courses it is counted in are a sample."""
    if share is None:
        return UNKNOWN
    if share < 0.005:
        return "<1%"
    return ">99%" if share > 0.995 else percent(share)


def volume(litres: float, units: Units) -> str:
    return f"{units.volume(litres):.0f} {units.volume_name}"


def brought(units: Units) -> str:
    """The label of a field for the water brought."""
    return f"{units.volume_name} brought (Enter: full)"


def depth(mm: float, units: Units) -> str:
    return f"{units.depth(mm):.1f} {units.depth_name}"


def span(high_mm: float, low_mm: float, units: Units) -> str:
    """A band of depths, the fuller edge first."""
    return f"{units.depth(high_mm):.1f} to {units.depth(low_mm):.1f} {units.depth_name}"


def rain(mm: float, units: Units) -> str:
    digits = 2 if units.rain_name == "in" else 1
    return f"{units.rain(mm):.{digits}f} {units.rain_name}"


def level_read(
    mark: LevelMark | None, below_rim_mm: float | None, units: Units, *, short: bool = False
) -> str:
    """A level as somebody read it: by eye, or else how far below the rim."""
    if mark is not None:
        return SHORT_MARKS[mark] if short else mark.value
    below = depth(below_rim_mm or 0.0, units)
    return below if short else f"{below} below the rim"


def area(m2: float, units: Units) -> str:
    return f"{units.area(m2):.0f} {units.area_name}"


def work(prompt: Prompt, units: Units) -> str:
    """What a prompt asks for, with the water it takes and the weight of that."""
    if not prompt.volume_l:
        return prompt.text
    return f"{prompt.text} {water(prompt.volume_l, units).capitalize()}."


def water(litres: float, units: Units) -> str:
    """An amount of water and what it weighs: 132 gal, 1,101 lb."""
    return water_and_weight(litres, units)


def look(value: LookValue | None, prompts: Sequence[Prompt] = ()) -> str:
    """What a look at a tank is worth against what its visit costs; first the work that is due."""
    due = [one for one in prompts if one.state in (PromptState.OVERDUE, PromptState.DUE)]
    worth = _worth_of_a_look(value, away=not due)
    return f"Due: {WORK[due[0].kind].lower()}. {worth}" if due else worth


def _worth_of_a_look(value: LookValue | None, *, away: bool) -> str:
    """The same of the level alone; `away` where no work calls for a visit."""
    if value is None:
        return "Nothing hangs on a look at the level now."
    saves, costs = days_of(value.saves_days), days_of(value.costs_days)
    if value.worth_it:
        return (
            f"Go and look: it could save about {saves} with water in the heavy-use weeks; the "
            f"visit costs about {costs} of use."
        )
    if value.saves_days < LEAST_DAYS:
        said = "nothing you would see of the level changes what to do."
    elif away:
        said = f"a look could save about {saves} with water, and costs about {costs} of use."
    else:
        said = f"a look saves about {saves}, costs about {costs} of use."
    return f"Stay away: {said}" if away else f"{said[0].upper()}{said[1:]}"


def of_this_job(
    cautions: Iterable[Caution], litres: float | None, units: Units
) -> tuple[Caution, ...]:
    """Bodily danger first, each once, and hauling with the water of this job where known."""
    return in_words_of_the_job(danger_first(cautions), units, litres)


def caution_text(caution: Caution, *, sources: bool = False) -> Text:
    source = f" [{caution.source}]" if sources else ""
    return Text.assemble((f"{caution.subject}: ", "bold"), caution.text, (source, "dim"))
