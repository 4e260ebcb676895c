"""The last line: where the pointer is, what can be done, and the truth in one breath."""

from __future__ import annotations

from typing import TYPE_CHECKING  # noqa: TID251  the plan is loaded after the window is shown

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QFontMetrics,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QLineEdit, QSizePolicy, QWidget

from geometry.tongue import tr
from geometry.units import Unit, format_density, format_length
from layout_gui.panels.aloud import say_aloud
from layout_gui.panels.now import Now
from layout_gui.panels.tips import plain_tip
from layout_gui.panels.words import counted
from layout_gui.panels.working import Working

if TYPE_CHECKING:
    from geometry.plan import BedPlan

_MARGIN = 4
_MOST_CROPS = 3
_PICKED_SHARE = 0.24
"""Share of the line that what is selected keeps, however much the rest has to say."""


def truth(now: Now) -> str:
    """Say the bed's plants, their density in both systems and the ceiling; then all plants."""
    plan = now.bed_plan
    if plan is None:
        return ""
    from layout_gui.wording.plans import proof_words  # noqa: PLC0415  loaded with the first plan

    if plan.ceiling is None:
        return tr("nothing planted in this bed")
    per_m2, per_ft2 = (format_density(plan.density_per_m2, unit) for unit in ("mm", "in"))
    words = [counted(plan.plants, "plant"), per_m2, per_ft2]
    if plan.plugged:
        words.insert(1, tr("{used} in use now", used=plan.plants - plan.plugged))
    words[1:1] = crop_counts(plan)
    words.append(
        proof_words(plan.proof)
        if plan.proof
        else tr("at most {ceiling} by proof", ceiling=plan.ceiling)
    )
    if len(now.plan.beds) > 1:
        words.append(
            tr("{plants} in all {beds} beds", plants=now.plan.plants, beds=len(now.plan.beds))
        )
    return " · ".join(words)


def crop_counts(plan: BedPlan) -> list[str]:
    """Count the plants of each crop in a line, where there are several and not too many."""
    crops = [crop for crop in plan.crops if crop.plants]
    if not 1 < len(crops) <= _MOST_CROPS:
        return []
    return [", ".join(f"{crop.plants} {tr(crop.crop) or tr('without a name')}" for crop in crops)]


def place_words(x: float, y: float, raft: str, unit: Unit, *, from_zero: bool = False) -> str:
    """Say where the pointer is, measured from a raft's datum, the rulers' zero, or the bed."""
    places = {"x": format_length(x, unit), "y": format_length(y, unit)}
    if from_zero:
        return tr("x {x}  y {y} from the rulers' zero", **places)
    if raft:
        return tr("x {x}  y {y} from raft {raft}", **places, raft=raft)
    return tr("x {x}  y {y} from the bed's corner", **places)


