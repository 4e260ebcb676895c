"""Pages of paper drawn by a QPainter: one way for the preview, the printer and pictures."""

from collections.abc import Iterator
from contextlib import contextmanager
from itertools import islice
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QTransform

from geometry.drawing.marks import Text
from geometry.drawing.paper import Page
from geometry.drawing.styles import PENS, Style
from layout_gui.screen.painter import Words, paint_marks, pixels_per_mm, y_up
from layout_gui.screen.theme import Ink

_STEP: Final = 500
"""So many marks are drawn in a few milliseconds."""
_LEAST_WORD_PX: Final = 3
"""Lower words cannot be told from a line."""


def _paper_ink(style: Style) -> Ink:
    grey = QColor.fromRgbF(PENS[style].grey, PENS[style].grey, PENS[style].grey).name()
    return Ink(grey)


PAPER_INKS: Final = {style: _paper_ink(style) for style in Style}
"""Pages are black on white by day and by night, as the printer makes them."""


def draw_page(painter: QPainter, page: Page, to_device: QTransform, words: Words) -> None:
    """Draw a page; ``to_device`` maps its millimetres, y up, to where the painter draws now.

    The correction of the printer is left to ``to_device``. Words too small to see are left out.
    """
    for _ in page_steps(painter, page, to_device, words):
        pass


def page_steps(
    painter: QPainter, page: Page, to_device: QTransform, words: Words
) -> Iterator[None]:
    """Draw a page as ``draw_page`` does, yielding after each part that takes a moment.

    A generator that is closed early leaves the painter as it was.
    """
    with _saved(painter):
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setTransform(to_device, combine=True)
        scale = pixels_per_mm(painter.deviceTransform())
        for picture in page.pictures:
            with _saved(painter):
                if picture.clip is not None:
                    clip = picture.clip
                    corner, far = QPointF(clip.left, clip.bottom), QPointF(clip.right, clip.top)
                    painter.setClipRect(QRectF(corner, far), Qt.ClipOperation.IntersectClip)
                seen = (
                    mark
                    for group in picture.drawing.groups
                    for mark in group.marks
                    if not (isinstance(mark, Text) and mark.height * scale < _LEAST_WORD_PX)
                )
                while marks := tuple(islice(seen, _STEP)):
                    paint_marks(painter, marks, PAPER_INKS, words)
                    yield


@contextmanager
def _saved(painter: QPainter) -> Iterator[None]:
    painter.save()
    try:
        yield
    finally:
        painter.restore()


def paint_page(painter: QPainter, page: Page, into: QRectF) -> None:
    """Draw a page on white into a rectangle of the same proportions."""
    painter.save()
    painter.fillRect(into, QColor("#ffffff"))
    painter.setClipRect(into, Qt.ClipOperation.IntersectClip)
    to_device = y_up(into.left(), into.bottom(), into.width() / page.width_mm)
    draw_page(painter, page, to_device, "outlines")
    painter.restore()


def sent_size(page: Page) -> tuple[float, float]:
    """Return the width and height in millimetres of the paper that a page is sent to."""
    across, along = page.stretch
    return page.width_mm * across, page.height_mm * along


def sent_transform(
    page: Page, per_mm_across: float, per_mm_along: float, left: float = 0.0, top: float = 0.0
) -> QTransform:
    """Map a page to paper with so many device pixels a millimetre, its printer corrected.

    ``left`` and ``top`` are where the page begins on the paper, in millimetres.
    """
    across, along = page.stretch
    height = sent_size(page)[1]
    return QTransform(
        per_mm_across * across,
        0,
        0,
        -per_mm_along * along,
        left * per_mm_across,
        (top + height) * per_mm_along,
    )
