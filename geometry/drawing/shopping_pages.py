"""The shopping list by itself, as a document to take along."""

from geometry.drawing.cut_sheet import CutSheetDocument
from geometry.drawing.flow import paginate
from geometry.drawing.paper import COMMON, Paper
from geometry.drawing.shopping_part import shopping_part
from geometry.plan import Plan


def lay_shopping(plan: Plan, paper: Paper = COMMON) -> CutSheetDocument:
    """Decide what is on which page of the shopping list."""
    part = shopping_part(plan, paper)
    return CutSheetDocument(paper, ((part, paginate(part, paper)),))
