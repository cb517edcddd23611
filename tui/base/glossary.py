"""What the words on the screens mean, in one place."""

GLOSSARY = (
    ("apron", "the sculpted soil around a tank that drains into it; raked out in April"),
    (
        "at risk",
        "not likely enough to hold through heavy use, by the limit of its tract",
    ),
    ("band", "the levels that the water stands between in 8 of 10 courses it may have taken"),
    ("check-in", "what you saw on one day: the rain gauges you keep, then tank by tank"),
    ("doubted reading", "a reading far from what rain and use explain; it counts less"),
    ("due", "work whose time has come; put off or declined, it stands back"),
    ("DRY", "no water an animal can reach"),
    ("fill", "water that is hauled to a tank; top up: a fill in mid-October"),
    ("fouled", "a drowned animal, an additive or bears; the day is when animals use it again"),
    ("heavy use", "the weeks in which animals drink most, late October to early November"),
    ("holds", "the chance that a tank holds water through the heavy-use weeks, with no visit"),
    ("modeled", "worked out from weather, use and your readings; nobody looked"),
    ("quiet weeks", "weeks in which no walk-in is asked for that can wait; scent costs use"),
    ("ramp", "what an animal that falls in climbs out by; every tank needs one"),
    ("reading", "a level that somebody saw: measured from the rim, or a mark by eye"),
    ("rim", "the upper edge of the tank, at ground level; depths are measured down from it"),
    ("wanted by", "the day by which a tank should hold water for the season"),
)
