"""A make_plan of a few lines: equal rafts in a grid, straight rows, hand edits applied.

It keeps the promise of the real one that what did not change is the same object.
"""

from dataclasses import dataclass, field
from itertools import product

import numpy as np

from geometry.checks.finding import Finding
from geometry.cutting.plan import CutPlan
from geometry.holes.hand_edits import apply_hand_edits
from geometry.holes.sites import Sites
from geometry.model.bed import Bed
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.plan import BedPlan, PlacedRaft, Plan, RaftDesign
from geometry.rafts.layout import RaftLayout
from geometry.units import Length, Unit
from tests.builders import make_loop, make_shape

GAP = 5.0
WALL = 10.0


@dataclass
class HandMade:
    """Plans beds of ``along`` x ``across`` rafts of 600 x 400 mm with ``columns`` x ``rows``.

    The rafts named in ``turned`` lie half round. Equal ``findings`` go to every bed.
    """

    along: int = 2
    across: int = 1
    columns: int = 3
    rows: int = 2
    length: float = 600
    width: float = 400
    turned: frozenset[str] = frozenset()
    findings: tuple[Finding, ...] = ()
    known: dict[object, PlacedRaft] = field(default_factory=dict)

    def project(self, *names: str, units: Unit = "mm") -> Project:
        planting = Planting(Length.of(150), Length.of(50), edge_margin=Length.of(60))
        outline = Rectangle(Length.of(1225), Length.of(420))
        beds = tuple(Bed(name, outline, planting=planting) for name in names or ("North",))
        return Project("Bench", units, beds)

    def __call__(self, project: Project, _previous: Plan | None) -> Plan:
        return Plan(project, tuple(map(self._plan_bed, project.beds)), CutPlan(), self.findings)

    def _plan_bed(self, bed: Bed) -> BedPlan:
        rafts = tuple(
            self._raft(bed, f"R{row * self.along + column + 1}", column, row)
            for row, column in product(range(self.across), range(self.along))
        )
        right = 2 * WALL + self.along * (self.length + GAP) - GAP
        top = 2 * WALL + self.across * (self.width + GAP) - GAP
        outline = make_loop((0, 0), (right, 0), (right, top), (0, top))
        plants = sum(len(raft.design.holes) for raft in rafts)
        return BedPlan(
            bed=bed,
            layout=RaftLayout(outline, (outline,), ()),
            designs=tuple(raft.design for raft in rafts),
            rafts=rafts,
            tried=(),
            ceiling=plants,
            area_mm2=right * top,
            raft_area_mm2=self.length * self.width * len(rafts),
            plants=plants,
            least_web_mm=None,
            findings=self.findings,
        )

    def _raft(self, bed: Bed, name: str, column: int, row: int) -> PlacedRaft:
        planting = bed.planting
        assert planting is not None
        pins = tuple(pin for pin in planting.pins if pin.raft == name)
        blanks = tuple(blank for blank in planting.blanks if blank.raft == name)
        key = (bed.name, name, planting.hole_diameter, pins, blanks)
        if key not in self.known:
            holes, _ = apply_hand_edits(
                self._sites(),
                diameter_mm=[planting.hole_diameter.mm],
                reach_mm=[planting.spacing.mm / 2],
                pins=pins,
                blanks=blanks,
            )
            design = RaftDesign(f"{bed.name}-{name}", make_shape(self.length, self.width), holes)
            x = WALL + column * (self.length + GAP)
            y = WALL + row * (self.width + GAP)
            self.known[key] = PlacedRaft(name, design, x, y, turned=name in self.turned)
        return self.known[key]

    def _sites(self) -> Sites:
        xs = self.length * (np.arange(self.columns) + 0.5) / self.columns
        ys = self.width * (np.arange(self.rows) + 0.5) / self.rows
        xy = np.array([(x, y) for y in ys for x in xs])
        return Sites(xy, np.repeat(np.arange(self.rows), self.columns))
