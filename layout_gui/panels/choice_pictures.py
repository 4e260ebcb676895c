"""Small pictures of choices, painted beside the window from the marks of their plans."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QObject, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QImage, QPainter

from geometry.drawing.choice_drawing import draw_choice
from geometry.drawing.marks import Circle, Drawing, Mark, Path
from geometry.drawing.transforms import marks_of
from geometry.model.planting import Planting
from geometry.plan import BedPlan
from layout_gui.panels.background import Background, IsWanted
from layout_gui.screen.painter import paint_marks, path_of, y_up
from layout_gui.screen.theme import Theme

_AROUND_PX: Final = 2.0


@dataclass(frozen=True, slots=True)
class Look:
    """How pictures are painted: their size in pixels, device pixels a pixel, and the colours."""

    size: QSize
    ratio: float
    theme: Theme


class ChoicePictures(QObject):
    """Keeps the drawings of choices, each under its planting, and paints those that are new.

    ``painted`` carries a mapping from plantings to images.
    """

    painted = Signal(object)

    def __init__(self, look: Look, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._drawings: dict[Planting, Drawing | BedPlan] = {}
        self._done: set[Planting] = set()
        self._worker = Background(self)
        self._worker.done.connect(self._on_done)
        self._worker.failed.connect(self._on_failed)

    @property
    def is_busy(self) -> bool:
        """Whether pictures are still to come."""
        return self._worker.is_busy

    def forget(self) -> None:
        """Drop all drawings: another bed is compared."""
        self._worker.forget()
        self._drawings.clear()
        self._done.clear()

    def add(self, drawings: Mapping[Planting, Drawing | BedPlan]) -> None:
        """Paint the drawings that are new; of a bed's plan its drawing is made first."""
        fresh = {key: each for key, each in drawings.items() if key not in self._drawings}
        if fresh:
            self._drawings.update(fresh)
            self._paint()

    def set_look(self, look: Look) -> None:
        """Paint all of them in another size or other colours."""
        if look != self._look:
            self._look = look
            self._done.clear()
            self._paint()

    def _paint(self) -> None:
        wanted = {key: one for key, one in self._drawings.items() if key not in self._done}
        look = self._look
        if wanted:
            self._worker.ask(lambda is_wanted: _painted(wanted, look, is_wanted))

    def _on_done(self, images: dict[Planting, QImage]) -> None:
        self._done.update(images)
        self.painted.emit(images)

    def _on_failed(self, error: BaseException) -> None:
        raise error


def _painted(
    wanted: Mapping[Planting, Drawing | BedPlan], look: Look, is_wanted: IsWanted
) -> dict[Planting, QImage]:
    images: dict[Planting, QImage] = {}
    for key, one in wanted.items():
        if not is_wanted():
            break
        drawing = draw_choice(one) if isinstance(one, BedPlan) else one
        images[key] = paint_choice(drawing, look)
    return images


def paint_choice(drawing: Drawing | None, look: Look) -> QImage:
    """Paint a drawing into the middle of a picture, as large as it fits; None leaves it empty."""
    size = look.size * look.ratio
    image = QImage(size, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    image.setDevicePixelRatio(look.ratio)
    marks = tuple(marks_of(drawing.groups)) if drawing else ()
    box = _box(marks)
    if box.isEmpty():
        return image
    width, height = look.size.width() - 2 * _AROUND_PX, look.size.height() - 2 * _AROUND_PX
    scale = min(width / box.width(), height / box.height())
    left = look.size.width() / 2 - box.center().x() * scale
    bottom = look.size.height() / 2 + box.center().y() * scale
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setTransform(y_up(left, bottom, scale), combine=True)
    paint_marks(painter, marks, look.theme.inks)
    painter.end()
    return image


def _box(marks: Iterable[Mark]) -> QRectF:
    box = QRectF()
    for mark in marks:
        match mark:
            case Path(curves, _, closed):
                box = box.united(path_of(curves, closed=closed).boundingRect())
            case Circle(centre, radius):
                sides = QRectF(centre.x - radius, centre.y - radius, 2 * radius, 2 * radius)
                box = box.united(sides)
            case _:
                pass
    return box
