"""What a logbook file holds; the tables themselves are made by the migrations m001 on.

Every fact a person enters is a row of `entry` with one row of the table of its
kind. Entries are only ever added: triggers refuse to change or remove one, and
what replaces an entry names it in `revises`. Anchors (`tract`, `station`,
`contamination_event`, `weather_record`, `weather_file`) carry only an id, so
that facts can be revised while everything else keeps pointing at the same thing.
"""

from __future__ import annotations

from store.logbook.ddl import MIGRATIONS
from store.logbook.m001_first_logbook import FIRST_KINDS, FIRST_WORDS
from store.logbook.m002_recovery import RECOVERY_KINDS, RECOVERY_WORDS
from store.logbook.m003_outlook import OUTLOOK_KINDS
from store.logbook.m004_drinking import DRINKING_WORDS
from store.logbook.m005_season import SEASON_KINDS, SEASON_WORDS
from store.logbook.m006_site import SITE_KINDS
from store.logbook.m007_directions import m007_directions  # noqa: F401 - no kind, no words
from store.logbook.m008_two_undos import m008_two_undos  # noqa: F401 - no kind, no words
from store.logbook.m009_kept_settings import KEPT_KINDS
from store.logbook.m010_after_work import m010_after_work  # noqa: F401 - no kind, no words

APPLICATION_ID = 0x4252494D
"""SQLite's `application_id`, the letters BRIM: tells a logbook from other files."""

KINDS = (*FIRST_KINDS, *RECOVERY_KINDS, *OUTLOOK_KINDS, *SEASON_KINDS, *SITE_KINDS, *KEPT_KINDS)
WORD_TABLES = (*FIRST_WORDS, *RECOVERY_WORDS, *DRINKING_WORDS, *SEASON_WORDS)

MIGRATION_NAMES = frozenset(step.__name__ for step in MIGRATIONS)
"""Every migration this version knows: a file with others is of a newer version."""
