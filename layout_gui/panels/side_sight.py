"""From the side, a sight of the station Rafts: the bed cut through, at true scale."""

from collections.abc import Iterator, Sequence
from typing import Final, TypeVar

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QComboBox, QSizePolicy, QVBoxLayout, QWidget

from geometry.drawing.afloat_figures import no_float_words, state_line
from geometry.drawing.figures import length_text
from geometry.drawing.marks import Box, Drawing, Group
from geometry.drawing.section import (
    Axis,
    Level,
    Section,
    State,
    cut_through,
    draw_section,
    level_room,
)
from geometry.drawing.transforms import marks_of
from geometry.tongue import mark, tr
from geometry.units import Unit
from layout_gui.panels.fields import ChoiceField
from layout_gui.panels.now import Now
from layout_gui.panels.parts import label, side_by_side
from layout_gui.panels.sight_view import SightView
from layout_gui.screen.painter import paint_marks, y_up
from layout_gui.screen.theme import LIGHT, Theme

_AXES: Final[tuple[tuple[Axis, str], ...]] = (
    ("along", mark("along the bed")),
    ("across", mark("across the bed")),
)
_LEVELS: Final[tuple[tuple[Level, str], ...]] = (
    ("working", mark("at the working level")),
    ("low", mark("at low water")),
    ("high", mark("at high water")),
)
_STATES: Final[tuple[tuple[State, str], ...]] = (
    ("planting", mark("on the day of planting")),
    ("harvest", mark("at the harvest")),
    ("half picked", mark("one half picked")),
    ("waterlogged", mark("at the harvest, on old foam")),
)
_ABOVE_FOAM: Final = 70.0
_BELOW_FEET: Final = 55.0
_STEP: Final = 0.25
_MARGIN: Final = 12
_LETTER: Final = 0.74
"""The height of letters, as a share of that of a line of the window's own words."""

Option = TypeVar("Option")


class SectionCanvas(QWidget):
    """Paints a section, all of it or a window as wide as there is room for."""

    pointed = Signal(float)
    """A place in bed coordinates that is to be looked at closely."""

    def __init__(self, *, close: bool) -> None:
        super().__init__()
        self._close = close
        self._theme = LIGHT
        self._unit: Unit = "mm"
        self.section: Section | None = None
        self.focus = 0.0
        self.frame: Box | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumHeight(90)
        if not close:
            self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            self.setCursor(Qt.CursorShape.PointingHandCursor)

    def sizeHint(self) -> QSize:
        """The close view takes most of the height."""
        return QSize(400, 300 if self._close else 170)

    def show_section(self, section: Section | None, unit: Unit) -> None:
        """Show another section."""
        self.section, self._unit = section, unit
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Paint in other colours from now on."""
        self._theme = theme
        self.update()

    def view(self) -> tuple[Box, float] | None:
        """Return what is shown, in mm, and how many pixels a millimetre takes."""
        section = self.section
        wide, high = self.width() - 2.0 * _MARGIN, self.height() - 2.0 * _MARGIN
        if section is None or wide <= 0 or high <= 0:
            return None
        box = section.box
        if not self._close:
            scale = min(wide / box.width, high / box.height)
            return box, scale
        bottom, top = _close_range(section)
        scale = high / (top - bottom)
        wide = max(wide - self._gutter(section, scale), wide / 2)
        span = min(wide / scale, box.width)
        left = min(max(self.focus - span / 2, box.left), box.right - span)
        return Box(left, bottom, left + span, top), scale

    def _letter(self, scale: float) -> float:
        return self.fontMetrics().height() * _LETTER / scale

    def _gutter(self, section: Section, scale: float) -> float:
        """Room at the right for the names of the levels, in pixels."""
        return level_room(section, self._unit, self._letter(scale)) * scale if self._close else 0.0

    def drawing(self) -> Drawing | None:
        """Return the marks of what is shown."""
        found = self.view()
        if found is None or self.section is None:
            return None
        box, scale = found
        window = box if self._close else None
        return draw_section(
            self.section, self._unit, self._letter(scale), window, sizes=self._close
        )

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._theme.canvas))
        found, drawing = self.view(), self.drawing()
        if found is None or drawing is None:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box, scale = found
        left = self._left(box, scale)
        base = (self.height() + box.height * scale) / 2
        shown = QRectF(left, base - box.height * scale, box.width * scale, box.height * scale)
        there = y_up(left - box.left * scale, base + box.bottom * scale, scale)
        for groups, clip in _clipped(drawing, shown, QRectF(self.rect())):
            painter.save()
            painter.setClipRect(clip)
            painter.setTransform(there, combine=True)
            paint_marks(painter, marks_of(groups), self._theme.inks)
            painter.restore()
        if self.frame is not None:
            seen = self.frame
            painter.setPen(QPen(QColor(self._theme.accent), 2.0))
            corner = QPointF(
                left + (seen.left - box.left) * scale, base - (seen.top - box.bottom) * scale
            )
            frame = QRectF(corner, corner + QPointF(seen.width * scale, seen.height * scale))
            painter.drawRect(frame.intersected(QRectF(self.rect()).adjusted(1, 1, -1, -1)))
        if self.hasFocus():
            painter.setPen(QPen(QColor(self._theme.accent), 1.0, Qt.PenStyle.DotLine))
            painter.drawRect(QRectF(self.rect()).adjusted(2, 2, -2, -2))

    def _left(self, box: Box, scale: float) -> float:
        gutter = self._gutter(self.section, scale) if self.section is not None else 0.0
        return (self.width() - gutter - box.width * scale) / 2

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Look closely at the place that is pressed."""
        self._point(event.position().x())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow the mouse while it is pressed."""
        self._point(event.position().x())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go along with the arrow keys, to the ends with Home and End."""
        found, seen = self.view(), self.frame
        if found is None or seen is None or self._close:
            super().keyPressEvent(event)
            return
        middle, box = (seen.left + seen.right) / 2, found[0]
        match event.key():
            case Qt.Key.Key_Left:
                self.pointed.emit(middle - _STEP * seen.width)
            case Qt.Key.Key_Right:
                self.pointed.emit(middle + _STEP * seen.width)
            case Qt.Key.Key_Home:
                self.pointed.emit(box.left)
            case Qt.Key.Key_End:
                self.pointed.emit(box.right)
            case _:
                super().keyPressEvent(event)

    def _point(self, x: float) -> None:
        found = self.view()
        if found is not None and not self._close:
            box, scale = found
            left = self._left(box, scale)
            self.pointed.emit(box.left + (x - left) / scale)


