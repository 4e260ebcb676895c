"""Plants wanted: a number or a density is typed, the widest spacing for it is found."""

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from geometry.compare.want import Found, find_beside
from geometry.errors import GeometryError, WantedError
from geometry.model.bed import Bed
from geometry.model.project import Choice
from geometry.model.wanted import Wanted, parse_wanted, wanted_text
from geometry.tongue import mark, tr
from geometry.units import ZERO, Length
from layout_gui.document.child import Child
from layout_gui.document.document import Document
from layout_gui.panels.fields import TextField
from layout_gui.panels.now import Now
from layout_gui.panels.parts import button, label, side_by_side
from layout_gui.panels.words import free_name
from layout_gui.project import edits
from layout_gui.wording.thresholds import found_sentence, rounded_down

LOOKING = mark("Looking for the widest spacing: {counts} tried")
_LABEL_WIDTH = 98


class WantedRow(QWidget):
    """A field for what is wanted; beneath it what was found, and a button that uses it."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._now: Now | None = None
        self._wanted: Wanted | None = None
        self._asked_of: Bed | None = None
        self._found: Found | None = None
        self._child = Child(self)
        self._child.progress.connect(self._on_counted)
        self._child.done.connect(self._on_found)
        self._child.failed.connect(self._on_failed)
        self._child.running_changed.connect(self._show_buttons)
        self.editor = _WantedField(parent=self)
        self.editor.setObjectName("wanted")
        self.editor.setAccessibleName(tr("Plants wanted"))
        self.editor.setToolTip(
            tr("A number of plants in this bed, or plants per area of its water")
        )
        self.editor.committed.connect(self._on_typed)
        self.editor.refused.connect(self._show_reason)
        self.editor.textChanged.connect(self._forget_reason)
        self.note = label("", "quiet")
        self.use_button = button(tr("Use it"), self.use, "primary")
        self.keep_button = button(tr("Keep to compare"), self.keep, "link")
        self.stop_button = button(tr("Stop"), self.stop, "link")
        name = QLabel(tr("Plants wanted"))
        name.setBuddy(self.editor)
        name.setContentsMargins(0, 7, 0, 0)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 6)
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(2)
        grid.setColumnStretch(1, 1)
        grid.setColumnMinimumWidth(0, _LABEL_WIDTH)
        grid.addWidget(name, 0, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(self.editor, 0, 1)
        grid.addWidget(self.note, 1, 1)
        grid.addWidget(side_by_side(self.use_button), 2, 1)
        grid.addWidget(side_by_side(self.keep_button, self.stop_button), 3, 1)
        self._say("")

    @property
    def is_looking(self) -> bool:
        """Whether the spacing is still being looked for."""
        return self._child.is_running

    def show_now(self, now: Now) -> None:
        """Take over the bed of this moment; what was found for another bed is looked for again."""
        self._now = now
        in_inches = now.project.units == "in"
        self.editor.setPlaceholderText(tr("40 or 2.2/ft2") if in_inches else tr("40 or 24/m2"))
        if self._wanted is not None and self._asked_of != _apart_from_spacing(now.bed):
            self._look()
        self._show_buttons()

    def use(self) -> None:
        """Give the bed the spacing that was found; nothing else moves."""
        now, found = self._now, self._found
        if now is None or now.bed is None or found is None or found.spacing is None:
            return
        project = edits.set_planting(now.project, now.bed.name, spacing=Length(found.spacing))
        words = rounded_down(found.spacing, now.project.units)
        self._document.apply(
            tr("Spacing {spacing} for {wanted} plants", spacing=words, wanted=found.wanted), project
        )

    def stop(self) -> None:
        """Look no further."""
        self._child.cancel()
        self._say(tr("Stopped."))

    def keep(self) -> None:
        """Keep what is wanted among the choices; it is looked for anew whenever they compare."""
        now, wanted = self._now, self._wanted
        if now is None or now.bed is None or wanted is None:
            return
        text = wanted_text(wanted, now.project.units)
        taken = [choice.name for choice in now.project.choices]
        name = tr("{plants} plants", plants=text) if isinstance(wanted, int) else text
        kept = Choice("", now.bed.name)
        if isinstance(wanted, int):
            kept = replace(kept, count=wanted)
        else:
            kept = replace(kept, density=wanted)
        project = edits.keep_choice(now.project, now.bed.name, free_name(name, taken), kept)
        self._document.apply(tr("Keep {name}", name=name), project)

    def _on_typed(self, wanted: Wanted | None) -> None:
        self._wanted = wanted
        self._look()

    def _look(self) -> None:
        self._child.cancel()
        self._found = None
        now = self._now
        self._asked_of = _apart_from_spacing(now.bed) if now is not None else None
        if self._wanted is None or now is None or now.bed is None or now.planting is None:
            self._say("")
            return
        self._say(tr(LOOKING, counts=0))
        self._child.start(find_beside, now.bed, self._wanted, now.project.units)

    def _on_counted(self, counts: int) -> None:
        self.note.setText(tr(LOOKING, counts=counts))

    def _on_found(self, found: Found | None) -> None:
        self._found = found
        if self._now is None:
            return
        unit = self._now.project.units
        self._say(found_sentence(found, unit) if found else tr("There is no raft to plant."))

    def _on_failed(self, reason: str) -> None:
        self._say(reason)

    def _show_reason(self, reason: str) -> None:
        self._child.cancel()
        self._found = None
        self._say(f"! {reason}" if reason else "", refused=bool(reason))

    def _forget_reason(self, _text: str) -> None:
        if self.note.property("refused"):
            self._say("")

    def _say(self, text: str, *, refused: bool = False) -> None:
        self.note.setText(text)
        self.note.setVisible(bool(text))
        self.editor.setAccessibleDescription(text)
        for part in (self.note, self.editor):
            part.setProperty("refused", refused)
            part.style().unpolish(part)
            part.style().polish(part)
        self._show_buttons()

    def _show_buttons(self) -> None:
        now, found = self._now, self._found
        spacing = found.spacing if found is not None else None
        self.stop_button.setVisible(self._child.is_running)
        self.use_button.setVisible(spacing is not None)
        self.keep_button.setVisible(found is not None)
        if spacing is not None and now is not None and now.planting is not None:
            self.use_button.setText(
                tr("Use {spacing}", spacing=rounded_down(spacing, now.project.units))
            )
            self.use_button.setEnabled(now.planting.spacing.exact != spacing)


class _WantedField(TextField):
    """A line that is read as plants wanted; empty for none."""

    def read(self, text: str) -> object:
        """Read a number or a density of plants."""
        try:
            return parse_wanted(text) if text else None
        except WantedError as error:
            raise GeometryError(str(error)) from error


def _apart_from_spacing(bed: Bed | None) -> Bed | None:
    """What the answer depends on: everything but names, hand edits and the spacing itself."""
    if bed is None or bed.planting is None:
        return None
    planting = replace(bed.planting, crop="", spacing=ZERO, pins=(), blanks=())
    return replace(bed, name="", planting=planting)
