"""Beds seen from above in one week: each raft with its batch, by letter, hatch and colour."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QHelpEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QTransform,
)
from PySide6.QtWidgets import QAbstractScrollArea, QToolTip, QWidget

from geometry.drawing.styles import Style
from geometry.drawing.week_map import StageKey, batch_label, bed_words, events, plants_words
from geometry.flow.period import Week
from geometry.model.measure import bounds
from geometry.rafts.layout import RaftPlace
from geometry.tongue import listed, tr
from geometry.weeks import BedWeeks, PlaceInWeek
from layout_gui.panels.tips import plain_tip
from layout_gui.screen.painter import path_of
from layout_gui.screen.theme import LIGHT, Theme

_HATCHES: Final = (
    Qt.BrushStyle.BDiagPattern,
    Qt.BrushStyle.FDiagPattern,
    Qt.BrushStyle.HorPattern,
    Qt.BrushStyle.VerPattern,
    Qt.BrushStyle.DiagCrossPattern,
    Qt.BrushStyle.CrossPattern,
    Qt.BrushStyle.Dense6Pattern,
    Qt.BrushStyle.Dense5Pattern,
)
"""One for each of ``week_map.HATCHES``."""
_AROUND: Final = 12.0
_TALLEST: Final = 260.0
_GAP: Final = 10.0

Keys = Mapping[tuple[int, int], StageKey]


@dataclass(frozen=True, slots=True)
class BedInWeek:
    """A bed and what goes on in each of its places in a week."""

    bed: BedWeeks
    places: tuple[PlaceInWeek, ...]


@dataclass(frozen=True, slots=True)
class _Laid:
    """Where a bed is painted: its words above, its outline scaled, y down."""

    shown: BedInWeek
    top: float
    box: QRectF
    scale: float


def stage_colour(theme: Theme, hatch: int) -> QColor:
    """Return the colour of a hatch; the hatch itself tells stages apart without it."""
    colours = (
        theme.accent,
        theme.warn,
        theme.inks[Style.CANOPY].line,
        theme.quiet_text,
    )
    return QColor(colours[hatch % len(colours)])


def paint_key(painter: QPainter, key: StageKey, room: QRectF, theme: Theme) -> None:
    """Paint the letter and the hatch of a stage as a raft has them."""
    foam = theme.inks[Style.RAFT]
    box = room.adjusted(0.5, 0.5, -0.5, -0.5)
    painter.setPen(QPen(QColor(foam.line), 1.0))
    for fill in (
        QBrush(QColor(foam.fill or theme.surface)),
        QBrush(stage_colour(theme, key.hatch), _HATCHES[key.hatch]),
    ):
        painter.setBrush(fill)
        painter.drawRect(box)
    font = painter.font()
    font.setBold(True)
    painter.setFont(font)
    wide = painter.fontMetrics().horizontalAdvance(key.letter) + 4
    middle = box.adjusted((box.width() - wide) / 2, 2, -(box.width() - wide) / 2, -2)
    painter.fillRect(middle, QColor(foam.fill or theme.surface))
    painter.setPen(QColor(theme.text))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, key.letter)


def place_words(place: PlaceInWeek, keys: Keys) -> str:
    """Say all about one place in a week."""
    if place.now is None:
        what = tr("{place}: free", place=place.place)
    else:
        key = keys[place.now.demand.run, place.now.demand.stage]
        what = tr(
            "{place}: {batch}, {plants} ({stage})",
            place=place.place,
            batch=batch_label(place.now, keys),
            plants=plants_words(place.now),
            stage=key.words,
        )
    happens = ", ".join(events(place))
    return f"{what}; {happens}" if happens else what


class _Labels:
    """Writes into rafts as much as there is room for, on foam without a hatch."""

    def __init__(self, painter: QPainter, font: QFont, theme: Theme, keys: Keys) -> None:
        small, bold = QFont(font), QFont(font)
        small.setPointSizeF(max(7.0, small.pointSizeF() * 0.82))
        bold.setBold(True)
        self._painter, self._keys = painter, keys
        self._small, self._bold = (small, QFontMetricsF(small)), (bold, QFontMetricsF(bold))
        self._foam = QColor(theme.inks[Style.RAFT].fill or theme.surface)
        self._ink = QColor(theme.text)
        self._least = self._small[1].height() + 2

    def paint(self, place: PlaceInWeek, box: QRectF) -> None:
        """Write the batch, the place, what happens and the plants, in this order."""
        if box.height() < self._least or box.width() < self._least:
            return
        texts = self._texts(place, box.width() - 6)
        room = box.height() - 2
        kept: list[tuple[str, QFont, float, float]] = []
        for text, (font, metrics) in texts:
            wide, high = metrics.horizontalAdvance(text), metrics.height()
            if wide <= box.width() - 6 and high <= room:
                kept.append((text, font, wide, high))
                room -= high
        y = box.center().y() - sum(high for *_, high in kept) / 2
        painter = self._painter
        for text, font, wide, high in kept:
            row = QRectF(box.center().x() - wide / 2 - 2, y, wide + 4, high)
            if place.now is not None:
                painter.fillRect(row, self._foam)
            painter.setFont(font)
            painter.setPen(self._ink)
            painter.drawText(row, Qt.AlignmentFlag.AlignCenter, text)
            y += high

    def _texts(
        self, place: PlaceInWeek, room: float
    ) -> list[tuple[str, tuple[QFont, QFontMetricsF]]]:
        small, bold = self._small, self._bold
        texts = [(place.place, small)]
        if place.now is not None:
            batch = batch_label(place.now, self._keys)
            whole = f"{place.place}: {batch}"
            fits = bold[1].horizontalAdvance(whole) <= room
            texts = [(whole, bold)] if fits else [(batch, bold), (place.place, small)]
        if happens := events(place):
            fits = small[1].horizontalAdvance(", ".join(happens)) <= room
            texts.append((", ".join(happens) if fits else happens[-1], small))
        if place.now is not None:
            texts.append((plants_words(place.now), small))
        return texts


class WeekBeds(QAbstractScrollArea):
    """All beds of the runs beneath each other; only what is in sight is painted."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: tuple[BedInWeek, ...] = ()
        self._keys: Keys = {}
        self._theme = LIGHT
        self._laid: tuple[_Laid, ...] = ()
        self._zoom = 1.0
        self.setProperty("role", "page")
        self.setAccessibleName(tr("Beds in this week"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumHeight(110)
        self.verticalScrollBar().setSingleStep(24)
        self.horizontalScrollBar().setSingleStep(24)

    def show_beds(self, shown: Sequence[BedInWeek], keys: Keys, week: Week) -> None:
        """Show these beds; the view stays where it is."""
        self._shown, self._keys = tuple(shown), keys
        self._lay()
        told = [
            tr(
                "{bed}: {taken} of {all} places taken",
                bed=each.bed.name,
                taken=sum(place.now is not None for place in each.places),
                all=len(each.places),
            )
            for each in self._shown[:20]
        ]
        self.setAccessibleDescription(
            tr("Week {number}", number=week.number) + ". " + (f"{listed(told)}." if told else "")
        )

    def set_theme(self, theme: Theme) -> None:
        """Take these colours."""
        self._theme = theme
        self.viewport().update()

    def zoom_by(self, factor: float) -> None:
        """Show beds so many times as large; never smaller than they fit."""
        self._zoom = min(max(self._zoom * factor, 1.0), 16.0)
        self._lay()

    @property
    def content_height(self) -> int:
        """How high all beds are beneath each other."""
        return int(self._laid[-1].box.bottom() + 2 * _AROUND) if self._laid else 0

    def sizeHint(self) -> QSize:
        """Room for a bed or two."""
        return QSize(480, 240)

    def _lay(self) -> None:
        view = self.viewport()
        head = QFontMetricsF(self.font()).height() + 4
        room = max(60.0, view.width() - 2 * _AROUND) * self._zoom
        # One bed may fill the view; several share it, down to a size that can still be read.
        high = max(90.0, (view.height() - _AROUND) / max(1, len(self._shown)) - head - _GAP)
        high = min(high, _TALLEST) * self._zoom
        laid: list[_Laid] = []
        top = _AROUND / 2
        for shown in self._shown:
            left, bottom, right, upper = bounds(shown.bed.bed.layout.outline)
            scale = min(room / (right - left), high / (upper - bottom))
            box = QRectF(_AROUND, top + head, (right - left) * scale, (upper - bottom) * scale)
            laid.append(_Laid(shown, top, box, scale))
            top = box.bottom() + _GAP
        self._laid = tuple(laid)
        wide = max((each.box.right() for each in laid), default=0.0) + _AROUND
        for bar, whole, part in (
            (self.horizontalScrollBar(), wide, view.width()),
            (self.verticalScrollBar(), top, view.height()),
        ):
            bar.setRange(0, max(0, int(whole - part) + 1 if whole > part else 0))
            bar.setPageStep(part)
        view.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the beds anew."""
        super().resizeEvent(event)
        self._lay()

    def _origin(self) -> QPointF:
        return QPointF(-self.horizontalScrollBar().value(), -self.verticalScrollBar().value())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the beds in sight."""
        painter = QPainter(self.viewport())
        painter.fillRect(event.rect(), QColor(self._theme.canvas))
        if not self._laid:
            painter.setPen(QColor(self._theme.quiet_text))
            room = self.viewport().rect().adjusted(12, 0, -12, 0)
            flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(room, int(flags), tr("No raft is in the water in this week."))
        painter.translate(self._origin())
        sight = QRectF(self.viewport().rect()).translated(-self._origin())
        for laid in self._laid:
            if laid.top <= sight.bottom() and laid.box.bottom() >= sight.top():
                self._paint_bed(painter, laid, sight)

    def _paint_bed(self, painter: QPainter, laid: _Laid, sight: QRectF) -> None:
        theme, bed = self._theme, laid.shown.bed
        painter.setPen(QColor(theme.text))
        painter.setFont(self.font())
        painter.drawText(QPointF(laid.box.left(), laid.box.top() - 6), bed_words(bed))
        to_screen = self._transform(laid)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        water = theme.inks[Style.WATER]
        painter.setPen(QPen(QColor(water.line), 1.2))
        painter.setBrush(QColor(water.fill or theme.canvas))
        painter.drawPath(to_screen.map(path_of(bed.bed.layout.outline.curves, closed=True)))
        seen: list[tuple[RaftPlace, PlaceInWeek, QRectF]] = []
        for raft, place in zip(bed.bed.layout.rafts, laid.shown.places, strict=True):
            x, y, shape = float(raft.x), float(raft.y), raft.shape
            box = to_screen.mapRect(QRectF(x, y, float(shape.length), float(shape.width)))
            if box.intersects(sight):
                seen.append((raft, place, box))
        self._paint_foam(painter, seen, to_screen)
        labels = _Labels(painter, self.font(), theme, self._keys)
        for _, place, box in seen:
            labels.paint(place, box)

    def _paint_foam(
        self,
        painter: QPainter,
        seen: Sequence[tuple[RaftPlace, PlaceInWeek, QRectF]],
        to_screen: QTransform,
    ) -> None:
        """Paint all rafts of a kind in one go: there may be thousands."""
        theme = self._theme
        foam = theme.inks[Style.RAFT]
        boxes: defaultdict[int | None, list[QRectF]] = defaultdict(list)
        paths: list[tuple[int | None, QPainterPath]] = []
        for raft, place, box in seen:
            who = place.now
            kind = None if who is None else self._keys[who.demand.run, who.demand.stage].hatch
            if raft.shape.is_rectangle:
                boxes[kind].append(box)
            else:
                paths.append((kind, to_screen.map(path_of(raft.loop_in_bed.curves, closed=True))))
        painter.setPen(QPen(QColor(foam.line), 1.0))
        plain = QBrush(QColor(foam.fill or theme.surface))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
        for kind, own in boxes.items():
            for brush in (plain, *self._hatch(kind)):
                painter.setBrush(brush)
                painter.drawRects(own)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for kind, path in paths:
            for brush in (plain, *self._hatch(kind)):
                painter.setBrush(brush)
                painter.drawPath(path)

    def _hatch(self, kind: int | None) -> tuple[QBrush, ...]:
        if kind is None:
            return ()
        return (QBrush(stage_colour(self._theme, kind), _HATCHES[kind]),)

    def _transform(self, laid: _Laid) -> QTransform:
        left, bottom, _, _ = bounds(laid.shown.bed.bed.layout.outline)
        scale = laid.scale
        return QTransform(
            scale, 0, 0, -scale, laid.box.left() - left * scale, laid.box.bottom() + bottom * scale
        )

    def place_at(self, at: QPointF) -> PlaceInWeek | None:
        """Return the place at a point of the view."""
        point = at - self._origin()
        for laid in self._laid:
            if not laid.box.contains(point):
                continue
            to_screen = self._transform(laid)
            rafts = laid.shown.bed.bed.layout.rafts
            for raft, place in zip(rafts, laid.shown.places, strict=True):
                size = (float(raft.shape.length), float(raft.shape.width))
                if to_screen.mapRect(QRectF(float(raft.x), float(raft.y), *size)).contains(point):
                    return place
        return None

    def viewportEvent(self, event: QEvent) -> bool:
        """Tell all about the raft under the pointer."""
        if isinstance(event, QHelpEvent) and event.type() is QEvent.Type.ToolTip:
            place = self.place_at(QPointF(event.pos()))
            text = plain_tip(place_words(place, self._keys)) if place is not None else ""
            QToolTip.showText(event.globalPos(), text, self)
            return True
        return super().viewportEvent(event)
