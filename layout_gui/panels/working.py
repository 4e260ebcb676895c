"""What a plan that takes its time shows: how far it is, and a way to stop it."""

from typing import Final

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QWidget

from geometry.tongue import tr
from layout_gui.panels.parts import button, label

_SOON_MS: Final = 400
"""What is done sooner is not worth a word."""
_BAR_WIDTH: Final = 120


class Working(QWidget):
    """In sight only while a plan is being made, or was stopped and is missing."""

    stop_wanted = Signal()
    work_out_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        self.words = label("", "quiet")
        self.words.setWordWrap(False)
        self.bar = QProgressBar()
        self.bar.setRange(0, 100)
        self.bar.setTextVisible(False)
        self.bar.setFixedWidth(_BAR_WIDTH)
        self.bar.setAccessibleName(tr("Share of the plan that is worked out"))
        self.stop = button(tr("Stop"), self.stop_wanted.emit, "link")
        self.stop.setToolTip(tr("Goes back to the last plan; Redo brings the change back"))
        self.again = button(tr("Work it out"), self.work_out_wanted.emit, "primary")
        for part in (self.words, self.bar, self.stop, self.again):
            row.addWidget(part)
        self._soon = QTimer(self, interval=_SOON_MS, singleShot=True)
        self._soon.timeout.connect(self.show)
        self.hide()

    def show_state(self, *, is_busy: bool, is_missing: bool) -> None:
        """Show that a plan is being made, or that the current project has none."""
        if is_busy and self._soon.isActive():
            return
        self.words.setText(tr("working it out") if is_busy else tr("stopped, not worked out"))
        for part in (self.bar, self.stop):
            part.setVisible(is_busy)
        self.again.setVisible(not is_busy)
        if is_busy and self.isHidden():
            self.bar.setValue(0)
            self._soon.start()
        elif not is_busy:
            self._soon.stop()
            self.setVisible(is_missing)

    def show_progress(self, share: float) -> None:
        """Show which share is made, from 0 to 1."""
        self.bar.setValue(round(100 * share))
