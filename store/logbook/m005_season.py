"""The season of a tract as its keeper sets it, and what people say to prompts."""

from __future__ import annotations

from store.logbook.connection import Connection
from store.logbook.ddl import STATION, detail, keep, migration, new_kinds, run, word_tables

SEASON_KINDS = ("season_window", "season_limit", "prompt_answer")
SEASON_WORDS = {
    "window_kind": ("rake", "install", "ready", "fill", "quiet weeks", "heavy use", "winter"),
    "limit_kind": ("fill below", "dry chance", "visit days", "ramp days"),
    "prompt_kind": (
        "ramp",
        "contamination",
        "fill",
        "run dry",
        "check",
        "rake",
        "install",
        "uncover",
        "cover",
        "bears",
    ),
    "decision": ("put off", "declined"),
}
_TRACT = "tract_id TEXT NOT NULL REFERENCES tract (tract_id)"
_MONTH_DAY = "{0} TEXT NOT NULL CHECK ({0} IS strftime('%m-%d', '2024-' || {0}, '+0 days'))"


@migration
def m005_season(db: Connection) -> None:
    run(
        db,
        word_tables(SEASON_WORDS)
        + new_kinds(SEASON_KINDS)
        + detail(
            "season_window",
            f"""
            {_TRACT},
            window TEXT NOT NULL REFERENCES window_kind (word),
            {_MONTH_DAY.format("first")},
            {_MONTH_DAY.format("last")}
            """,
        )
        + detail(
            "season_limit",
            f"""
            {_TRACT},
            "limit" TEXT NOT NULL REFERENCES limit_kind (word),
            value REAL NOT NULL CHECK (value >= 0)
            """,
        )
        + detail(
            "prompt_answer",
            f"""
            {STATION},
            prompt TEXT NOT NULL REFERENCES prompt_kind (word),
            asked TEXT NOT NULL CHECK (asked IS date(asked, '+0 days')),
            decision TEXT NOT NULL REFERENCES decision (word),
            until TEXT CHECK (until IS NULL OR until IS date(until, '+0 days')),
            note TEXT NOT NULL,
            event_id TEXT REFERENCES contamination_event (event_id),
            CHECK ((decision = 'put off') = (until IS NOT NULL))
            """,
        ),
    )
    keep(db, SEASON_KINDS)
