"""Turns painted canvases into strips in the component styles of a widget."""

from __future__ import annotations

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets.canvas import INVERSE, UNDERLINED, Canvas
from tui.widgets.plain_filter import in_plain_signs

FEW_COLOURS = "-few-colours"
"""The class of an application whose terminal shows sixteen colours or fewer."""


class Inks:
    """Styles by the names of ink and ground, which are component classes of `widget`.

    An ink named like a ground (one of `grounds`) draws in the colour of that ground.
    """

    def __init__(self, widget: Widget, prefix: str, grounds: tuple[str, ...] = ()) -> None:
        self._widget = widget
        self._prefix = prefix
        self._grounds = grounds
        self._styles: dict[tuple[str, str], Style] = {}

    def clear(self) -> None:
        """Forget every style, as after a change of theme."""
        self._styles.clear()

    @property
    def without_grounds(self) -> bool:
        """Whether grounds cannot be relied on: few colours or none, the terminal's own palette,
        or signs so plain that the edge of a ground cannot be drawn."""
        app = self._widget.app
        few = app.no_color or app.native_ansi_color or app.has_class(FEW_COLOURS)
        return few or in_plain_signs(self._widget)

    def style(self, ink: str, ground: str = "") -> Style:
        if (ink, ground) not in self._styles:
            self._styles[ink, ground] = self._composed(ink, ground)
        return self._styles[ink, ground]

    def strip(self, canvas: Canvas, y: int) -> Strip:
        """Row `y` of `canvas`."""
        runs = canvas.runs(y)
        return Strip(
            [Segment(run.text, self.style(run.ink, run.ground)) for run in runs], canvas.width
        )

    def with_cursor(self, strip: Strip, x: int, upright: str = "", through: str = "") -> Strip:
        """`strip` with cell `x` in the cursor's style; unchanged where there is no such cell.

        Where the cell holds one of the glyphs `through`, it becomes `upright` instead.
        """
        if not 0 <= x < strip.cell_length:
            return strip
        before, cell, after = strip.divide((x, x + 1, strip.cell_length))
        marking = self._widget.get_component_rich_style(f"{self._prefix}--cursor", partial=True)
        marked = []
        for text, style, _ in cell:
            own = style or Style()
            if text in through:
                marked.append(Segment(upright, own + Style(color=self.style("").color, bold=True)))
            else:
                marked.append(Segment(text, own + marking))
        return Strip.join((before, Strip(marked, 1), after))

    def _composed(self, ink: str, ground: str) -> Style:
        plain = self._widget.rich_style
        own = ink.removeprefix(UNDERLINED)
        style = self._component(own.removesuffix(INVERSE)) if own else plain
        if own.removesuffix(INVERSE) in self._grounds and not self.without_grounds:
            front, back = style.bgcolor, plain.bgcolor
            return (
                Style(color=back, bgcolor=front)
                if own.endswith(INVERSE)
                else Style(color=front, bgcolor=back)
            )
        if ground:
            style += Style(bgcolor=self._component(ground).bgcolor)
        return style + Style(underline=True) if ink.startswith(UNDERLINED) else style

    def _component(self, name: str) -> Style:
        return self._widget.get_component_rich_style(f"{self._prefix}--{name}")
