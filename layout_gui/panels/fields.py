"""Editors for one value each. They read, refuse and report; what a value means is not theirs.

Every editor emits ``committed`` with a value that is meant; ``stepped`` is the same for one of a
run of steps. ``tried`` carries a value that is still being typed, ``refused`` the reason why a text
cannot be read (empty once it can).
"""

from collections.abc import Sequence
from fractions import Fraction
from functools import partial
from typing import Final

from PySide6.QtCore import QEvent, QPoint, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QPen,
    QValidator,
    QWheelEvent,
)
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QSpinBox,
    QWidget,
)

from geometry.errors import GeometryError
from geometry.tongue import GROUP_SIGN, either, mark, number, tr
from geometry.units import Length, Unit, both_units, exact_text, parse_length

MIXED: Final = object()
"""Stands for the values of several things that differ."""

MIXED_TEXT: Final = mark("mixed")

_STEP: Final[dict[Unit, Fraction]] = {
    "mm": Fraction(1),
    "cm": Fraction(1),
    "in": Fraction(254, 160),
}
_BOX: Final = 17
_LEAST_HIGH: Final = 24
"""What a finger hits (WCAG 2.2, 2.5.8)."""
_INDENT: Final = 8
_NARROWEST: Final = 110
_DIRECTION: Final = {
    Qt.Key.Key_Up: 1,
    Qt.Key.Key_Down: -1,
    Qt.Key.Key_PageUp: 10,
    Qt.Key.Key_PageDown: -10,
}


def _factor(modifiers: Qt.KeyboardModifier) -> Fraction:
    if modifiers & Qt.KeyboardModifier.ShiftModifier:
        return Fraction(10)
    if modifiers & Qt.KeyboardModifier.ControlModifier:
        return Fraction(1, 10)
    return Fraction(1)


def _is_a_step_back(event: QEvent) -> bool:
    """Tell whether a key asks for undo or redo."""
    steps = (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)
    return isinstance(event, QKeyEvent) and any(map(event.matches, steps))


def _wheel_steps(event: QWheelEvent) -> int:
    # Shift turns a wheel sideways on some systems.
    delta = event.angleDelta().y() or event.angleDelta().x()
    return (delta > 0) - (delta < 0)


def _paint_steps(field: QAbstractSpinBox) -> None:
    """Paint a minus and a plus where the field has its two step buttons."""
    painter = QPainter(field)
    painter.setPen(QPen(field.palette().placeholderText().color(), 1.4))
    y = field.height() // 2
    plus, minus = field.width() - 13, field.width() - 37
    painter.drawLine(minus - 4, y, minus + 4, y)
    painter.drawLine(plus - 4, y, plus + 4, y)
    painter.drawLine(plus, y - 4, plus, y + 4)


