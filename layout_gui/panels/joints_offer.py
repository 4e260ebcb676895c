"""What the joints of a bed cost, and an offer to move them to where they lose fewer plants."""

from dataclasses import replace
from typing import Final

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QProgressBar, QVBoxLayout, QWidget

from geometry.compare.joint_rules import JointCounts, joint_counts, look_into_joints
from geometry.compare.split_shift import SplitShift
from geometry.model.bed import Bed, Split
from geometry.model.project import Project
from geometry.plan import BedPlan
from geometry.tongue import tr
from layout_gui.document.child import Child
from layout_gui.document.document import Document
from layout_gui.panels.background import Background
from layout_gui.panels.now import Now
from layout_gui.panels.parts import button, label, side_by_side, stack
from layout_gui.project import edits
from layout_gui.wording.joints import joint_sentence, split_shift_sentence

PAUSE_MS: Final = 350
"""What the joint rule costs is counted once the project has rested this long."""


class JointsOffer(QWidget):
    """A line about the joint rule, and the search for a better place of the joints.

    The search runs in a process of its own. What it found counts for the project it was asked
    about; with any other project it is forgotten.
    """

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._now: Now | None = None
        self._asked: Project | None = None
        self._counted: Bed | None = None
        self._offer: SplitShift | None = None
        self._counter = Background(self)
        self._counter.done.connect(self._on_counted)
        self._pause = QTimer(self, singleShot=True, interval=PAUSE_MS)
        self._pause.timeout.connect(self._count)
        self._child = Child(self)
        self._child.progress.connect(self._on_progress)
        self._child.done.connect(self._on_found)
        self._child.failed.connect(self._on_failed)
        self._child.running_changed.connect(self._show_state)
        self.cost = label("", "quiet")
        self.look_button = button(tr("Look for better joints"), self.look, "link")
        self.look_button.setToolTip(
            tr("Tries to move all joints along and across the bed for more plants")
        )
        self.progress = QProgressBar()
        self.progress.setAccessibleName(tr("Looking for better joints"))
        self.progress.setRange(0, 1000)
        self.progress.setTextVisible(False)
        self.cancel_button = button(tr("Cancel"), self.cancel)
        self._running = stack(self.progress, side_by_side(self.cancel_button))
        self.result = label("")
        self.take_button = button(tr("Move the joints"), self.take, "primary")
        self._taking = side_by_side(self.take_button)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(6)
        for part in (
            self.cost,
            side_by_side(self.look_button),
            self._running,
            self.result,
            self._taking,
        ):
            box.addWidget(part)
        self._show_state()

    @property
    def is_looking(self) -> bool:
        """Whether the search goes on."""
        return self._child.is_running

    def show_now(self, now: Now) -> None:
        """Show this moment; what was found for another one is forgotten."""
        self._now = now
        if self._asked is not None and now.project is not self._asked:
            self._asked, self._offer = None, None
            self._child.cancel()
            self.result.setText("")
        bed = _jointed(now.bed_plan)
        if bed is not self._counted:
            self._counted = None
            self.cost.setText("")
            self._counter.forget()
            if bed is not None and _is_quick(now.bed_plan):
                self._pause.start()
        self._show_state()

    def look(self) -> None:
        """Begin the search for the bed that is shown."""
        bed = _jointed(self._now.bed_plan) if self._now is not None else None
        if self._now is None or bed is None:
            return
        self._asked, self._offer = self._now.project, None
        self.result.setText("")
        self.progress.setValue(0)
        self._child.start(look_into_joints, self._now.project, bed)

    def cancel(self) -> None:
        """End the search; the joints stay where they are."""
        self._asked = None
        self._child.cancel()

    def take(self) -> None:
        """Move the joints to where they were found to be better."""
        offer = self._offer
        if offer is None or self._now is None or self._now.project is not self._asked:
            return
        rule = edits.find_bed(self._now.project, offer.bed).rafts
        if isinstance(rule, Split):
            moved = replace(rule, shift_along=offer.along, shift_across=offer.across)
            project = edits.set_bed(self._now.project, offer.bed, rafts=moved)
            self._document.apply(tr("Move the joints"), project)

    def _count(self) -> None:
        bed = _jointed(self._now.bed_plan) if self._now is not None else None
        if bed is not None:
            self._counted = bed
            self._counter.ask(lambda _wanted: joint_counts(bed))

    def _on_counted(self, counts: JointCounts | None) -> None:
        if counts is not None and self._counted is not None:
            self.cost.setText(joint_sentence(counts))
        self._show_state()

    def _on_progress(self, share: float) -> None:
        self.progress.setValue(round(share * 1000))

    def _on_found(self, found: tuple[JointCounts | None, SplitShift | None]) -> None:
        counts, shift = found
        if shift is None or self._now is None or self._now.project is not self._asked:
            return
        if counts is not None:
            self.cost.setText(joint_sentence(counts))
        self._offer = shift if shift.gain > 0 else None
        self.result.setText(split_shift_sentence(shift, self._now.project.units))
        self._show_state()

    def _on_failed(self, sentence: str) -> None:
        self._asked = None
        self.result.setText(sentence)
        self._show_state()

    def _show_state(self) -> None:
        plan = self._now.bed_plan if self._now is not None else None
        bed = _jointed(plan)
        self.setVisible(bed is not None)
        self.cost.setVisible(bool(self.cost.text()))
        can_look = bed is not None and isinstance(bed.rafts, Split)
        self.look_button.setVisible(can_look and not self.is_looking and not self.result.text())
        self._running.setVisible(self.is_looking)
        self.result.setVisible(bool(self.result.text()))
        self._taking.setVisible(self._offer is not None)


def _jointed(plan: BedPlan | None) -> Bed | None:
    """The bed of a plan, if it is planted and has joints."""
    if plan is None or plan.bed.planting is None or len(plan.rafts) < 2:
        return None
    return plan.bed


def _is_quick(plan: BedPlan | None) -> bool:
    """Whether counting takes no time to speak of: plain rectangles with nothing in the way."""
    return (
        plan is not None
        and not (plan.bed.obstacles or plan.bed.zones)
        and all(design.shape.is_rectangle for design in plan.designs)
    )
