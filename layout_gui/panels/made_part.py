"""When the rafts are drilled: the button of the station Make that notes them as made."""

from collections.abc import Callable
from datetime import date

from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.errors import GeometryError
from geometry.tongue import tr, tr_n
from layout_gui.document.document import Document
from layout_gui.panels import dates
from layout_gui.panels.now import Now
from layout_gui.panels.parts import button, label, side_by_side
from layout_gui.project.edits_log import not_noted, note_made


class MadePart(QWidget):
    """Notes all rafts that no raft of the log lies in place of."""

    def __init__(
        self,
        document: Document,
        parent: QWidget | None = None,
        *,
        today: Callable[[], date] = dates.today,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._today = today
        self.words = label("", "quiet")
        self.note_button = button("", self._note)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(6)
        box.addWidget(self.words)
        box.addWidget(side_by_side(self.note_button))

    def show_now(self, now: Now) -> None:
        """Say how many rafts are not noted yet."""
        count = len(not_noted(now.project, now.plan)) if now.plan.project is now.project else 0
        self.note_button.setVisible(bool(count))
        if count:
            self.note_button.setText(tr_n("Note {n} raft as made", "Note {n} rafts as made", count))
            self.words.setText(
                tr(
                    "Each then keeps its drawing in the log at Grow, and can be printed as it was "
                    "made whatever the plan shows by then."
                )
            )
        else:
            self.words.setText(tr("All rafts of the plan are noted in the log at Grow."))

    def _note(self) -> None:
        project, plan = self._document.project, self._document.settled
        rafts = not_noted(project, plan)
        try:
            made = note_made(project, plan, rafts, self._today())
        except GeometryError as error:
            self.words.setText(str(error))
            return
        words = tr_n("Note {n} raft as made", "Note {n} rafts as made", len(rafts))
        self._document.apply(words, made)
