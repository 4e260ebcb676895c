"""Guide lines on the canvas: how they look, and how one is dragged out of a ruler or along."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Final

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from geometry.errors import GeometryError
from geometry.model.guide_line import Axis, GuideLine
from geometry.tongue import tr
from geometry.units import MM_PER, TOLERANCE_MM, Length, Unit, format_length
from layout_gui.canvas.gestures import REACH_PX, THRESHOLD_PX, Table, Touch
from layout_gui.canvas.overlay import Overlay
from layout_gui.canvas.snapping import GRID_MM, snap_words
from layout_gui.canvas.tones import Tones, hairline, paint_with_halo, small_font
from layout_gui.canvas.typed import TypedSizes
from layout_gui.project import edits_guide_lines as edits

GRASP_PX: Final = 5.0
"""A press so near a guide line takes hold of it."""

_DASHES: Final = (12.0, 3.0, 2.0, 3.0)
_LOCK_PX: Final = 4.0


class GuideLines(Overlay):
    """Long dashes and dots across all that is seen; the picked one is solid, locked ones barred."""

    margin_px = 0

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._lines: tuple[GuideLine, ...] = ()
        self._picked: GuideLine | None = None
        self._moving: GuideLine | None = None
        self._unit: Unit = "mm"

    def show_lines(
        self, lines: tuple[GuideLine, ...], picked: GuideLine | None, unit: Unit, seen: QRectF
    ) -> None:
        """Show these lines across the part of the bed in sight."""
        self._lines, self._picked, self._unit = lines, picked, unit
        if lines or self._moving or not self.extent.isNull():
            self.cover(seen)

    def show_moving(self, line: GuideLine | None, seen: QRectF) -> None:
        """Show where a line is dragged to; None when none is."""
        self._moving = line
        self.cover(seen if line or self._lines else QRectF())

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the lines; the picked one and the one on the move tell their places."""
        to_screen = painter.worldTransform()
        box = to_screen.mapRect(self.extent)
        painter.save()
        painter.resetTransform()
        painter.setFont(small_font())
        for line in (*self._lines, *([self._moving] if self._moving else [])):
            is_told = line in (self._picked, self._moving)
            pen = hairline(self.tones.datum, 2.2 if is_told else 1.4)
            if not is_told:
                pen.setDashPattern(list(_DASHES))
            painter.setPen(pen)
            if line.axis == "x":
                at = to_screen.map(QPointF(line.at.mm, 0)).x()
                painter.drawLine(QLineF(at, box.top(), at, box.bottom()))
                mark, word = QPointF(at, box.top() + 12), QPointF(at + 6, box.top() + 28)
            else:
                at = to_screen.map(QPointF(0, line.at.mm)).y()
                painter.drawLine(QLineF(box.left(), at, box.right(), at))
                mark, word = QPointF(box.left() + 12, at), QPointF(box.left() + 22, at - 6)
            if line.locked:
                painter.setPen(hairline(self.tones.datum, 2))
                painter.setBrush(self.tones.surface)
                side = 2 * _LOCK_PX
                painter.drawRect(QRectF(mark.x() - _LOCK_PX, mark.y() - _LOCK_PX, side, side))
            if is_told:
                text = format_length(line.at.exact, self._unit)
                paint_with_halo(painter, text, word, self.tones.accent, self.tones.surface)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.restore()


