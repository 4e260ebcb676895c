"""What happens when findings are looked at, cured, left with a note, or opened again."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QWidget

from geometry.checks.finding import Finding
from geometry.errors import GeometryError
from geometry.tongue import tr, tr_n
from layout_gui.canvas.view import BedView
from layout_gui.dialogs.asker import Asks
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.finding_groups import group_title
from layout_gui.panels.findings import FindingsPanel
from layout_gui.panels.parts import unfold
from layout_gui.panels.station_facts import home_of
from layout_gui.project import edits, edits_findings
from layout_gui.windows.finding_places import field_of, places_of, zone_of
from layout_gui.wording.cures import cure_label
from layout_gui.wording.findings import finding_text, finding_title


class Settling(QObject):
    """Answers the findings panel. ``went_to`` names the station at which a finding is settled.

    ``fields`` returns the panel of the station that is in sight.
    """

    went_to = Signal(str)
    said = Signal(str)
    """Which of several places is shown, in a few words."""

    def __init__(
        self,
        panel: FindingsPanel,
        document: Document,
        selection: Selection,
        view: BedView,
        asks: Asks,
        fields: Callable[[], QWidget | None],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        self._view = view
        self._asks = asks
        self._fields = fields
        self._visited: tuple[str, int] = ("", -1)
        panel.place_wanted.connect(self.show_place)
        panel.cure_wanted.connect(self.cure)
        panel.leave_wanted.connect(lambda finding: self.leave((finding,)))
        panel.cures_wanted.connect(self.cure_all)
        panel.leaves_wanted.connect(self.leave)
        panel.reopen_wanted.connect(self.reopen)

    def show_place(self, finding: Finding) -> None:
        """Go to the finding's station and bring its place into sight.

        A finding with several places shows the next one each time; a finding about a number gives
        the keyboard to its field.
        """
        if finding.bed:
            self._selection.set_bed(finding.bed)
        self.went_to.emit(home_of(finding))
        places = places_of(finding, self._document.plan)
        if not places:
            self._view.fit()
            self._pick(finding)
            self._show_field(field_of(finding))
            return
        key, before = self._visited
        at = (before + 1) % len(places) if key == finding.key else 0
        self._visited = finding.key, at
        place = places[at]
        self._selection.set_bed(place.bed)
        if place.holes:
            self._selection.set_holes(place.holes)
        elif place.rafts:
            self._selection.set_rafts(place.rafts)
        else:
            self._pick(finding)
            self._show_field(field_of(finding))
        self._view.show_place(place.bed, place.point)
        if len(places) > 1:
            named = " ".join(place.rafts)
            words = tr("Place {at} of {n}: {name}", at=at + 1, n=len(places), name=named)
            self.said.emit(words.rstrip(": "))

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

    def cure_all(self, findings: Sequence[Finding]) -> None:
        """Make the change of each finding, as one step; undo takes all of them back."""
        document = self._document
        try:
            project = edits_findings.apply_cures(document.project, document.plan, findings)
        except GeometryError as error:
            document.failed.emit(str(error))
            return
        count = sum(finding.cure is not None for finding in findings)
        document.apply(tr_n("Clear {n} finding", "Clear {n} findings", count), project)

    def leave(self, findings: Sequence[Finding]) -> None:
        """Leave findings as they are, with a note of why."""
        unit = self._document.project.units
        first = findings[0]
        if len(findings) == 1:
            title = finding_title(first, unit)
            text = finding_text(first, unit, self._document.plan)
        else:
            title = group_title(findings, unit)
            text = tr("The note is kept with all {n} of them.", n=len(findings))
        self._asks.note(title, text, lambda note: self._leave(tuple(findings), note))

    def reopen(self, keys: Sequence[str]) -> None:
        """Look at findings again that were left."""
        words = tr_n("Look at {n} finding again", "Look at {n} findings again", len(keys))
        project = edits_findings.reopen(self._document.project, keys)
        self._document.apply(words, project)

    def _leave(self, findings: tuple[Finding, ...], note: str) -> None:
        words = tr_n("Leave {n} finding", "Leave {n} findings", len(findings))
        try:
            project = edits_findings.accept_all(self._document.project, findings, note)
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return
        self._document.apply(words, project)

    def _pick(self, finding: Finding) -> None:
        """Show the run, sheet or zone that a finding is about, whichever was shown before."""
        from layout_gui.panels.rafts_panel import RaftsPanel  # noqa: PLC0415  loaded when first used
        from layout_gui.panels.runs_part import RunsPart  # noqa: PLC0415  loaded when first used

        panel = self._fields()
        zone = zone_of(finding, self._document.project)
        if zone:
            self._selection.set_zone(zone)
        if isinstance(panel, RaftsPanel) and finding.subject.startswith("sheets."):
            panel.sheets.list.setCurrentRow(int(finding.subject.split(".")[1]))
        runs = panel.findChild(RunsPart) if panel is not None else None
        if finding.code == "run-fit" and runs is not None:
            runs.pick(finding.subject)

    def _show_field(self, name: str) -> None:
        panel = self._fields()
        if panel is None or not name:
            return
        field = panel.findChild(QWidget, name)
        if field is None or field.isHidden():
            return
        unfold(field)
        if field.isVisibleTo(panel):
            field.setFocus(Qt.FocusReason.OtherFocusReason)
