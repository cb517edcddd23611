"""What was found when a site was looked at before a tank was dug in."""

from __future__ import annotations

from store.logbook.connection import Connection
from store.logbook.ddl import STATION, detail, keep, migration, new_kinds, run

SITE_KINDS = ("site_check",)
_POINTS = (
    *("rim", "bank", "approach", "hollow", "plot"),
    *("dull", "ramp", "bears", "pressure", "asked"),
)


@migration
def m006_site(db: Connection) -> None:
    columns = ", ".join(f"{point} INTEGER CHECK ({point} IN (0, 1))" for point in _POINTS)
    run(
        db,
        new_kinds(SITE_KINDS) + detail("site_check", f"{STATION}, {columns}, note TEXT NOT NULL"),
    )
    keep(db, SITE_KINDS)
