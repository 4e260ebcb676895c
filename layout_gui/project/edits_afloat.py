"""Edits of what rafts are judged by in the water: limits, foam, the depth of pots."""

from dataclasses import replace
from typing import Any

from geometry.model.project import Project
from geometry.units import TOLERANCE_MM, Length
from layout_gui.project.bounds import refuse_out_of_bounds


def set_limits(project: Project, **changes: Any) -> Project:
    """Judge rafts by other limits."""
    limits = replace(project.limits, **changes)
    refuse_out_of_bounds(limits)
    return replace(project, limits=limits)


def take_foam(project: Project, now: float, mm: float) -> Project:
    """Take boards ``mm`` thick in place of all that are ``now`` mm thick."""
    sheets = tuple(
        replace(sheet, thickness=Length.of(mm))
        if sheet.thickness is not None and abs(sheet.thickness.mm - now) <= TOLERANCE_MM
        else sheet
        for sheet in project.sheets
    )
    refuse_out_of_bounds(sheets)
    return replace(project, sheets=sheets)


def take_pot(project: Project, pot: str, mm: float) -> Project:
    """Take a pot ``mm`` deep in place of the one of this name."""
    pots = tuple(
        replace(one, depth=Length.of(mm)) if one.name == pot else one for one in project.pots
    )
    refuse_out_of_bounds(pots)
    return replace(project, pots=pots)
