"""The same bed under each of the joint rules: what freedom to move rafts about costs."""

from dataclasses import dataclass, replace

from geometry.compare.split_shift import SplitShift, Tell, best_split_shift
from geometry.holes.place import place_holes
from geometry.model.bed import Bed
from geometry.model.planting import JointRule
from geometry.model.project import Project
from geometry.rafts.split import lay_rafts


@dataclass(frozen=True, slots=True)
class JointCounts:
    """Plants of one bed by pattern alone, for each joint rule; ``rule`` is the bed's own."""

    bed: str
    rule: JointRule
    interchangeable: int
    bed_wide: int

    @property
    def cost(self) -> int:
        """How many plants fewer interchangeable rafts hold than rafts kept in their places."""
        return self.bed_wide - self.interchangeable


def joint_counts(bed: Bed) -> JointCounts | None:
    """Count the plants of a bed under both rules that heed joints; None without any joint.

    A pattern that is legal in every place is legal where it lies, so bed-wide never counts less.
    Also None with zones: which rafts may change places then depends on the rule itself.
    """
    planting = bed.planting
    if planting is None or bed.zones:
        return None
    layout = lay_rafts(bed)
    if len(layout.rafts) < 2:
        return None
    bare = replace(planting, pins=(), blanks=(), spread=False)

    def plants(rule: JointRule) -> int:
        ruled = replace(bed, planting=replace(bare, joints=rule))
        return sum(map(len, place_holes(ruled, layout, opens=False).sites))

    anywhere = plants("interchangeable")
    return JointCounts(bed.name, planting.joints, anywhere, max(anywhere, plants("bed-wide")))


def look_into_joints(
    tell: Tell, project: Project, bed: Bed
) -> tuple[JointCounts | None, SplitShift | None]:
    """Count under each joint rule and find the best shift, as work beside the window."""
    return joint_counts(bed), best_split_shift(project, bed, tell)
