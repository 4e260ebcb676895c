"""The smallest valid values, with keywords to vary them."""

from collections.abc import Sequence
from fractions import Fraction

import numpy as np

from geometry.cutting.plan import CutPlan
from geometry.holes.sites import Holes
from geometry.model.bed import Bed
from geometry.model.curves import Line, Loop, Point
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.plan import BedPlan, PlacedRaft, Plan, RaftDesign, Tried
from geometry.rafts.layout import RaftLayout, RaftShape
from geometry.units import Length, Unit


def make_loop(*points: tuple[float, float]) -> Loop:
    corners = [Point(x, y) for x, y in points]
    ends = [*corners[1:], corners[0]]
    return Loop(tuple(Line(start, end) for start, end in zip(corners, ends, strict=True)))


def make_shape(length: float | Fraction = 581, width: float | Fraction = 560) -> RaftShape:
    loop = make_loop((0, 0), (float(length), 0), (float(length), float(width)), (0, float(width)))
    return RaftShape(loop, Fraction(length), Fraction(width), is_rectangle=True)


def make_holes(
    centres: Sequence[tuple[float, float]] = ((100, 100), (300, 100)),
    *,
    diameter: float = 50,
    names: Sequence[str] | None = None,
) -> Holes:
    count = len(centres)
    return Holes(
        np.array(centres, dtype=np.float64).reshape(count, 2),
        np.full(count, float(diameter)),
        tuple(names or (f"A{number}" for number in range(1, count + 1))),
        np.zeros(count, dtype=np.bool_),
    )


def make_grid(
    length: float, width: float, *, columns: int, rows: int, diameter: float = 50
) -> Holes:
    """Holes in straight rows, half a pitch from every edge."""
    letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    name = [letters[row] if row < 24 else f"A{letters[row - 24]}" for row in range(rows)]
    return make_holes(
        [
            (length * (column + 0.5) / columns, width * (row + 0.5) / rows)
            for row in range(rows)
            for column in range(columns)
        ],
        diameter=diameter,
        names=[f"{name[row]}{column + 1}" for row in range(rows) for column in range(columns)],
    )


def make_design(
    name: str = "bench-bed-1", shape: RaftShape | None = None, holes: Holes | None = None
) -> RaftDesign:
    shape = shape or make_shape()
    if holes is None:
        holes = make_grid(float(shape.length), float(shape.width), columns=3, rows=3)
    return RaftDesign(name, shape, holes)


def make_bed_plan(
    rafts: Sequence[PlacedRaft] | None = None,
    *,
    bed: Bed | None = None,
    outline: Loop | None = None,
) -> BedPlan:
    if rafts is None:
        design = make_design()
        rafts = [PlacedRaft(f"R{n + 1}", design, 10 + n * 586, 10) for n in range(4)]
    bed = bed or Bed(
        "Bench bed",
        Rectangle(Length.of(2360), Length.of(580)),
        clearance=Length.of(10),
        joint_gap=Length.of(5),
        planting=Planting(Length.of(186), Length.of(50), crop="lettuce, head"),
    )
    outline = outline or make_loop((0, 0), (2360, 0), (2360, 580), (0, 580))
    designs = tuple({raft.design.name: raft.design for raft in rafts}.values())
    plants = sum(len(raft.design.holes) for raft in rafts)
    area = sum(float(raft.design.shape.length * raft.design.shape.width) for raft in rafts)
    return BedPlan(
        bed=bed,
        layout=RaftLayout(outline, (outline,), ()),
        designs=designs,
        rafts=tuple(rafts),
        tried=(
            Tried("square", "along", plants, 186.7, 193.7),
            Tried("staggered", "across", plants - 4, 186, 161.1),
        ),
        ceiling=plants + 6,
        area_mm2=2360 * 580,
        raft_area_mm2=area,
        plants=plants,
        least_web_mm=68.3,
        findings=(),
    )


def make_plan(
    *beds: BedPlan, name: str = "North bench", units: Unit = "mm", cut: CutPlan | None = None
) -> Plan:
    beds = beds or (make_bed_plan(),)
    project = Project(name, units, tuple(plan.bed for plan in beds))
    return Plan(project, beds, cut or CutPlan(), ())