def _clipped(
    drawing: Drawing, shown: QRectF, beside: QRectF
) -> Iterator[tuple[Sequence[Group], QRectF]]:
    """Give the groups with what they are clipped by: names of levels stand beside the rest."""
    yield [group for group in drawing.groups if group.id != "levels"], shown
    yield [group for group in drawing.groups if group.id == "levels"], beside


def _close_range(section: Section) -> tuple[float, float]:
    """Return from where to where, upwards, a close look goes."""
    if not section.rafts:
        return section.bottom, section.top
    feet = [
        cut.top + site.pot.proud - site.pot.pot.depth
        for cut in section.rafts
        for site in cut.sites
        if site.pot is not None
    ]
    low = min(*(cut.bottom for cut in section.rafts), section.water, *feet)
    high = max(*(cut.top for cut in section.rafts), section.water)
    return low - _BELOW_FEET, high + _ABOVE_FOAM


class SideSight(SightView):
    """What is cut and when is chosen above; below, all of the section and a close look at it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._now: Now | None = None
        self.axis: ChoiceField = _choice(tr("Cut"), _AXES)
        self.level: ChoiceField = _choice(tr("Water"), _LEVELS)
        self.state: ChoiceField = _choice(tr("When"), _STATES)
        self.state.show_value("harvest")
        self.words = label("", "quiet")
        self.whole = SectionCanvas(close=False)
        self.near = SectionCanvas(close=True)
        self.whole.setAccessibleName(tr("The bed from the side; arrow keys move the close look"))
        self.near.setAccessibleName(tr("A close look at rafts and pots"))
        self.whole.pointed.connect(self._look_at)
        for field in (self.axis, self.level, self.state):
            field.committed.connect(lambda _value: self._show())
        choices = side_by_side(self.axis, self.level, self.state)
        box = QVBoxLayout(self)
        box.setContentsMargins(14, 10, 14, 12)
        box.setSpacing(8)
        box.addWidget(choices)
        box.addWidget(self.words)
        box.addWidget(self.whole, 2)
        box.addWidget(self.near, 3)

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        self._now = now
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Take these colours."""
        for canvas in (self.whole, self.near):
            canvas.set_theme(theme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show more in the close look where there is more room."""
        super().resizeEvent(event)
        self._frame()

    def _show(self) -> None:
        now = self._now
        plan = now.bed_plan if now is not None else None
        if now is None or plan is None:
            return
        water = plan.bed.water
        noted = {"working": True, "low": bool(water.low.mm), "high": bool(water.high.mm)}
        level = _picked(self.level, _LEVELS)
        self.level.set_options([(each, tr(words)) for each, words in _LEVELS if noted[each]])
        self.level.show_value(level if noted[level] else "working")
        section = cut_through(
            now.plan,
            plan,
            _picked(self.axis, _AXES),
            _picked(self.level, _LEVELS),
            _picked(self.state, _STATES),
        )
        unit = now.project.units
        for canvas in (self.whole, self.near):
            canvas.show_section(section, unit)
        self.words.setText(_words(now, section, _picked(self.state, _STATES), unit))
        self._frame()

    def _look_at(self, at: float) -> None:
        box = self.whole.section.box if self.whole.section is not None else None
        if box is not None:
            found = self.near.view()
            half = found[0].width / 2 if found is not None else 0.0
            self.near.focus = min(max(at, box.left + half), box.right - half)
            self.near.update()
            self._frame()

    def _frame(self) -> None:
        found = self.near.view()
        self.whole.frame = found[0] if found is not None else None
        self.whole.update()


def _words(now: Now, section: Section | None, state: State, unit: Unit) -> str:
    if section is None:
        return ""
    if not section.rafts:
        plan = now.bed_plan
        if plan is not None and not plan.rafts:
            return tr("No raft fits this bed with these gaps.")
        return no_float_words(None)
    where = (
        tr("Cut along the bed, {at} from its lower side.", at=length_text(section.at, unit))
        if section.axis == "along"
        else tr("Cut across the bed, {at} from its left side.", at=length_text(section.at, unit))
    )
    cut = section.rafts[0]
    line = state_line(cut.afloat, state, section.axis, unit)
    said = [where, tr("Raft {raft}: {line}.", raft=cut.name, line=line)]
    held = next((each.name for each in section.rafts if each.is_held), "")
    if held:
        said.append(tr("The floor holds {raft} up.", raft=held))
    said.append(tr("Leaves and roots are only hinted at."))
    return " ".join(said)


def _choice(name: str, options: Sequence[tuple[object, str]]) -> ChoiceField:
    made = ChoiceField()
    made.setAccessibleName(name)
    made.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
    made.set_options([(option, tr(words)) for option, words in options])
    made.show_value(options[0][0])
    return made


def _picked(field: ChoiceField, options: Sequence[tuple[Option, str]]) -> Option:
    value = field.value()
    return next((option for option, _ in options if option == value), options[0][0])
