"""The last line: where the pointer is, what can be done, and the truth in one breath."""

from __future__ import annotations

from typing import TYPE_CHECKING  # noqa: TID251  the plan is loaded after the window is shown

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QFontMetrics,
    QKeyEvent,
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
_GAP = 12
_LINES = 2
_SLACK = 2
"""Pixels a text gets more than it measures, since what is painted is rounded."""


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
    """Four texts, the zoom, and what is worked on.

    A text takes a second line before it is cut, the truth after all others and as the last.
    """

    zoom_typed = Signal(str)
    """A zoom as it was typed."""

    zoom_left = Signal()
    """The zoom is left as it was."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "last-line")
        row = self._row = QHBoxLayout(self)
        row.setContentsMargins(14, _MARGIN, 14, _MARGIN)
        row.setSpacing(_GAP)
        self._place = _Lines(tr("Pointer"))
        self._picked = _Lines(tr("Selected"))
        self._hint = _Lines(tr("What can be done"))
        self._place_room = 0
        self.zoom = _Zoom()
        self.zoom.hide()
        self.zoom.returnPressed.connect(lambda: self.zoom_typed.emit(self.zoom.text()))
        self.zoom.left.connect(self.zoom_left)
        self.truth = _Lines("", role="truth")
        self.truth.setObjectName("truth")
        row.addWidget(self._place)
        row.addWidget(self._picked)
        self._picked.setVisible(False)
        row.addWidget(self._hint, 1)
        self.working = Working()
        self.working.installEventFilter(self)
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
        lines = _LINES * QFontMetrics(self.truth.font()).lineSpacing()
        return QSize(0, max(self.working.sizeHint().height(), lines) + 2 * _MARGIN)

    @property
    def place(self) -> str:
        """Where the pointer is, in full."""
        return self._place.full

    def show_place(self, text: str) -> None:
        """Show where the pointer is; an empty text when it is elsewhere."""
        self._place.show_text(text)
        self._share()

    @property
    def hint(self) -> str:
        """What can be done, in full."""
        return self._hint.full

    def show_hint(self, text: str) -> None:
        """Show what can be done, or what was done."""
        if text != self._hint.full:
            say_aloud(self, text)
        self._hint.show_text(text)
        self._share()

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
        self._share()

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
        if words != self.truth.full:
            say_aloud(self, words)
        self.truth.show_text(words)
        self._share()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the room anew."""
        super().resizeEvent(event)
        self._place_room = 0
        self._share()

    def changeEvent(self, event: QEvent) -> None:
        """Make room for larger text."""
        super().changeEvent(event)
        if event.type() in {QEvent.Type.FontChange, QEvent.Type.StyleChange}:
            self.updateGeometry()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Share the room anew when something begins or ends being worked out."""
        if event.type() in {QEvent.Type.Show, QEvent.Type.Hide}:
            self._share()
        return super().eventFilter(watched, event)

    def _share(self) -> None:
        others = [each for each in (self.zoom, self.working) if not each.isHidden()]
        texts = [each for each in (self._place, self._picked, self._hint) if not each.isHidden()]
        margins = self._row.contentsMargins()
        room = self.width() - margins.left() - margins.right()
        room -= sum(each.sizeHint().width() for each in others)
        room -= _GAP * (len(others) + len(texts))
        # The pointer's place changes all the time; the others are not to sway with it.
        self._place_room = max(self._place_room, self._place.width_in(_LINES))
        least = {each: each.width_in(_LINES) for each in texts}
        least[self._place] = self._place_room
        whole, folded = self.truth.width_in(1), self.truth.width_in(_LINES)
        own = whole if whole + sum(least.values()) <= room else folded
        left = max(room - own, 0)
        wanted = sum(least.values())
        if wanted > left:
            shares = {each: round(wide * left / wanted) for each, wide in least.items()}
        else:
            shares, left = dict(least), left - wanted
            for each in reversed(texts):
                more = min(max(each.width_in(1) - shares[each], 0), left)
                shares[each], left = shares[each] + more, left - more
        for each, wide in shares.items():
            each.take(wide)
        self.truth.take(max(min(own, room), 0))
        self._row.activate()


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


class _Lines(QLabel):
    """A text that takes a second line where one has no room for it, and is cut after that."""

    def __init__(self, name: str, role: str = "quiet") -> None:
        super().__init__()
        self._name = name
        self.full = ""
        self._wide = 0
        self._known: dict[int, int] = {}
        self.setProperty("role", role)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)

    def show_text(self, text: str) -> None:
        """Show another text, in full for those who hear it."""
        self.full = text
        self._known.clear()
        self.setToolTip(plain_tip(text))
        self.setAccessibleName(f"{self._name}: {text}" if self._name else text)
        self._fold()

    def width_in(self, lines: int) -> int:
        """Return how wide the whole text is in one line, or in two."""
        if lines not in self._known:
            wide = self._broken() if lines > 1 else self._measure(self.full)
            self._known[lines] = wide + _SLACK if self.full else 0
        return self._known[lines]

    def take(self, wide: int) -> None:
        """Be so wide."""
        if wide != self._wide:
            self._wide = wide
            self.updateGeometry()

    def sizeHint(self) -> QSize:
        """As wide as the line has given it."""
        return QSize(self._wide, self.minimumSizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """Give way rather than widen the window."""
        return QSize(0, _LINES * self.fontMetrics().lineSpacing())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fold()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in {QEvent.Type.FontChange, QEvent.Type.StyleChange}:
            self._known.clear()

    def _measure(self, text: str) -> int:
        return self.fontMetrics().horizontalAdvance(text)

    def _broken(self) -> int:
        """Return the width of the wider of two lines, broken where that is least."""
        words = self.full.split(" ")
        ways = [(words[:at], words[at:]) for at in range(1, len(words) + 1)]
        return min(max(self._measure(" ".join(line)) for line in way) for way in ways)

    def _fold(self) -> None:
        room = self.width()
        if self._measure(self.full) <= room:
            self.setText(self.full)
            return
        words = self.full.split(" ")
        fits = [at for at in range(1, len(words)) if self._measure(" ".join(words[:at])) <= room]
        at = max(fits, default=0)
        lines = [" ".join(words[:at]), " ".join(words[at:])] if at else [self.full]
        cut = self.fontMetrics().elidedText(lines[-1], Qt.TextElideMode.ElideRight, room)
        self.setText("\n".join([*lines[:-1], cut]))
