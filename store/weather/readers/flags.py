"""The flags of GHCN-Daily values: which values are used and which are put aside.

Source: GHCN-Daily readme, section III (MFLAG, QFLAG), and the GHCN-Daily
documentation of the order service for the multi-day total.
"""

from __future__ import annotations

from dataclasses import dataclass

from store.weather.readers.assemble import counted

PRESUMED_ZERO = "P"
MULTI_DAY_TOTAL = "A"


@dataclass
class FlagCounts:
    """How many values were put aside, and why."""

    failed_quality: int = 0
    presumed_zero: int = 0
    multi_day: int = 0

    def usable(self, measurement: str, quality: str) -> bool:
        """Whether a value with these flags counts; if not, it is counted here."""
        if quality:
            self.failed_quality += 1
        elif measurement == PRESUMED_ZERO:
            self.presumed_zero += 1
        elif measurement == MULTI_DAY_TOTAL:
            self.multi_day += 1
        else:
            return True
        return False

    def notes(self) -> tuple[str, ...]:
        return (
            *counted(
                self.failed_quality,
                "value that failed the archive's quality checks was dropped",
                "values that failed the archive's quality checks were dropped",
            ),
            *counted(
                self.presumed_zero,
                "rain value only presumed zero (flag P) counts as missing",
                "rain values only presumed zero (flag P) count as missing",
            ),
            *counted(
                self.multi_day,
                "total of several days (flag A) was not used",
                "totals of several days (flag A) were not used",
            ),
        )
