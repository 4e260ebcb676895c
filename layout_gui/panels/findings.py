"""Findings as short paragraphs: what, where, how far off, and the change that clears it."""

from functools import partial
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from geometry.checks.finding import Finding
from geometry.plan import Plan
from geometry.units import Unit
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Column, button, label
from layout_gui.panels.stations import open_findings
from layout_gui.panels.words import counted
from layout_gui.wording import cure_label, finding_text, finding_title

MOST_SHOWN: Final = 25
_LONGEST: Final = 34
_RANK: Final = {"problem": 0, "question": 1, "note": 2}
_SIGNS: Final = {"problem": "!", "question": "?", "note": "i"}
_SIGN_WORDS: Final = {"problem": "Problem", "question": "Question", "note": "Note"}


class FindingCard(QFrame):
    """One finding. A click or Enter shows its place."""

    shown = Signal(object)
    cured = Signal(object)
    left = Signal(object)

    def __init__(self, finding: Finding, plan: Plan, unit: Unit) -> None:
        super().__init__()
        self.finding = finding
        is_note = finding.severity == "note"
        self.setProperty("role", "note" if is_note else "finding")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setToolTip("Show the place")
        title, text = finding_title(finding, unit), finding_text(finding, unit, plan)
        self.setAccessibleName(f"{_SIGN_WORDS[finding.severity]}: {title}")
        self.setAccessibleDescription(text)
        box = QVBoxLayout(self)
        box.setContentsMargins(13, 10, 13, 8)
        box.setSpacing(2)
        head = label(f"{_SIGNS[finding.severity]}  {title}", "heading" if is_note else "warn")
        box.addWidget(head)
        if text:
            box.addWidget(label(text))
        self.cure: QPushButton | None = None
        if finding.cure is not None:
            words = cure_label(finding.cure, unit)
            short = words if len(words) <= _LONGEST else "Make it so"
            self.cure = button(short, self._cure, "link")
            self.cure.setToolTip(words)
            self.cure.setAccessibleName(words)
            box.addWidget(self.cure, 0, Qt.AlignmentFlag.AlignLeft)
        self.leave = button("Leave it, with a note…", lambda: self.left.emit(self.finding), "link")
        box.addWidget(self.leave, 0, Qt.AlignmentFlag.AlignLeft)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the press, so that the release comes here too."""
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Show the place of the finding."""
        event.accept()
        self.shown.emit(self.finding)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter shows the place."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space}:
            self.shown.emit(self.finding)
        else:
            super().keyPressEvent(event)

    def _cure(self) -> None:
        self.cured.emit(self.finding)


class FindingsPanel(Column):
    """The findings that are open, the worst first, and those left with a note."""

    emptied = Signal(bool)
    """Whether there is nothing to list any more, or something again."""

    place_wanted = Signal(object)
    cure_wanted = Signal(object)
    leave_wanted = Signal(object)
    reopen_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Findings", parent)
        self.cards: list[FindingCard] = []
        self.reopeners: dict[str, QPushButton] = {}
        self._shown: object = None
        self._is_empty: bool | None = None
        self._inside = QWidget()
        self._list = QVBoxLayout(self._inside)
        self._list.setContentsMargins(0, 0, 0, 0)
        self._list.setSpacing(8)
        self.add(self._inside)

    def show_now(self, now: Now) -> None:
        """Show the findings of this moment; nothing is rebuilt while they stay the same."""
        found = sorted(open_findings(now), key=lambda finding: _RANK[finding.severity])
        state = (tuple(found), now.project.accepted, now.project.units, bool(now.bed))
        if state == self._shown:
            return
        self._shown = state
        self._empty()
        self.set_title("Findings", _summary(found, now))
        is_empty = not found and not now.project.accepted
        if is_empty != self._is_empty:
            self._is_empty = is_empty
            self.emptied.emit(is_empty)
        for finding in found[:MOST_SHOWN]:
            self._add_card(FindingCard(finding, now.plan, now.project.units))
        if len(found) > MOST_SHOWN:
            self._list.addWidget(label(f"And {len(found) - MOST_SHOWN} more like these.", "quiet"))
        keys = {finding.key for finding in now.plan.findings}
        for accepted in now.project.accepted:
            if accepted.key in keys:
                self._add_left(accepted.key, accepted.note)

    def _add_card(self, card: FindingCard) -> None:
        card.shown.connect(self.place_wanted)
        card.cured.connect(self.cure_wanted)
        card.left.connect(self.leave_wanted)
        self.cards.append(card)
        self._list.addWidget(card)

    def _add_left(self, key: str, note: str) -> None:
        row = QHBoxLayout()
        row.addWidget(label(f"Left as it is: {note}", "quiet"), 1)
        self.reopeners[key] = button("Look again", partial(self.reopen_wanted.emit, key), "link")
        row.addWidget(self.reopeners[key])
        line = QWidget()
        line.setLayout(row)
        self._list.addWidget(line)

    def _empty(self) -> None:
        self.cards, self.reopeners = [], {}
        while self._list.count():
            item = self._list.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()


def _summary(found: list[Finding], now: Now) -> str:
    if now.bed is None:
        return ""
    open_ones = [finding for finding in found if finding.severity != "note"]
    if not open_ones:
        return "Nothing left to settle before cutting."
    return f"{counted(len(open_ones), 'thing')} to settle before cutting."
