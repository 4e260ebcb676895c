"""Pictures of bed shapes with the lines they are measured along, and the tiles to pick one."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetrics,
    QKeyEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QTransform,
)
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from geometry.beds.shapes import NEEDED, SHAPE_WORDS, ShapeName
from geometry.drawing.shape_lines import (
    LENGTH,
    OUT,
    ROUND,
    WIDTH,
    End,
    corners_of,
    measure_lines,
)
from geometry.drawing.styles import Style
from geometry.tongue import tr
from layout_gui.screen.theme import Theme

_TICK = 4.0


def outline_path(shape: ShapeName) -> QPainterPath:
    """Return a shape as a path in a box of 1.7 by 1, y down."""
    path = QPainterPath()
    match shape:
        case "rectangle":
            path.addRect(0, 0, LENGTH, WIDTH)
        case "rounded":
            path.addRoundedRect(QRectF(0, 0, LENGTH, WIDTH), ROUND, ROUND)
        case "round":
            path.addEllipse(QPointF(LENGTH / 2, WIDTH / 2), WIDTH / 2, WIDTH / 2)
        case "round ends":
            path.addRoundedRect(QRectF(0, 0, LENGTH, WIDTH), WIDTH / 2, WIDTH / 2)
        case _:
            corners = [QPointF(*corner) for corner in corners_of(shape)]
            path.addPolygon(corners)
            path.closeSubpath()
    return path


class _Canvas:
    """Puts the unit box of a shape into a rectangle of the screen."""

    def __init__(self, into: QRectF, *, room: float) -> None:
        scale = min(into.width() / (LENGTH + 2 * room), into.height() / (WIDTH + 2 * room))
        corner = into.center() - QPointF(LENGTH, WIDTH) * (scale / 2)
        self._transform = QTransform(scale, 0, 0, scale, corner.x(), corner.y())

    def at(self, place: End) -> QPointF:
        return self._transform.map(QPointF(*place))

    def path(self, path: QPainterPath) -> QPainterPath:
        return self._transform.map(path)


class ShapePicture(QWidget):
    """One shape, large, with the lines to measure along; one of them may be lit.

    With ``needed_only`` the lines that may be measured once more are left out.
    """

    def __init__(
        self, theme: Theme, *, needed_only: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._theme = theme
        self._needed_only = needed_only
        self._shape: ShapeName = "rectangle"
        self._lit = ""
        self._known: frozenset[str] = frozenset()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.setMinimumHeight(118)

    @property
    def lit(self) -> str:
        """The name of the measure that is shown as the one in question."""
        return self._lit

    def show_shape(self, shape: ShapeName, known: frozenset[str] = frozenset()) -> None:
        """Show another shape; measures that are ``known`` have full lines."""
        self._shape, self._known = shape, known
        self.setAccessibleName(tr("Picture: {shape}", shape=tr(SHAPE_WORDS[shape])))
        self.update()

    def light(self, name: str) -> None:
        """Show which measure is in question; an empty name for none."""
        self._lit = name
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Paint in other colours from now on."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        """As wide as there is room, a good deal less high."""
        return QSize(280, 150)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint water, wall and measures."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        canvas = _Canvas(QRectF(self.rect()).adjusted(6, 6, -6, -6), room=OUT + 0.04)
        _paint_water(painter, canvas, self._shape, self._theme)
        for line in measure_lines(self._shape):
            if self._needed_only and line.name not in NEEDED[self._shape]:
                continue
            is_lit = line.name == self._lit
            colour = self._theme.accent if is_lit else self._theme.inks[Style.DIMENSION].line
            pen = QPen(QColor(colour), 2.6 if is_lit else 1.1)
            if not is_lit and self._known and line.name not in self._known:
                pen.setDashPattern([2, 4])
            painter.setPen(pen)
            _paint_measure(painter, canvas.at(line.start), canvas.at(line.end))


class ShapeTile(QAbstractButton):
    """A shape to pick: its picture and its words, the picked one framed and marked."""

    def __init__(self, shape: ShapeName, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.shape = shape
        self._theme = theme
        self.setCheckable(True)
        self.setText(tr(SHAPE_WORDS[shape]))
        self.setAccessibleName(self.text())
        self.setObjectName(f"shape-{shape}")
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def set_theme(self, theme: Theme) -> None:
        """Paint in other colours from now on."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        """Room for the picture above two lines of words."""
        return QSize(132, 66 + 2 * self._metrics().height())

    def minimumSizeHint(self) -> QSize:
        """As high as the picture and the words, less wide if need be."""
        return QSize(112, self.sizeHint().height())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows pick another shape; Enter is for the page to go on."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the frame, the shape and its words."""
        theme = self._theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        board = QRectF(self.rect()).adjusted(2, 2, -2, -2)
        is_on = self.isChecked()
        painter.setPen(QPen(QColor(theme.accent if is_on else theme.line), 2 if is_on else 1))
        painter.setBrush(QColor(theme.accent_soft if is_on else theme.surface))
        painter.drawRoundedRect(board, 9, 9)
        if self.hasFocus():
            painter.setPen(QPen(QColor(theme.accent), 1, Qt.PenStyle.DotLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(board.adjusted(4, 4, -4, -4), 6, 6)
        words = self._metrics().height() * 2 + 6
        into = board.adjusted(10, 9, -10, -words - 4)
        _paint_water(painter, _Canvas(into, room=0), self.shape, theme)
        painter.setFont(self._font())
        painter.setPen(QColor(theme.text))
        room = QRectF(board.left() + 6, board.bottom() - words, board.width() - 12, words)
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(room, flags, self.text())
        if is_on:
            painter.setPen(QColor(theme.accent))
            bold = QFont(self._font())
            bold.setBold(True)
            painter.setFont(bold)
            corner = QRectF(board.right() - 26, board.top() + 4, 20, 20)
            painter.drawText(corner, Qt.AlignmentFlag.AlignCenter, "✓")

    def _font(self) -> QFont:
        font = QFont(self.font())
        font.setPointSizeF(font.pointSizeF() * 0.92)
        return font

    def _metrics(self) -> QFontMetrics:
        return QFontMetrics(self._font())


def _paint_water(painter: QPainter, canvas: _Canvas, shape: ShapeName, theme: Theme) -> None:
    ink = theme.inks[Style.WATER]
    painter.setPen(QPen(QColor(ink.line), 1.6))
    painter.setBrush(QColor(ink.fill or ink.line))
    painter.drawPath(canvas.path(outline_path(shape)))


def _paint_measure(painter: QPainter, start: QPointF, end: QPointF) -> None:
    """Paint a line with a tick across each end."""
    painter.drawLine(start, end)
    along = end - start
    size = max((along.x() ** 2 + along.y() ** 2) ** 0.5, 1e-9)
    across = QPointF(-along.y(), along.x()) / size * _TICK
    for place in (start, end):
        painter.drawLine(place - across, place + across)
