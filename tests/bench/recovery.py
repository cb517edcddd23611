"""How long a drowned animal keeps a tank out of use. Run: python -m tests.bench.recovery

The 110-gallon tank, full when a medium animal is found and taken out, by rain alone: the
world of `tests/store/contamination/test_recovery_of_the_trade.py` on three records. The
shares that mix were set on New York and Champion; nothing was tuned on the Shenandoah.
"""

from __future__ import annotations

import numpy as np

from tests.bench.places import table
from tests.store.contamination.test_recovery_of_the_trade import (
    CHAMPION,
    NEW_YORK,
    SHENANDOAH,
    days_waiting,
    outlooks,
)

HALF_A_YEAR_D = 183
NAMES = {NEW_YORK: "New York", CHAMPION: "Champion", SHENANDOAH: "Shenandoah"}


def row_of(record: tuple[str, float, float], apron_ft2: float) -> list[str]:
    """Days to the first use again, and the share that waits for half a year or more."""
    days = days_waiting(outlooks(record, apron_ft2))
    spread = np.quantile(days, (0.1, 0.5, 0.9), method="inverted_cdf")
    return [
        f"{NAMES[record]}, {apron_ft2:.0f} ft2",
        *("beyond 560" if np.isinf(day) else f"{day:.0f}" for day in spread),
        f"{100.0 * float((days >= HALF_A_YEAR_D).mean()):.0f}",
        str(len(days)),
    ]


def main() -> None:
    print("python -m tests.bench.recovery\n")
    rows = [row_of(record, apron) for record in NAMES for apron in (75.0, 150.0, 250.0)]
    head = ["record and apron", "10 %", "median", "90 %", "six months or more, %", "cases"]
    print(table(head, rows))


if __name__ == "__main__":
    main()
