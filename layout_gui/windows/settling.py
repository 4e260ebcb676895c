"""What happens when a finding is looked at, cured, left with a note, or opened again."""

from PySide6.QtCore import QObject, Signal

from geometry.checks.finding import Finding
from geometry.errors import GeometryError
from layout_gui.canvas.view import BedView
from layout_gui.dialogs.asker import Asks
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.findings import FindingsPanel
from layout_gui.panels.stations import home_of
from layout_gui.project import edits
from layout_gui.wording import cure_label, finding_text, finding_title


class Settling(QObject):
    """Answers the findings panel. ``went_to`` names the station at which a finding is settled."""

    went_to = Signal(str)

    def __init__(
        self,
        panel: FindingsPanel,
        document: Document,
        selection: Selection,
        view: BedView,
        asks: Asks,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        self._view = view
        self._asks = asks
        panel.place_wanted.connect(self.show_place)
        panel.cure_wanted.connect(self.cure)
        panel.leave_wanted.connect(self.leave)
        panel.reopen_wanted.connect(self.reopen)

    def show_place(self, finding: Finding) -> None:
        """Go to the finding's station and bring its place into sight."""
        if finding.bed:
            self._selection.set_bed(finding.bed)
        self.went_to.emit(home_of(finding))
        if finding.place is not None:
            self._view.show_place(finding.bed, finding.place)

    def cure(self, finding: Finding) -> None:
        """Make the smallest change that clears the finding; undo takes it back."""
        document = self._document
        words = cure_label(finding.cure, document.project.units) if finding.cure else ""
        try:
            project = edits.apply_cure(document.project, document.plan, finding)
        except GeometryError as error:
            document.failed.emit(str(error))
            return
        document.apply(words, project)

    def leave(self, finding: Finding) -> None:
        """Leave the finding as it is, with a note of why."""
        unit = self._document.project.units
        self._asks.note(
            finding_title(finding, unit),
            finding_text(finding, unit, self._document.plan),
            lambda note: self._leave(finding, note),
        )

    def reopen(self, key: str) -> None:
        """Look at a finding again that was left."""
        document = self._document
        document.apply("Look at a finding again", edits.unaccept(document.project, key))

    def _leave(self, finding: Finding, note: str) -> None:
        document = self._document
        document.apply("Leave a finding", edits.accept(document.project, finding, note))