class LastLine(QFrame):
    """Four texts, the zoom, and what is worked on; without room for all, the truth stays whole."""

    zoom_typed = Signal(str)
    """A zoom as it was typed."""

    zoom_left = Signal()
    """The zoom is left as it was."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "last-line")
        row = QHBoxLayout(self)
        row.setContentsMargins(14, _MARGIN, 14, _MARGIN)
        row.setSpacing(12)
        self._place = _Elided(tr("Pointer"))
        self._picked = _Elided(tr("Selected"))
        self._hint = _Elided(tr("What can be done"))
        self.zoom = _Zoom()
        self.zoom.hide()
        self.zoom.returnPressed.connect(lambda: self.zoom_typed.emit(self.zoom.text()))
        self.zoom.left.connect(self.zoom_left)
        self.truth = _Truth()
        self.truth.setObjectName("truth")
        row.addWidget(self._place, 2)
        row.addWidget(self._picked, 2)
        self._picked.setVisible(False)
        row.addWidget(self._hint, 3)
        self.working = Working()
        row.addWidget(self.working)
        row.addWidget(self.truth)
        row.addWidget(self.zoom)

    def sizeHint(self) -> QSize:
        """As high with and without what works, so that the bed stays where it is."""
        return super().sizeHint().expandedTo(self._least())

    def minimumSizeHint(self) -> QSize:
        """As high with and without what works."""
        return super().minimumSizeHint().expandedTo(self._least())

    def _least(self) -> QSize:
        return QSize(0, self.working.sizeHint().height() + 2 * _MARGIN)

    @property
    def place(self) -> str:
        """Where the pointer is, in full."""
        return self._place.full

    def show_place(self, text: str) -> None:
        """Show where the pointer is; an empty text when it is elsewhere."""
        self._place.show_text(text)

    def show_hint(self, text: str) -> None:
        """Show what can be done, or what was done."""
        if text != self._hint.full:
            say_aloud(self, text)
        self._hint.show_text(text)

    @property
    def picked(self) -> str:
        """What is selected or snapped to, in full."""
        return self._picked.full

    def show_picked(self, text: str) -> None:
        """Show what is selected, or what the thing on the move snapped to."""
        if text != self._picked.full:
            say_aloud(self, text)
        self._picked.show_text(text)
        self._picked.setVisible(bool(text))
        wide = QFontMetrics(self._picked.font()).horizontalAdvance(text) + 4
        self._picked.setMinimumWidth(min(wide, round(_PICKED_SHARE * self.width())))

    def show_zoom(self, text: str) -> None:
        """Show the zoom, unless another one is being typed."""
        self.zoom.show_zoom(text)

    def edit_zoom(self) -> None:
        """Give the keyboard to the zoom."""
        self.zoom.setFocus()
        self.zoom.selectAll()

    def show_now(self, now: Now) -> None:
        """Show the count, the densities and the ceiling."""
        words = truth(now)
        if words != self.truth.text():
            say_aloud(self, words)
        self.truth.setText(words)
        self.truth.setAccessibleName(self.truth.text())
        self.truth.setToolTip(plain_tip(self.truth.text()))


class _Zoom(QLineEdit):
    """The zoom, ready to be typed over."""

    left = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._shown = ""
        self.setProperty("role", "zoom")
        self.setAccessibleName(tr("Zoom"))
        self.setToolTip(tr("Zoom: type 150 % or 1:5"))
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self._fit()

    def show_zoom(self, text: str) -> None:
        is_typed = self.hasFocus() and self.text() != self._shown
        self._shown = text
        if not is_typed:
            self.setText(text)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.setText(self._shown)
            self.left.emit()
            return
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            # What was typed counts as shown, so that the zoom it leads to takes its place.
            self._shown = self.text()
        super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.setText(self._shown)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in {QEvent.Type.FontChange, QEvent.Type.StyleChange}:
            self._fit()

    def _fit(self) -> None:
        self.setFixedWidth(QFontMetrics(self.font()).horizontalAdvance("10000 %") + 22)


class _Truth(QLabel):
    """A line that stays whole as long as anything else can give way, and then says it is cut."""

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("role", "truth")
        self.setTextFormat(Qt.TextFormat.PlainText)

    def minimumSizeHint(self) -> QSize:
        """Give way in the end rather than lose the end without a sign."""
        return QSize(0, super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        room = self.contentsRect()
        cut = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, room.width())
        if cut == self.text():
            super().paintEvent(event)
            return
        painter = QPainter(self)
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, cut)


class _Elided(QLabel):
    """A quiet text that gives way when there is no room for it."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self._name = name
        self.full = ""
        self.setProperty("role", "quiet")
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def show_text(self, text: str) -> None:
        self.full = text
        self.setToolTip(plain_tip(text))
        self.setAccessibleName(f"{self._name}: {text}")
        self._elide()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._elide()

    def _elide(self) -> None:
        metrics = QFontMetrics(self.font())
        self.setText(metrics.elidedText(self.full, Qt.TextElideMode.ElideRight, self.width()))
