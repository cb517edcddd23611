"""Every table of the README, one after the other: `python -m tests.bench`."""

from tests.bench import (
    decisions,
    drinking_worlds,
    facts,
    haul,
    hindcast,
    recovery,
    sensitivity,
    speed,
    twins,
)

for bench in (
    twins,
    drinking_worlds,
    decisions,
    hindcast,
    sensitivity,
    facts,
    recovery,
    haul,
    speed,
):
    print(f"\n## {bench.__name__.rpartition('.')[2]}\n", flush=True)
    bench.main()
