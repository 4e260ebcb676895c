"""A line above the drawing that says what could not be done; it never stands in the way."""

from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy, QWidget

from geometry.tongue import tr
from layout_gui.panels.parts import button, label


class Notice(QFrame):
    """Shows one sentence until it is closed or something else succeeds."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "notice")
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        row = QHBoxLayout(self)
        row.setContentsMargins(20, 7, 12, 7)
        self.text = label("")
        self.text.setObjectName("notice")
        row.addWidget(self.text, 1)
        row.addWidget(button(tr("Close"), self.hide, "link"))
        self.hide()

    def say(self, sentence: str) -> None:
        """Show a sentence."""
        self.text.setText(f"!  {sentence}")
        self.setAccessibleName(sentence)
        self.show()
