"""Zones by hand: drawn as a rectangle, picked up at the outline and put elsewhere."""

from collections.abc import Callable
from math import hypot
from typing import Final

from PySide6.QtCore import QRectF

from geometry.errors import GeometryError
from geometry.model.outlines import Rectangle
from geometry.tongue import tr
from geometry.units import Length, Unit, format_length
from layout_gui.canvas.gestures import THRESHOLD_PX, Table, Touch
from layout_gui.canvas.zone_items import Zones
from layout_gui.project import edits

_STEPS_MM: Final[dict[Unit, float]] = {"mm": 1.0, "cm": 1.0, "in": 25.4 / 16}
"""Zones stand on these steps while they are drawn or dragged."""

_TIMES: Final = "\N{MULTIPLICATION SIGN}"


class DrawZone:
    """Drag a rectangle: what it covers becomes a zone."""

    def __init__(self, table: Table, touch: Touch, done: Callable[[], None]) -> None:
        self._table = table
        self._start = touch
        self._done = done

    def move(self, touch: Touch) -> None:
        """Open the rectangle and say its size."""
        left, bottom, right, top = self._box(touch)
        surface, unit = self._table.surface, self._table.unit
        surface.show_band(QRectF(left, bottom, right - left, top - bottom))
        sizes = f"{format_length(right - left, unit)} {_TIMES} {format_length(top - bottom, unit)}"
        surface.say(tr("New zone {sizes} · let go: that is it, Esc: leave it", sizes=sizes))

    def release(self, touch: Touch) -> None:
        """Make the zone; a click without a drag leaves the tool in hand."""
        table = self._table
        table.surface.show_band(None)
        left, bottom, right, top = self._box(touch)
        if min(right - left, top - bottom) < 2 * THRESHOLD_PX * touch.pixel_mm:
            table.surface.say(tr("Drag from one corner of the zone to the other · Esc: leave it"))
            return
        self._done()
        shape = Rectangle(_length(right - left), _length(top - bottom))
        bed = table.places.bed_plan.bed.name
        try:
            zone = edits.fresh_zone(
                edits.find_bed(table.document.project, bed),
                shape=shape,
                corner=(_length(left), _length(bottom)),
            )
            project = edits.add_zone(table.document.project, bed, zone)
        except GeometryError as error:
            table.surface.say(str(error))
            return
        table.document.apply(tr("Draw zone {name}", name=zone.name), project)
        table.selection.set_zone(zone.name)

    def cancel(self) -> None:
        """Put the tool away."""
        self._table.surface.show_band(None)
        self._done()

    def _box(self, touch: Touch) -> tuple[float, float, float, float]:
        step = _STEPS_MM[self._table.unit]
        left, right = sorted(_stepped(x, step) for x in (self._start.x, touch.x))
        bottom, top = sorted(_stepped(y, step) for y in (self._start.y, touch.y))
        return left, bottom, right, top


class MoveZone:
    """Press on the outline of a zone: a click selects it, a drag moves it."""

    def __init__(self, table: Table, zones: Zones, name: str, touch: Touch) -> None:
        self._table = table
        self._zones = zones
        self._name = name
        self._start = touch
        self._is_dragged = False
        table.selection.set_zone(name)

    def move(self, touch: Touch) -> None:
        """Show where the outline goes."""
        away = hypot(touch.x - self._start.x, touch.y - self._start.y)
        if not self._is_dragged and away < THRESHOLD_PX * touch.pixel_mm:
            return
        self._is_dragged = True
        dx, dy = self._way(touch)
        self._zones.show_moved(self._name, dx, dy)
        unit = self._table.unit
        self._table.surface.say(
            tr(
                "Zone {name} moved by x {dx}, y {dy} · Shift: straight, Esc: back",
                name=self._name,
                dx=format_length(dx, unit),
                dy=format_length(dy, unit),
            )
        )

    def release(self, touch: Touch) -> None:
        """Make the move an undo step."""
        if not self._is_dragged:
            return
        dx, dy = self._way(touch)
        self._zones.show_moved("", 0, 0)
        move_zone(self._table, self._name, dx, dy)

    def cancel(self) -> None:
        """Leave the zone where it was."""
        self._zones.show_moved("", 0, 0)

    def _way(self, touch: Touch) -> tuple[float, float]:
        step = _STEPS_MM[self._table.unit]
        dx = _stepped(touch.x - self._start.x, step)
        dy = _stepped(touch.y - self._start.y, step)
        if touch.shift:
            return (dx, 0.0) if abs(dx) >= abs(dy) else (0.0, dy)
        return dx, dy


def move_zone(table: Table, name: str, dx: float, dy: float, merge_key: str | None = None) -> None:
    """Move a zone as an undo step; why it cannot be is said."""
    bed = table.places.bed_plan.bed.name
    try:
        project = edits.move_zone(table.document.project, bed, name, dx, dy)
    except GeometryError as error:
        table.surface.say(str(error))
        return
    table.document.apply(tr("Move zone {name}", name=name), project, merge_key=merge_key)


def _stepped(mm: float, step: float) -> float:
    return round(mm / step) * step


def _length(mm: float) -> Length:
    return Length.rounded(mm)
