"""What the panels look at: one moment of the project, its plan and the selection."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING  # noqa: TID251  the plan is loaded after the window is shown

from layout_gui.project.things import Thing

if TYPE_CHECKING:
    from geometry.model.bed import Bed
    from geometry.model.planting import Planting
    from geometry.model.project import Project
    from geometry.plan import BedPlan, Plan

Hole = tuple[str, str]
"""Raft name and hole name."""


@dataclass(frozen=True, slots=True)
class Now:
    """One moment. ``bed`` is the name of the bed being worked on, empty in an empty project.

    ``plan`` may belong to a project that is only tried (a preview) or be one step behind while a
    slow plan is being made; typed values are always read from ``project``.
    """

    project: Project
    plan: Plan
    bed_name: str = ""
    rafts: frozenset[str] = frozenset()
    holes: frozenset[Hole] = frozenset()
    zone: str = ""
    thing: Thing | None = None

    @property
    def bed(self) -> Bed | None:
        """The bed being worked on; the first one when the named bed is no more."""
        beds = self.project.beds
        return next((bed for bed in beds if bed.name == self.bed_name), beds[0] if beds else None)

    @property
    def planting(self) -> Planting | None:
        """The planting of the bed being worked on."""
        return self.bed.planting if self.bed else None

    @property
    def bed_plan(self) -> BedPlan | None:
        """What follows for the bed being worked on; None until its plan is made."""
        beds = self.plan.beds
        name = self.bed.name if self.bed else ""
        return next((bed for bed in beds if bed.bed.name == name), None)