class DragGuideLine:
    """Dragging a guide line: out of a ruler, along, or back into its ruler, where it goes away."""

    def __init__(
        self,
        table: Table,
        line: GuideLine,
        *,
        start: Touch | None,
        show: Callable[[GuideLine | None], None],
    ) -> None:
        self._table = table
        self._line = line
        self._start = start
        """None while the line comes out of a ruler and is not in the project yet."""
        self._show = show
        self._is_dragged = start is None
        self._is_let_go = False
        self._at = line.at
        self.typed = TypedSizes(1, table.unit, signed=True)

    def move(self, touch: Touch, *, over_ruler: bool = False) -> None:
        """Follow the pointer, unless a place is typed; over the ruler the line is let go of."""
        if self.typed.is_begun:
            return
        if not self._is_dragged:
            start = self._start or touch
            away = max(abs(touch.x - start.x), abs(touch.y - start.y))
            if away < THRESHOLD_PX * touch.pixel_mm:
                return
            if self._line.locked:
                self._table.surface.say(tr("This guide line is locked; unlock it first."))
                return
            self._is_dragged = True
        self._is_let_go = over_ruler
        if over_ruler:
            self._show(None)
            gone = tr("Let go: no guide line") if self._start is None else tr("Let go: it is gone")
            self._table.surface.say(gone)
            return
        self._at, words = guide_place(self._table, self._line.axis, touch, without=self._line)
        self._show(replace(self._line, at=self._at, locked=False))
        self._table.surface.show_snapped(words)
        where = format_length(self._at.exact, self._table.unit)
        self._table.surface.say(
            tr("Guide line at {place} · type its place · Alt free · ruler: gone", place=where)
        )

    def key(self, key: Qt.Key, text: str) -> bool:
        """Take a typed sign of its place, or take one back; tell whether it was one."""
        if not self._is_dragged or self._is_let_go:
            return False
        done = self.typed.takes_back() if key == Qt.Key.Key_Backspace else self.typed.takes(text)
        if done:
            self._at = self.typed.value(0) or self._at
            self._show(replace(self._line, at=self._at, locked=False))
            self._table.surface.show_snapped("")
            place = self.typed.words(0, self._at.exact)
            words = tr("Guide line at {place} · Enter: put it there, Esc: back", place=place)
            self._table.surface.say(self.typed.reason or words)
        return done

    def release(self) -> GuideLine | None:
        """Make it an undo step; return the line as it is now, None when it is gone."""
        self._show(None)
        if not self._is_dragged:
            return self._line
        table, project = self._table, self._table.document.project
        over_ruler = self._is_let_go
        where = format_length(self._at.exact, table.unit)
        try:
            if self._start is None:
                if over_ruler:
                    return None
                added = replace(self._line, at=self._at)
                table.document.apply(
                    tr("Guide line at {place}", place=where), edits.add_guide_line(project, added)
                )
                return added
            if over_ruler:
                table.document.apply(
                    tr("Remove guide line"), edits.remove_guide_line(project, self._line)
                )
                return None
            moved = edits.move_guide_line(project, self._line, self._at)
        except GeometryError as error:
            table.surface.say(str(error))
            return self._line
        table.document.apply(tr("Move guide line to {place}", place=where), moved)
        return replace(self._line, at=self._at)

    def cancel(self) -> None:
        """Leave it where it was."""
        self._show(None)


def guide_place(
    table: Table, axis: Axis, touch: Touch, *, without: GuideLine | None = None
) -> tuple[Length, str]:
    """Return where a guide line goes at a place, and what it snapped to in words."""
    value = touch.x if axis == "x" else touch.y
    if touch.alt:
        return Length.rounded(value), ""
    placed = table.places.raft_at(touch.x, touch.y)
    if placed is None:
        left, bottom, right, top = table.places.box
        inside = min(max(touch.x, left), right), min(max(touch.y, bottom), top)
        placed = table.places.raft_at(*inside)
    if placed is not None:
        snapper = table.snapper(placed, frozenset(), leave_out=without)
        found = snapper.snap(touch.x, touch.y, REACH_PX * touch.pixel_mm)
        guides = tuple(guide for guide in found[1] if guide.axis == axis)
        if guides:
            return tape_length(found[0][0 if axis == "x" else 1], table.unit), snap_words(guides)
    zero = table.aids.zero(table.places.bed_plan.bed.name)[0 if axis == "x" else 1].mm
    step = GRID_MM[table.unit]
    return tape_length(zero + round((value - zero) / step) * step, table.unit), ""


def tape_length(mm: float, unit: Unit) -> Length:
    """Return the length a place found by hand stands for: exact where it is a 64th of an inch."""
    if unit == "in":
        parts = round(mm / 25.4 * 64)
        exact = Fraction(parts, 64) * MM_PER["in"]
        if abs(float(exact) - mm) < TOLERANCE_MM:
            return Length(exact)
    return Length.rounded(mm)
