"""A picture of what an item has painted, as large as the view: what is seen again is copied.

A frame that moves one hole, or a frame drawn over the bed, then paints nothing of the rafts but
what changed. The first picture at a zoom is painted straight to the screen, so that zooming pays
nothing for it.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap, QRegion, QTransform

Draw = Callable[[QPainter, Sequence[QRectF]], None]
"""Paints these parts (item coordinates) with a painter that maps item coordinates to pixels."""

MOST_PARTS: Final = 12
"""Of so many parts to be painted each is looked at; of more, the box around them."""

_ROOM_PX: Final = 2
_WHOLE_PX: Final = 1e-3
"""A shift that is off whole pixels by no more is one of whole pixels."""


class Layer:
    """Keeps one picture of the view's size; ``forget`` says what of it is no longer true.

    On screens whose pixels are no whole share of the window's it keeps none: places would have to
    be rounded twice.
    """

    def __init__(self) -> None:
        self._picture: QPixmap | None = None
        self._looks: tuple[QSize, float, float, float] | None = None
        self._to_screen = QTransform()
        self._stale = QRegion()

    def forget(self, part: QRectF | None = None) -> None:
        """Paint this part (item coordinates) anew when it is seen again; all of it for None."""
        if part is None:
            self._looks = None
        elif self._picture is not None:
            box = self._to_screen.mapRect(part).toAlignedRect()
            self._stale += box.adjusted(-_ROOM_PX, -_ROOM_PX, _ROOM_PX, _ROOM_PX)

    def paint(
        self, painter: QPainter, parts: Sequence[QRectF], view: QRect, paint_parts: Draw
    ) -> None:
        """Bring these parts (item coordinates) of a view, whose box is given, to the screen."""
        to_screen, ratio = painter.worldTransform(), painter.device().devicePixelRatioF()
        picture = self._picture_for(to_screen, ratio, view)
        if picture is None:
            paint_parts(painter, parts)
            return
        wanted = QRegion()
        for part in parts:
            wanted += to_screen.mapRect(part).toAlignedRect()
        wanted &= view
        todo = self._stale & wanted
        if not todo.isEmpty():
            _paint_into(picture, todo, ratio, to_screen, paint_parts)
            self._stale -= todo
        times = round(ratio)
        painter.save()
        # In pixels of the device, so that nothing is scaled.
        painter.setWorldTransform(QTransform.fromScale(1 / ratio, 1 / ratio))
        for box in rects_of(wanted):
            pixels = QRect(box.topLeft() * times, box.size() * times)
            painter.drawPixmap(pixels.topLeft(), picture, pixels)
        painter.restore()

    def _picture_for(self, to_screen: QTransform, ratio: float, view: QRect) -> QPixmap | None:
        """The picture as the view looks at it now; None at the first look at this zoom."""
        before, self._to_screen = self._to_screen, to_screen
        right, down = to_screen.dx() - before.dx(), to_screen.dy() - before.dy()
        by = QPoint(round(right), round(down))
        off = max(abs(by.x() - right), abs(by.y() - down), abs(ratio - round(ratio)))
        looks = view.size(), ratio, to_screen.m11(), to_screen.m22()
        if looks != self._looks or off > _WHOLE_PX:
            self._looks, self._picture = looks, None
            return None
        if self._picture is None:
            self._picture = QPixmap(view.size() * round(ratio))
            self._picture.fill(Qt.GlobalColor.transparent)
            self._stale = QRegion(view)
        elif not by.isNull():
            self._picture.scroll(by.x() * round(ratio), by.y() * round(ratio), self._picture.rect())
            came = QRegion(view) - QRegion(view.translated(by))
            self._stale = (self._stale.translated(by) & view) + came
        return self._picture


def _paint_into(
    picture: QPixmap, todo: QRegion, ratio: float, to_screen: QTransform, paint_parts: Draw
) -> None:
    """Paint a region of the view into the picture."""
    picture.setDevicePixelRatio(ratio)
    painter = QPainter(picture)
    painter.setClipRegion(todo)
    painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_Clear)
    painter.fillRect(todo.boundingRect(), Qt.GlobalColor.transparent)
    painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_SourceOver)
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    painter.setWorldTransform(to_screen)
    back, _ = to_screen.inverted()
    boxes = rects_of(todo) if todo.rectCount() <= MOST_PARTS else [todo.boundingRect()]
    paint_parts(painter, [back.mapRect(QRectF(box)) for box in boxes])
    painter.end()
    # Copied pixel by pixel from here on.
    picture.setDevicePixelRatio(1)


def rects_of(region: QRegion) -> list[QRect]:
    """Return the rectangles of a region."""
    # The stubs do not know that a region can be gone through.
    rects: Iterable[QRect] = region  # type: ignore[assignment]
    return list(rects)
