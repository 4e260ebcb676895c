"""The drawn zones of a bed: their outlines with their names."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from geometry.drawing.bed import zone_loops
from geometry.drawing.styles import Style
from geometry.plan import BedPlan
from layout_gui.canvas.overlay import Overlay, united
from layout_gui.canvas.tones import Tones, hairline, paint_with_halo, small_font, text_width_px
from layout_gui.screen.painter import loop_path

_VEIL: Final = 30


class Zones(Overlay):
    """Dashed outlines over the rafts, each with its zone's name; the selected one is solid.

    The name of a zone of whole rafts stands on each of its rafts.
    """

    margin_px = 180

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._paths: dict[str, QPainterPath] = {}
        self._tags: dict[str, tuple[str, QRectF]] = {}
        self._selected = ""

    def show_bed(self, bed_plan: BedPlan | None) -> None:
        """Show the zones of a bed."""
        loops = zone_loops(bed_plan.bed) if bed_plan else ()
        self._paths = {name: loop_path([loop]) for name, loop in loops}
        self._tags = {}
        rafts = {raft.name: raft for raft in bed_plan.rafts} if bed_plan else {}
        for zone in bed_plan.bed.zones if bed_plan and bed_plan.bed.planting else ():
            for name in zone.rafts:
                if (raft := rafts.get(name)) is not None:
                    shape = raft.design.shape
                    box = QRectF(raft.x, raft.y, float(shape.length), float(shape.width))
                    self._tags[name] = zone.name, box
        self._cover()

    def show_selected(self, name: str) -> None:
        """Show another zone as the selected one."""
        if name != self._selected:
            self._selected = name
            self.update()

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint outlines and names; the names stand above, at the left."""
        colour = QColor(self.tones.theme.inks[Style.ZONE].line)
        for name, path in self._paths.items():
            is_selected = name == self._selected
            painter.setPen(hairline(colour, 2.5 if is_selected else 1.6, dashed=not is_selected))
            painter.setBrush(_veil(colour) if is_selected else Qt.BrushStyle.NoBrush)
            painter.drawPath(path)
        to_screen = painter.worldTransform()
        painter.save()
        painter.resetTransform()
        painter.setFont(small_font())
        boxes = [(name, path.boundingRect()) for name, path in self._paths.items()]
        for name, extent in [*boxes, *self._tags.values()]:
            box = to_screen.mapRect(extent)
            if text_width_px(name, 11) < box.width() + 40:
                place = QPointF(box.left() + 6, box.top() - 5)
                paint_with_halo(painter, name, place, colour, self.tones.surface)
        painter.restore()

    def _cover(self) -> None:
        paths = self._paths.values()
        boxes = [*(path.boundingRect() for path in paths), *(box for _, box in self._tags.values())]
        self.cover(united(boxes))


def _veil(colour: QColor) -> QColor:
    thin = QColor(colour)
    thin.setAlpha(_VEIL)
    return thin
