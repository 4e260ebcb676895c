"""Pages as pictures (PNG), painted as the preview paints them."""

import sys

from PySide6.QtCore import QBuffer, QIODevice
from PySide6.QtGui import QColor, QGuiApplication, QImage, QPainter

from geometry.drawing.paper import Page
from layout_gui.output.pictures import Pictures, pixels_of
from layout_gui.screen.pages import draw_page, sent_transform

_MM_PER_INCH = 25.4
_METRE_PER_INCH = 0.0254


def paint_png(page: Page, dpi: int) -> bytes:
    """Paint a page in shades of grey at so many dots per inch; the file says how many.

    Raises:
        MemoryError: There is not enough for so many pixels.
    """
    image = QImage(*pixels_of(page, dpi), QImage.Format.Format_Grayscale8)
    if image.isNull():
        raise MemoryError
    image.fill(QColor("#ffffff"))
    per_metre = round(dpi / _METRE_PER_INCH)
    image.setDotsPerMeterX(per_metre)
    image.setDotsPerMeterY(per_metre)
    per_mm = dpi / _MM_PER_INCH
    painter = QPainter(image)
    draw_page(painter, page, sent_transform(page, per_mm, per_mm), "outlines")
    painter.end()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload]  # a bare str is right
    return bytes(buffer.data().data())


def pictures(dpi: int) -> Pictures:
    """Wish for pictures; Qt is started without a screen if it does not run yet."""
    if QGuiApplication.instance() is None:
        _started.append(QGuiApplication([*sys.argv[:1], "-platform", "offscreen"]))
    return Pictures(dpi, paint_png)


_started: list[QGuiApplication] = []
"""Qt lives as long as the program."""
