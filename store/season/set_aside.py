"""When an open prompt stands back: its person said so, or a visit would harm more than help.

The quiet weeks before, in and after heavy use are kept free of visits, unless the harm of
not going is larger; then the prompt says both.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from store.season.history import StationHistory
from store.season.prompt import OPEN_STATES, Prompt, PromptInputs, PromptState, days_of, plain_date
from store.season.windows import Season, Window
from store.vocabulary import Decision, PromptKind, WindowKind

NO_VISIT = frozenset({PromptKind.RUN_DRY})
"""Prompts that send nobody anywhere."""
ON_A_VISIT = frozenset({PromptKind.RAMP, PromptKind.CHECK})
"""What somebody who was there today could have seen to."""


def considered(
    prompt: Prompt, history: StationHistory, inputs: PromptInputs, season: Season, today: date
) -> Prompt:
    """The prompt as it stands after what its person said, today's visit, the quiet weeks."""
    if prompt.state not in OPEN_STATES:
        return prompt
    prompt = _answered(prompt, history, season, today)
    if prompt.state not in OPEN_STATES or prompt.state is PromptState.UPCOMING:
        return prompt
    if history.last_look == today and prompt.kind in ON_A_VISIT and not prompt.endangers:
        return _put_off(prompt, today + timedelta(days=1), "somebody was there today")
    return _in_quiet_weeks(prompt, inputs, season, today)


def _answered(prompt: Prompt, history: StationHistory, season: Season, today: date) -> Prompt:
    """As its person answered it last; what can kill an animal stays open all the same."""
    answers = [
        (on, answer)
        for on, answer in history.answers
        if answer.prompt is prompt.kind
        and (
            answer.event_id == prompt.event_id
            if prompt.event_id is not None
            else answer.asked == prompt.first
            if prompt.last is None
            else season.year_of(answer.asked) == season.year_of(prompt.first)
        )
    ]
    if not answers:
        return prompt
    on, answer = answers[-1]
    why = f": {answer.note}" if answer.note else ""
    if answer.decision is Decision.DECLINED and not prompt.endangers:
        text = f"{prompt.text} Declined on {plain_date(on)}{why}."
        return replace(prompt, state=PromptState.DECLINED, text=text)
    if answer.until is None or answer.until <= today:
        return prompt
    if prompt.endangers:
        return replace(prompt, text=f"{prompt.text} Put off to {plain_date(answer.until)}{why}.")
    return _put_off(prompt, answer.until, answer.note)


def _in_quiet_weeks(prompt: Prompt, inputs: PromptInputs, season: Season, today: date) -> Prompt:
    weeks = quiet_weeks_on(season, today)
    if weeks is None or prompt.kind in NO_VISIT:
        return prompt
    over = f"the quiet weeks last to {plain_date(weeks.last)}"
    lost = f"a visit now costs about {season.visit_days:.0f} days of use"
    if prompt.endangers:
        return replace(
            prompt, text=f"{prompt.text} Go all the same: {over} and {lost}, but an animal may die."
        )
    if prompt.kind is PromptKind.UNCOVER:
        text = f"{prompt.text} Go all the same: {over} and {lost}, but covered it serves nobody."
        return replace(prompt, text=text)
    brings = inputs.fill_gain_days
    if prompt.kind is not PromptKind.FILL or brings is None:
        return _put_off(prompt, weeks.last + timedelta(days=1), over)
    both = (
        f"the visit costs about {days_of(inputs.fill_costs_days)} of heavy use, the water brings "
        f"about {days_of(brings)}"
    )
    if brings > inputs.fill_costs_days:
        return replace(prompt, text=f"{prompt.text} Go all the same: {over}; {both}.")
    return _put_off(prompt, weeks.last + timedelta(days=1), f"{over}; {both}")


def quiet_weeks_on(season: Season, day: date) -> Window | None:
    """The quiet weeks a day lies in."""
    weeks = season.window(WindowKind.QUIET, season.year_of(day))
    return weeks if day in weeks else None


def _put_off(prompt: Prompt, until: date, why: str) -> Prompt:
    reason = f": {why}" if why else ""
    text = f"{prompt.text} Put off to {plain_date(until)}{reason}."
    return replace(prompt, state=PromptState.PUT_OFF, text=text, put_off_to=until)
