"""Dragging the zero of the rulers to a place of the bed."""

from collections.abc import Callable
from typing import Final

from geometry.tongue import tr
from geometry.units import format_length
from layout_gui.canvas.gestures import Table, Touch
from layout_gui.canvas.guide_lines import guide_place
from layout_gui.canvas.snapping import Guide

Show = Callable[[tuple[Guide, ...]], None]

_NOTHING: Final[tuple[Guide, ...]] = ()


class DragZero:
    """Drag from the corner where the rulers meet: the rulers count from the pointer on."""

    def __init__(self, table: Table, show: Show) -> None:
        self._table = table
        self._show = show
        self._bed = table.places.bed_plan.bed.name
        self._before = table.aids.zero(self._bed)

    def move(self, touch: Touch) -> None:
        """Count from here; it snaps as a guide line does."""
        table = self._table
        x, x_words = guide_place(table, "x", touch)
        y, y_words = guide_place(table, "y", touch)
        table.aids.set_zero(self._bed, (x, y))
        left, bottom, right, top = table.places.box
        word = tr("zero")
        self._show(
            (
                Guide("x", x.mm, min(bottom, y.mm), max(top, y.mm), word, y.mm),
                Guide("y", y.mm, min(left, x.mm), max(right, x.mm), "", x.mm),
            )
        )
        table.surface.show_snapped(", ".join(dict.fromkeys(w for w in (x_words, y_words) if w)))
        table.surface.say(
            tr(
                "The rulers begin at x {x}, y {y} · Alt: free, Esc: back",
                x=format_length(x.exact, table.unit),
                y=format_length(y.exact, table.unit),
            )
        )

    def release(self) -> None:
        """Leave it where it is."""
        self._show(_NOTHING)
        self._table.surface.show_snapped("")

    def cancel(self) -> None:
        """Put it back where it was."""
        self._table.aids.set_zero(self._bed, self._before)
        self.release()