class LengthField(QAbstractSpinBox):
    """A length, typed in any unit; a bare number is read in the project's unit.

    Arrows and wheel step by 1 mm or 1/16 in, ten times that with Shift, a tenth with Ctrl. With
    ``empty_means`` an empty field is a value of its own, None. A text that is refused stays, with
    its reason, until Escape or until another value is shown.
    """

    tried = Signal(object)
    reverted = Signal()
    committed = Signal(object)
    stepped = Signal(object)
    refused = Signal(str)

    def __init__(self, *, empty_means: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._unit: Unit = "mm"
        self._value: object = None
        self._shown = ""
        self._empty_means = empty_means
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setKeyboardTracking(True)
        self.lineEdit().setTextMargins(_INDENT, 0, 0, 0)
        self.lineEdit().textEdited.connect(self._on_text_edited)
        self.editingFinished.connect(self._on_finished)

    @property
    def is_touched(self) -> bool:
        """Whether the text is no longer the one that was shown."""
        return self.text() != self._shown

    def value(self) -> object:
        """Return the value last shown or meant: a Length, None or MIXED."""
        return self._value

    def show_value(self, value: object) -> None:
        """Show a Length, None (empty) or MIXED; a text that is being typed is left alone."""
        is_same = value == self._value
        self._value = value
        if not self.is_touched or not (self.hasFocus() or is_same):
            self._show()
            self.refused.emit("")

    def settle(self, value: object) -> None:
        """Show a value in place of the text it was typed as."""
        self._value = value
        self._show()

    def set_unit(self, unit: Unit) -> None:
        """Show and read in this unit from now on."""
        if unit != self._unit:
            self._unit = unit
            self._show()

    def revert(self) -> None:
        """Forget what was typed."""
        self._show()
        self.refused.emit("")
        self.reverted.emit()

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window, unless there is a typed text to undo."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and not self.is_touched
            and _is_a_step_back(event)
        ):
            event.ignore()
            return False
        return super().event(event)

    def validate(self, text: str, pos: int) -> tuple[QValidator.State, str, int]:
        """Let everything be typed; reading it is judged separately, with a reason."""
        return (QValidator.State.Acceptable, text, pos)

    def stepEnabled(self) -> QAbstractSpinBox.StepEnabledFlag:
        """Allow steps both ways."""
        flag = QAbstractSpinBox.StepEnabledFlag
        return flag.StepUpEnabled | flag.StepDownEnabled

    def stepBy(self, steps: int) -> None:
        """Step by whole steps; never to zero or below."""
        self._step(Fraction(steps))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows and page keys step; Escape brings the old value back."""
        steps = _DIRECTION.get(Qt.Key(event.key()))
        if steps is not None:
            self._step(steps * _factor(event.modifiers()))
        elif event.key() == Qt.Key.Key_Escape and self.is_touched:
            self.revert()
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Step only while the field has the focus; otherwise the panel scrolls."""
        if self.hasFocus():
            self._step(_wheel_steps(event) * _factor(event.modifiers()))
            event.accept()
        else:
            event.ignore()

    def minimumSizeHint(self) -> QSize:
        """Let a panel be narrow; the text scrolls."""
        return QSize(_NARROWEST, super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the field with its minus and plus."""
        super().paintEvent(event)
        _paint_steps(self)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Select the text, ready to be typed over."""
        super().focusInEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.selectAll()

    def _show(self) -> None:
        value = self._value
        self._shown = exact_text(value, self._unit) if isinstance(value, Length) else ""
        if self.lineEdit().text() != self._shown:
            self.lineEdit().setText(self._shown)
            if self.hasFocus():
                self.selectAll()  # still ready to be typed over
        self.lineEdit().setPlaceholderText(tr(MIXED_TEXT) if value is MIXED else self._empty_means)

    def _read(self) -> Length | None:
        text = self.text().strip()
        if not text and self._empty_means:
            return None
        return parse_length(text, self._unit)

    def _on_text_edited(self) -> None:
        try:
            value = self._read()
        except GeometryError as error:
            self.refused.emit(str(error))
            return
        self.refused.emit("")
        self.tried.emit(value)

    def _on_finished(self) -> None:
        if not self.is_touched:
            return
        try:
            value = self._read()
        except GeometryError as error:
            self.refused.emit(str(error))
            return
        self.committed.emit(value)

    def _step(self, steps: Fraction) -> None:
        try:
            start = self._read()
        except GeometryError:
            return
        if start is None:
            return
        exact = start.exact + steps * _STEP[self._unit]
        if exact < 0:
            return
        self.settle(Length(exact))
        self.refused.emit("")
        self.stepped.emit(self._value)


class LengthNote(QLabel):
    """Beneath length fields: how the last text typed was understood, or why it is refused."""

    def __init__(self, *fields: LengthField) -> None:
        super().__init__("")
        self.setProperty("role", "quiet")
        self.setWordWrap(True)
        self.setVisible(False)
        for field in fields:
            field.tried.connect(partial(self._show, field))
            field.committed.connect(partial(self._show, field))
            field.stepped.connect(partial(self._show, field))
            field.refused.connect(partial(self._refuse, field))
            field.reverted.connect(partial(self._say, field, ""))

    def _show(self, field: LengthField, value: object) -> None:
        self._say(field, both_units(value) if isinstance(value, Length) else "")

    def _refuse(self, field: LengthField, reason: str) -> None:
        if reason or self.property("refused"):
            self._say(field, f"! {reason}" if reason else "", is_refused=bool(reason))

    def _say(self, field: LengthField, text: str, *, is_refused: bool = False) -> None:
        self.setText(text)
        self.setVisible(bool(text))
        field.setAccessibleDescription(text)
        for part in (self, field):
            part.setProperty("refused", is_refused)
            part.style().unpolish(part)
            part.style().polish(part)


class CountField(QSpinBox):
    """A whole number. With ``empty_means`` the least value stands for None."""

    stepped = Signal(object)

    def __init__(
        self,
        *,
        least: int = 1,
        most: int = 100_000,
        empty_means: str = "",
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._has_empty = bool(empty_means)
        self.setRange(least - 1 if empty_means else least, most)
        self.setSpecialValueText(empty_means)
        self.setKeyboardTracking(False)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.lineEdit().setTextMargins(_INDENT, 0, 0, 0)
        self.valueChanged.connect(self._on_changed)

    def show_value(self, value: object) -> None:
        """Show a whole number, or None for the empty meaning."""
        self.blockSignals(True)
        self.setValue(value if isinstance(value, int) else self.minimum())
        self.blockSignals(False)

    def set_unit(self, unit: Unit) -> None:
        """Counts have no unit."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Step only while the field has the focus."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def minimumSizeHint(self) -> QSize:
        """Let a panel be narrow; the text scrolls."""
        return QSize(_NARROWEST, super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the field with its minus and plus."""
        super().paintEvent(event)
        _paint_steps(self)

    def _on_changed(self, value: int) -> None:
        empty = self._has_empty and value == self.minimum()
        self.stepped.emit(None if empty else value)


class ChoiceField(QComboBox):
    """One of a few values, each with its words."""

    committed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._options: tuple[tuple[object, str], ...] = ()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(8)
        self.setMaxVisibleItems(16)
        self.activated.connect(self._on_activated)

    def set_options(self, options: Sequence[tuple[object, str]]) -> None:
        """Offer these values; the shown one stays when it is still among them."""
        if self._options == tuple(options):
            return
        self._options = tuple(options)
        self.clear()
        self.addItems([words for _, words in options])

    def value(self) -> object:
        """Return the value that is shown; None when it is no option."""
        at = self.currentIndex()
        return self._options[at][0] if at >= 0 else None

    def show_value(self, value: object) -> None:
        """Show one of the options, or MIXED."""
        values = [option for option, _ in self._options]
        self.setPlaceholderText(tr(MIXED_TEXT) if value is MIXED else "")
        self.setCurrentIndex(values.index(value) if value in values else -1)

    def set_unit(self, unit: Unit) -> None:
        """Choices have no unit."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Step only while the field has the focus."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the box, then a chevron in the colour of the words."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().placeholderText().color(), 1.6))
        x, y = self.width() - 16.0, self.height() / 2 - 2
        painter.drawPolyline([QPointF(x - 4, y), QPointF(x, y + 4), QPointF(x + 4, y)])

    def _on_activated(self, index: int) -> None:
        self.committed.emit(self._options[index][0])


class TextField(QLineEdit):
    """A line of text; ``committed`` on Enter and when the field is left."""

    committed = Signal(object)
    refused = Signal(str)

    def __init__(self, *, empty_means: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown = ""
        self._empty_means = empty_means
        self.setMaxLength(200)
        self.setPlaceholderText(empty_means)
        self.editingFinished.connect(self._on_finished)

    def show_value(self, value: object) -> None:
        """Show a text; what is being typed is left alone."""
        if not (self.hasFocus() and self.text() != self._shown):
            self._shown = self.words(value)
            self.setText(self._shown)

    def set_unit(self, unit: Unit) -> None:
        """Texts have no unit."""

    def words(self, value: object) -> str:
        """How a value is shown."""
        return "" if value is None else str(value)

    def read(self, text: str) -> object:
        """Read a typed text; raises GeometryError with the reason."""
        if not text and not self._empty_means:
            raise GeometryError(tr("A name is needed here."))
        return text

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window, unless there is a typed text to undo."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and self.text() == self._shown
            and _is_a_step_back(event)
        ):
            event.ignore()
            return False
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape brings the old text back."""
        if event.key() == Qt.Key.Key_Escape and self.text() != self._shown:
            self.setText(self._shown)
            self.refused.emit("")
        else:
            super().keyPressEvent(event)

    def _on_finished(self) -> None:
        text = self.text().strip()
        if text == self._shown:
            return
        try:
            value = self.read(text)
        except GeometryError as error:
            self.refused.emit(str(error))
            return
        self._shown = text
        self.refused.emit("")
        self.committed.emit(value)


class NumberField(TextField):
    """A decimal number at or above zero, such as a price; point or comma. Empty is None."""

    def words(self, value: object) -> str:
        """Show two decimals, none of a whole number."""
        if not isinstance(value, Fraction):
            return ""
        return number(float(value), 0 if value.denominator == 1 else 2)

    def read(self, text: str) -> object:
        """Read exactly; a comma is a decimal comma."""
        if not text:
            return None
        try:
            value = Fraction(text.replace(GROUP_SIGN, "").replace(",", "."))
        except (ValueError, ZeroDivisionError):
            raise GeometryError(tr("“{text}” is not a number.", text=text)) from None
        if value < 0:
            raise GeometryError(tr("This cannot be below zero."))
        return value


class LengthsField(TextField):
    """Several lengths with ";" between them; ``counts`` says how many there may be."""

    def __init__(self, *, counts: tuple[int, ...] = (), parent: QWidget | None = None) -> None:
        super().__init__(empty_means=tr("not measured"), parent=parent)
        self._unit: Unit = "mm"
        self._counts = counts

    def set_unit(self, unit: Unit) -> None:
        """Show and read in this unit from now on."""
        self._unit = unit

    def words(self, value: object) -> str:
        """Join the lengths, each as exact as it was typed."""
        lengths = value if isinstance(value, tuple) else ()
        return "; ".join(exact_text(length, self._unit) for length in lengths)

    def read(self, text: str) -> object:
        """Read every length between the ";"."""
        parts = [part for part in text.split(";") if part.strip()]
        if len(parts) not in self._counts:
            wanted = either(str(count) for count in self._counts)
            raise GeometryError(
                tr("{wanted} lengths are wanted here, with ; between them.", wanted=wanted)
            )
        return tuple(parse_length(part, self._unit) for part in parts)


_WRAPPED: Final = (
    Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextShowMnemonic | Qt.TextFlag.TextWordWrap
)


class SwitchField(QCheckBox):
    """Yes or no."""

    committed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        # A box to tick does not shrink by itself, whatever its least size is.
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setMinimumHeight(_LEAST_HIGH)  # also while a crowded panel is still being laid out
        self.clicked.connect(lambda on: self.committed.emit(bool(on)))

    def show_value(self, value: object) -> None:
        """Show yes, no, or MIXED."""
        if value is MIXED:
            self.setCheckState(Qt.CheckState.PartiallyChecked)
        else:
            self.setChecked(bool(value))

    def set_unit(self, unit: Unit) -> None:
        """Yes and no have no unit."""

    def sizeHint(self) -> QSize:
        """Room for the box and the words."""
        metrics = self.fontMetrics()
        width = _BOX + 10 + metrics.horizontalAdvance(self.text())
        return QSize(width, max(metrics.height(), _BOX) + 10)

    def minimumSizeHint(self) -> QSize:
        """Let a panel be narrow; the words go on in another line."""
        return QSize(min(_NARROWEST, self.sizeHint().width()), self.sizeHint().height())

    def hasHeightForWidth(self) -> bool:
        """Words that do not fit into one line take more."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height that the words take at this width."""
        room = QRect(0, 0, max(width - _BOX - 10, 1), 10_000)
        words = self.fontMetrics().boundingRect(room, _WRAPPED, self.text())
        return max(words.height(), _BOX) + 10

    def hitButton(self, pos: QPoint) -> bool:
        """Let a click on the box or the words switch."""
        return self.rect().contains(pos)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint a box, its tick or bar, and the words."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        palette = self.palette()
        box = QRectF(1, (self.height() - _BOX) / 2, _BOX, _BOX)
        accent, is_off = palette.accent().color(), not self.isChecked()
        ring = accent if self.hasFocus() or not is_off else palette.placeholderText().color()
        painter.setPen(QPen(ring, 2 if self.hasFocus() else 1.2))
        painter.setBrush(palette.base())
        painter.drawRoundedRect(box, 4, 4)
        painter.setPen(QPen(accent, 2))
        if self.checkState() is Qt.CheckState.PartiallyChecked:
            painter.drawLine(QPointF(5, box.center().y()), QPointF(13, box.center().y()))
        elif not is_off:
            at = box.topLeft()
            tick = ((4.2, 9.2), (7.6, 12.6), (13.4, 5.4))
            painter.drawPolyline([QPointF(at.x() + x, at.y() + y) for x, y in tick])
        role = palette.windowText() if self.isEnabled() else palette.placeholderText()
        painter.setPen(role.color())
        words = self.rect().adjusted(_BOX + 10, 0, 0, 0)
        painter.drawText(words, _WRAPPED, self.text())


Editor = LengthField | CountField | ChoiceField | TextField | SwitchField
