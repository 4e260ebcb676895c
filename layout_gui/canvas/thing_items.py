"""Things that are picked, pointed at or on the move: their lines, their grips, their sizes."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from layout_gui.canvas.overlay import Overlay, united
from layout_gui.canvas.thing_places import ThingPlaces
from layout_gui.canvas.tones import TEXT_PX, Tones, hairline, small_font, text_width_px
from layout_gui.project.things import Thing

GRIP_PX: Final = 9.0
"""How wide a grip is."""

_SPOT_PX: Final = 11.0
_PLATE_PX: Final = 20.0
_VEIL: Final = 40
_ASIDE: Final = {"below": (0.0, 18.0), "left": (-10.0, 0.0), "above": (0.0, -18.0)}


@dataclass(frozen=True, slots=True)
class SizeLabel:
    """A size in words at a place of the bed, and on which side of it it stands."""

    x: float
    y: float
    text: str
    side: str = "below"


@dataclass(frozen=True, slots=True)
class _Look:
    path: QPainterPath
    spots: tuple[QPointF, ...] = ()

    @property
    def extent(self) -> QRectF:
        boxes = [QRectF(spot, spot).adjusted(-1e-6, -1e-6, 1e-6, 1e-6) for spot in self.spots]
        if not self.path.isEmpty():
            boxes.append(self.path.boundingRect())
        return united(boxes)


_NOTHING: Final = _Look(QPainterPath())


class ThingMarks(Overlay):
    """Over everything that stands in the bed: what is picked, pointed at, or being pulled.

    What is picked has a heavy line and square grips, what the pointer would take a thin line and
    the same squares, open; what is on the move is veiled, with its sizes on plates beside it.
    """

    margin_px = 160

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._picked = self._pointed = self._moving = _NOTHING
        self._labels: tuple[SizeLabel, ...] = ()
        self._grip: QPointF | None = None
        self._grips_of: tuple[ThingPlaces, Thing] | None = None

    def show_picked(self, places: ThingPlaces | None, thing: Thing | None) -> None:
        """Show what is selected, with its grips."""
        if places is None or thing is None:
            self._picked, self._grips_of = _NOTHING, None
        else:
            self._picked, self._grips_of = _look(places, thing), (places, thing)
        self._cover()

    def show_pointed(
        self, places: ThingPlaces | None, thing: Thing | None, grip: int | None = None
    ) -> None:
        """Show what a press would take hold of; None shows nothing."""
        if places is None or thing is None:
            look, at = _NOTHING, None
        elif grip is not None:
            found = places.grips(thing)[grip]
            look, at = _NOTHING, QPointF(float(found.x), float(found.y))
        else:
            look, at = _look(places, thing), None
        if look != self._pointed or at != self._grip:
            self._pointed, self._grip = look, at
            self._cover()

    def show_moving(
        self,
        path: QPainterPath | None,
        labels: Sequence[SizeLabel] = (),
        spots: Sequence[tuple[float, float]] = (),
    ) -> None:
        """Show what is drawn, pulled or moved, and its sizes; None shows nothing."""
        self._moving = _Look(path or QPainterPath(), tuple(QPointF(*spot) for spot in spots))
        self._labels = tuple(labels)
        self._cover()

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        """Paint lines in the bed, squares and plates in pixels."""
        accent = self.tones.accent
        is_moving = self._moving is not _NOTHING and bool(self._labels or self._moving.spots)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for look, width in ((self._pointed, 1.6), (self._picked, 2.6)):
            pen = hairline(accent, width)
            if look is self._picked and is_moving:
                pen.setStyle(Qt.PenStyle.DotLine)
            painter.setPen(pen)
            painter.drawPath(look.path)
        painter.setPen(hairline(accent, 2))
        veil = QColor(accent)
        veil.setAlpha(_VEIL)
        painter.setBrush(veil)
        painter.drawPath(self._moving.path)
        to_screen = painter.worldTransform()
        painter.save()
        painter.resetTransform()
        for spot in self._pointed.spots:
            self._paint_square(painter, to_screen.map(spot), _SPOT_PX, filled=False)
        for spot in self._shown_grips() if not is_moving else ():
            self._paint_square(painter, to_screen.map(spot), GRIP_PX, filled=False)
        if self._grip is not None and not is_moving:
            self._paint_square(painter, to_screen.map(self._grip), _SPOT_PX + 2, filled=True)
        for spot in self._moving.spots:
            self._paint_square(painter, to_screen.map(spot), GRIP_PX, filled=True)
        painter.setFont(small_font(TEXT_PX, bold=True))
        room = QRectF(widget.rect()).adjusted(4, 4, -4, -4) if widget is not None else None
        for label in self._labels:
            self._paint_label(painter, label, to_screen.map(QPointF(label.x, label.y)), room)
        painter.restore()

    def _shown_grips(self) -> tuple[QPointF, ...]:
        """The squares of what is picked: a corner itself, or the grips there is room for."""
        if self._grips_of is None:
            return ()
        places, thing = self._grips_of
        grips = places.shown_grips(thing, self.pixel_mm).values()
        return (*self._picked.spots, *(QPointF(float(g.x), float(g.y)) for g in grips))

    def _paint_square(self, painter: QPainter, at: QPointF, side: float, *, filled: bool) -> None:
        painter.setPen(QPen(self.tones.accent, 2))
        painter.setBrush(self.tones.accent if filled else self.tones.surface)
        painter.drawRect(QRectF(at.x() - side / 2, at.y() - side / 2, side, side))

    def _paint_label(
        self, painter: QPainter, label: SizeLabel, at: QPointF, room: QRectF | None
    ) -> None:
        """Paint a size on its plate, within the view."""
        width = text_width_px(label.text, TEXT_PX) * 1.12 + 14
        right, down = _ASIDE[label.side]
        left = at.x() + right - (width if label.side == "left" else width / 2)
        plate = QRectF(left, at.y() + down - _PLATE_PX / 2, width, _PLATE_PX)
        if room is not None and room.intersects(plate):
            plate.moveLeft(min(max(plate.left(), room.left()), room.right() - width))
            plate.moveTop(min(max(plate.top(), room.top()), room.bottom() - _PLATE_PX))
        painter.setPen(QPen(self.tones.accent, 1))
        painter.setBrush(self.tones.surface)
        painter.drawRoundedRect(plate, 4, 4)
        painter.setPen(self.tones.text)
        painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, label.text)

    def _cover(self) -> None:
        boxes = [look.extent for look in (self._picked, self._pointed, self._moving)]
        points = [QPointF(label.x, label.y) for label in self._labels]
        points += [self._grip] if self._grip is not None else []
        boxes += [QRectF(point, point).adjusted(-1e-6, -1e-6, 1e-6, 1e-6) for point in points]
        self.cover(united(box for box in boxes if not box.isNull()))


def _look(places: ThingPlaces, thing: Thing) -> _Look:
    spot = places.spot(thing)
    return _Look(places.path(thing), (QPointF(*spot),) if spot is not None else ())
