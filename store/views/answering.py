"""What a person can say to a prompt where it is asked: done, put off, declined."""

from __future__ import annotations

from datetime import date, timedelta

from store.errors import BadValue
from store.model.snapshot import Snapshot
from store.records import Chore, Draft, PromptAnswer, RampCheck
from store.season.prompt import WORK, Prompt, plain_date
from store.vocabulary import ChoreKind, Decision, PromptKind

CHORE_OF: dict[PromptKind, ChoreKind] = {
    PromptKind.FILL: ChoreKind.FILL,
    PromptKind.RAKE: ChoreKind.RAKE,
    PromptKind.INSTALL: ChoreKind.INSTALL,
    PromptKind.UNCOVER: ChoreKind.UNCOVER,
    PromptKind.COVER: ChoreKind.COVER,
    PromptKind.BEARS: ChoreKind.COVER,
}
"""The chore that does what is asked."""
LONGEST_DAYS = 366


def done_draft(snapshot: Snapshot, prompt: Prompt, volume_l: float | None = None) -> Draft | None:
    """The entry that says today it was done; None where more must be said than that.

    `volume_l` is the water a fill brought, None to the rim.
    """
    chore = CHORE_OF.get(prompt.kind)
    if chore is not None:
        return Draft(snapshot.today, Chore(prompt.station_id, chore, volume_l))
    if prompt.kind is PromptKind.RAMP:
        return Draft(snapshot.today, RampCheck(prompt.station_id, in_place=True))
    return None


def put_off_draft(snapshot: Snapshot, prompt: Prompt, until: date, note: str = "") -> Draft:
    """The entry that puts a prompt off.

    Raises:
        BadValue: the day is not ahead, or more than a year on.
    """
    until = within_a_year(until, snapshot.today)
    return _answer(snapshot, prompt, Decision.PUT_OFF, until, note)


def within_a_year(until: date, said_on: date) -> date:
    """The day work is put off to, as long as it can be put off so far.

    Raises:
        BadValue: it is not after the day that is said on, or more than a year on.
    """
    if not said_on < until <= said_on + timedelta(days=LONGEST_DAYS):
        raise BadValue(
            f"{plain_date(until)} is not within the year to come; choose a day from tomorrow on."
        )
    return until


def declined_draft(snapshot: Snapshot, prompt: Prompt, note: str = "") -> Draft:
    """The entry that declines a prompt for this season.

    Raises:
        BadValue: it asks for what can kill an animal.
    """
    if prompt.endangers:
        raise BadValue(
            f"{WORK[prompt.kind]}: an animal may die of it, so it cannot be declined; put it off "
            "to the day you go."
        )
    return _answer(snapshot, prompt, Decision.DECLINED, None, note)


def _answer(
    snapshot: Snapshot, prompt: Prompt, decision: Decision, until: date | None, note: str
) -> Draft:
    said = PromptAnswer(
        prompt.station_id, prompt.kind, prompt.first, decision, until, note, prompt.event_id
    )
    return Draft(snapshot.today, said)
