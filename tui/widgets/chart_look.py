"""Component classes of the level chart and their styles; glyphs carry the meaning."""

from __future__ import annotations

CLASSES = {
    "level-chart--axis",
    "level-chart--band",
    "level-chart--cursor",
    "level-chart--event",
    "level-chart--future",
    "level-chart--label",
    "level-chart--median",
    "level-chart--reading",
    "level-chart--readout",
    "level-chart--threshold",
    "level-chart--today",
}

CSS = """
LevelChart {
    height: 1fr;
    min-height: 6;
    color: $foreground;
    & > .level-chart--axis { color: $foreground 70%; }
    & > .level-chart--band { color: $foreground; background: $primary 35%; }
    & > .level-chart--cursor { text-style: reverse; }
    & > .level-chart--event { color: $text-warning; }
    & > .level-chart--future { color: $foreground 70%; }
    & > .level-chart--label { color: $foreground; text-style: italic; }
    & > .level-chart--median { color: $foreground; text-style: bold; }
    & > .level-chart--reading { color: $text-success; text-style: bold; }
    & > .level-chart--readout { color: $foreground; }
    & > .level-chart--threshold { color: $foreground 60%; }
    & > .level-chart--today { color: $text-accent; }
}
LevelChart:ansi {
    color: ansi_default;
    & > .level-chart--axis { color: ansi_default; }
    & > .level-chart--band { color: ansi_default; background: transparent; }
    & > .level-chart--event { color: ansi_default; }
    & > .level-chart--future { color: ansi_default; text-style: dim; }
    & > .level-chart--label { color: ansi_default; }
    & > .level-chart--median { color: ansi_default; }
    & > .level-chart--reading { color: ansi_default; }
    & > .level-chart--readout { color: ansi_default; }
    & > .level-chart--threshold { color: ansi_default; text-style: dim; }
    & > .level-chart--today { color: ansi_default; }
}
"""
