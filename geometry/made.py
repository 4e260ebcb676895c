"""A raft as it was drawn when it was made, and the plan that prints it once more."""

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from geometry.cutting.plan import CutPlan
from geometry.errors import GeometryError
from geometry.model.bed import Bed
from geometry.model.curves import Loop
from geometry.model.measure import area
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Details, Project
from geometry.model.sheet import Cutting, Sheet
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import BedPlan, PlacedRaft, Plan, RaftDesign
from geometry.rafts.layout import RaftLayout
from geometry.tongue import tr
from geometry.units import Length, Unit

_MOST_NAMED: Final = 100
"""Of more rafts drilled alike, only the one that was made is kept: a farm has thousands."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """All that the papers of one raft design showed on the day a raft was made after them.

    ``rafts`` are those that were drilled alike, each where it lay in its ``bed``. ``plantings``
    are the bed's own and those of its zones, as the holes number them; where sites kept their exact
    places, the first has no step. ``thickness`` and ``density`` (kg/m³) of the foam are None where
    they were not one figure, ``saw_depth`` where nobody had measured it.
    """

    project: str
    units: Unit
    details: Details
    bed: str
    design: RaftDesign
    rafts: tuple[PlacedRaft, ...]
    plantings: tuple[Planting, ...] = ()
    thickness: Length | None = None
    density: Fraction | None = None
    saw_depth: Length | None = None


def drawn_of(plan: Plan, bed: str, raft: str) -> Drawn:
    """Return a raft of the plan with all that its papers show.

    Raises:
        GeometryError: there is no such raft.
    """
    found = next((each for each in plan.beds if each.bed.name == bed), None)
    own = next((each for each in found.rafts if each.name == raft), None) if found else None
    if found is None or own is None:
        raise GeometryError(tr("There is no raft {raft} in “{bed}”.", raft=raft, bed=bed))
    alike = tuple(each for each in found.rafts if each.design is own.design)
    foams = {sheet.thickness for sheet in plan.sheets_of(own.design.name)}
    sheet = plan.sheet_of(own.design.name)
    details = plan.project.details
    return Drawn(
        plan.project.name,
        plan.project.units,
        replace(details, notes=""),
        bed,
        own.design,
        alike if len(alike) <= _MOST_NAMED else (own,),
        tuple(_without_edits(found, planting) for planting in found.plantings),
        foams.pop() if len(foams) == 1 else None,
        sheet.density if sheet is not None else None,
        plan.project.cutting.saw_depth,
    )


def _without_edits(bed: BedPlan, planting: Planting) -> Planting:
    """What the papers show of a planting: no hand edits, and no step that sites did not keep."""
    kept = not any(finding.code == "rounding" for finding in bed.findings)
    return Planting(
        planting.spacing,
        planting.hole_diameter,
        planting.crop,
        edge_margin=planting.edge_margin,
        web=planting.web,
        round_to=planting.round_to if kept else None,
        in_use=planting.in_use,
        pot=planting.pot,
    )


def plan_as_drawn(drawn: Drawn) -> Plan:
    """Make a plan of nothing but that raft: whatever prints it prints what was printed then.

    Its bed has a name and plantings but no outline, so that nothing can be laid out anew.
    """
    shape = drawn.design.shape
    own = drawn.plantings[0] if drawn.plantings else None
    zones = tuple(Zone(f"{n}", _rules(each)) for n, each in enumerate(drawn.plantings[1:], 1))
    outline = Rectangle(Length(shape.length), Length(shape.width))
    bed = Bed(drawn.bed, outline, planting=own, zones=zones)
    box = Length(max(shape.length, shape.width))
    sheet = Sheet("", box, box, drawn.thickness, density=drawn.density)
    known = drawn.thickness is not None or drawn.density is not None
    cutting = Cutting(saw_depth=drawn.saw_depth)
    sheets = (sheet,) if known else ()
    project = Project(
        drawn.project, drawn.units, (bed,), sheets, cutting, details=drawn.details
    )  # fmt: skip
    count = len(drawn.rafts)
    beds = BedPlan(
        bed=bed,
        layout=RaftLayout(Loop(()), (), ()),
        designs=(drawn.design,),
        rafts=drawn.rafts,
        tried=(),
        ceiling=None,
        area_mm2=0.0,
        raft_area_mm2=area(shape.loop) * count,
        plants=len(drawn.design.holes) * count,
        least_web_mm=None,
        findings=(),
    )
    return Plan(project, (beds,), CutPlan(), ())


def _rules(planting: Planting) -> ZoneRules:
    return ZoneRules(
        crop=planting.crop,
        spacing=planting.spacing,
        edge_margin=planting.edge_margin,
        web=planting.web,
        hole_diameter=planting.hole_diameter,
        in_use=planting.in_use,
        pot=planting.pot,
    )
