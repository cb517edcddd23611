"""Component classes of the timeline and their styles; glyphs, not colours, carry the meaning."""

from __future__ import annotations

from tui.widgets.timeline_data import MARK_KINDS, SPAN_KINDS

CLASSES = {
    "timeline--cursor",
    "timeline--header",
    "timeline--level",
    "timeline--month",
    "timeline--name",
    "timeline--name-cursor",
    "timeline--shaded",
    "timeline--today",
    "timeline--window",
    *(f"timeline--mark-{kind}" for kind in MARK_KINDS),
    *(f"timeline--span-{kind}" for kind in SPAN_KINDS),
}

CSS = """
Timeline {
    height: 1fr;
    color: $foreground;
    & > .timeline--cursor { text-style: reverse; }
    & > .timeline--header { color: $foreground; }
    & > .timeline--month { color: $foreground 40%; }
    & > .timeline--level { color: $text-primary; }
    & > .timeline--name { color: $foreground; }
    & > .timeline--name-cursor { color: $foreground; text-style: bold; }
    & > .timeline--shaded { background: $foreground 10%; }
    & > .timeline--today { color: $text-accent; background: $foreground 15%; }
    & > .timeline--window { color: $text-primary; text-style: bold; }
    & > .timeline--mark-contamination { color: $text-error; text-style: bold; }
    & > .timeline--mark-chore { color: $foreground; text-style: bold; }
    & > .timeline--mark-reading { color: $text-success; }
    & > .timeline--mark-other { color: $foreground; }
    & > .timeline--span-contaminated { color: $text-error; }
    & > .timeline--span-overdue { color: $text-error; }
    & > .timeline--span-due { color: $text-warning; }
    & > .timeline--span-dry { color: $text-warning; }
    & > .timeline--span-low { color: $text-warning; }
    & > .timeline--span-skipped { color: $foreground 60%; }
    & > .timeline--span-covered { color: $foreground 80%; }
    & > .timeline--span-other { color: $foreground 80%; }
}
Timeline:ansi {
    color: ansi_default;
    & > .timeline--header { color: ansi_default; }
    & > .timeline--month { color: ansi_default; text-style: dim; }
    & > .timeline--level { color: ansi_default; }
    & > .timeline--shaded { background: ansi_default; }
    & > .timeline--name { color: ansi_default; }
    & > .timeline--name-cursor { color: ansi_default; }
    & > .timeline--today { color: ansi_default; background: ansi_default; }
    & > .timeline--window { color: ansi_default; }
    & > .timeline--mark-chore { color: ansi_default; }
    & > .timeline--mark-other { color: ansi_default; }
    & > .timeline--span-skipped { color: ansi_default; text-style: dim; }
    & > .timeline--span-covered { color: ansi_default; }
    & > .timeline--span-other { color: ansi_default; }
}
"""
