"""Small pictures that stand in many places: drawn once, then stamped."""

from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterable
from math import floor
from typing import Final

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QImage, QPainter

_MOST: Final = 4096
_kept: OrderedDict[Hashable, QImage] = OrderedDict()


def stamp(
    painter: QPainter, at: QPointF, key: Hashable, box: QRectF, draw: Callable[[QPainter], object]
) -> None:
    """Stamp a picture at a place, to the nearest device pixel; the painter has no transform.

    ``draw`` paints it around the origin, within ``box``, in pixels; it is asked once for each
    ``key``, which says all that its looks depend on.
    """
    stamps(painter, [at], key, box, draw)


def stamps(
    painter: QPainter,
    places: Iterable[QPointF],
    key: Hashable,
    box: QRectF,
    draw: Callable[[QPainter], object],
) -> None:
    """Stamp one picture at many places; see ``stamp``."""
    ratio = painter.device().devicePixelRatioF()
    full = key, ratio
    picture = _kept.get(full)
    if picture is None:
        picture = _kept[full] = _picture(box, ratio, draw)
        if len(_kept) > _MOST:
            _kept.popitem(last=False)
    left, top = box.left(), box.top()
    for at in places:
        # Not ``round``: its halves would fall elsewhere after a shift by whole pixels.
        x, y = floor(at.x() * ratio + 0.5) / ratio, floor(at.y() * ratio + 0.5) / ratio
        painter.drawImage(QPointF(x + left, y + top), picture)


def _picture(box: QRectF, ratio: float, draw: Callable[[QPainter], object]) -> QImage:
    width, height = round(box.width() * ratio) + 1, round(box.height() * ratio) + 1
    picture = QImage(width, height, QImage.Format.Format_ARGB32_Premultiplied)
    picture.setDevicePixelRatio(ratio)
    picture.fill(QColor(0, 0, 0, 0))
    own = QPainter(picture)
    own.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    own.translate(-box.topLeft())
    draw(own)
    own.end()
    return picture
