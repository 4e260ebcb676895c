"""What rests in a bed: things that are locked, rafts that are hidden. Words tell which is which."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from geometry.model.project import Project
from geometry.tongue import tr
from layout_gui.canvas.overlay import Overlay, united
from layout_gui.canvas.places import Places
from layout_gui.canvas.tones import (
    TEXT_PX,
    Tones,
    hairline,
    paint_with_halo,
    text_scale,
    text_width_px,
)
from layout_gui.project.edits_locks import locked_names

_INSET_PX: Final = 6.0


@dataclass(frozen=True, slots=True)
class Word:
    """A word at the box of a thing (bed coordinates): in its upper right corner, or in its middle.

    A raft that ``is_hidden`` is no more than this box.
    """

    box: tuple[float, float, float, float]
    text: str
    is_hidden: bool = False


def resting(places: Places, project: Project) -> tuple[Word, ...]:
    """Return a word for everything that is locked or hidden in a bed."""
    return tuple(_words(places, project))


def _words(places: Places, project: Project) -> Iterator[Word]:
    bed = places.bed_plan.bed
    locked = locked_names(project, bed.name, "raft")
    for name in sorted(locked | places.hidden):
        placed = places.rafts.get(name)
        if placed is None:
            continue
        shape = placed.design.shape
        right, top = placed.x + float(shape.length), placed.y + float(shape.width)
        box = placed.x, placed.y, right, top
        if name in places.hidden:
            yield Word(box, tr("{raft} hidden", raft=name), is_hidden=True)
        if name in locked:
            yield Word(box, tr("locked"))
    obstacles = locked_names(project, bed.name, "obstacle")
    zones = locked_names(project, bed.name, "zone")
    for thing, body in places.things.bodies.items():
        if thing.kind == "obstacle":
            is_locked = bed.obstacles[thing.number].name in obstacles
        else:
            is_locked = thing.key in zones
        if is_locked:
            yield Word(body.box, tr("locked"))


class AtRest(Overlay):
    """The word "locked" at what is locked, a dotted outline where a raft is hidden."""

    margin_px = 90

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._words: Sequence[Word] = ()

    def show_words(self, words: Sequence[Word]) -> None:
        """Show these words and no others."""
        if words != self._words:
            self._words = words
            self.cover(united(_boxes(words)))

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint boxes in the bed, words in pixels; a word wider than its box stands above it."""
        to_screen = painter.worldTransform()
        room = self.margin_px * self.pixel_mm
        part = option.exposedRect.adjusted(-room, -room, room, room)
        seen = [
            (word, box)
            for word, box in zip(self._words, _boxes(self._words), strict=True)
            if part.intersects(box)
        ]
        painter.save()
        painter.resetTransform()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for word, box in seen:
            at = to_screen.mapRect(box)
            wide, high = text_width_px(word.text, TEXT_PX), TEXT_PX * text_scale()
            colour = self.tones.quiet_text
            if word.is_hidden:
                pen = hairline(colour, 1.5)
                pen.setStyle(Qt.PenStyle.DotLine)
                painter.setPen(pen)
                painter.drawRect(at)
                place = at.center() + QPointF(0, high / 2)
                if wide + 2 * _INSET_PX > at.width():
                    continue
                paint_with_halo(painter, word.text, place, colour, self.tones.water, share=0.5)
                continue
            place, share = at.topRight() + QPointF(-_INSET_PX, _INSET_PX + high), 1.0
            if wide + 2 * _INSET_PX > at.width() or high + 2 * _INSET_PX > at.height():
                place, share = QPointF(at.center().x(), at.top() - _INSET_PX), 0.5
            if self._has_room(at, wide):
                tones = self.tones
                paint_with_halo(painter, word.text, place, tones.label, tones.foam, share=share)
        painter.restore()

    def _has_room(self, at: QRectF, wide: float) -> bool:
        """From so far that words would lie on each other there are none."""
        return max(at.width(), at.height()) >= wide / 2


def _boxes(words: Iterable[Word]) -> list[QRectF]:
    return [
        QRectF(QPointF(word.box[0], word.box[1]), QPointF(word.box[2], word.box[3]))
        for word in words
    ]
