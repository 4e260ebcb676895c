"""The search for the best cut plan as work for a child process."""

from collections.abc import Callable, Sequence

from geometry.cutting.best import best_cut_plan
from geometry.cutting.plan import CutPlan
from geometry.cutting.task import Needed
from geometry.model.sheet import Cutting, Sheet


def search_cuts(
    tell: Callable[[CutPlan], None], needed: Needed, sheets: Sequence[Sheet], cutting: Cutting
) -> CutPlan:
    """Search to the end; every better plan and bound is told on the way."""
    return best_cut_plan(needed, sheets, cutting, told=tell)
