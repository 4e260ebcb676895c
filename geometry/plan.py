"""The plan: everything that follows from a project, made by one function."""

from dataclasses import dataclass

from geometry.checks.finding import Finding
from geometry.cutting.plan import CutPlan
from geometry.holes.sites import Holes
from geometry.model.bed import Bed
from geometry.model.project import Project
from geometry.rafts.layout import RaftLayout, RaftShape


@dataclass(frozen=True, slots=True)
class RaftDesign:
    """One shape with its holes, used for one raft or many. The name is unique in the project."""

    name: str
    shape: RaftShape
    holes: Holes


@dataclass(frozen=True, slots=True)
class PlacedRaft:
    """A raft in its bed. A turned raft lies half round: its design's far corner is at x, y.

    ``x``, ``y`` is the lower left corner of the raft's box in bed coordinates.
    """

    name: str
    design: RaftDesign
    x: float
    y: float
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Tried:
    """One pattern that was tried for a bed: its name, direction and plants.

    ``pitch_mm`` and ``row_gap_mm`` are what the pattern uses after it was spread.
    """

    pattern: str
    direction: str
    plants: int
    pitch_mm: float
    row_gap_mm: float


@dataclass(frozen=True, slots=True)
class BedPlan:
    """All that follows for one bed.

    ``plants`` equals the holes of all placed rafts. ``ceiling`` is a proved upper bound on the
    plants, None without planting. ``tried`` holds the winner first. ``area_mm2`` is the water
    within the outline. ``least_web_mm`` is the least foam found, None without holes.
    """

    bed: Bed
    layout: RaftLayout
    designs: tuple[RaftDesign, ...]
    rafts: tuple[PlacedRaft, ...]
    tried: tuple[Tried, ...]
    ceiling: int | None
    area_mm2: float
    raft_area_mm2: float
    plants: int
    least_web_mm: float | None
    findings: tuple[Finding, ...]

    @property
    def density_per_m2(self) -> float:
        """Plants per square metre of water."""
        return self.plants / (self.area_mm2 / 1e6) if self.area_mm2 else 0.0

    @property
    def open_water_share(self) -> float:
        """Share of the water that no raft covers, holes not counted."""
        return 1 - self.raft_area_mm2 / self.area_mm2 if self.area_mm2 else 0.0


@dataclass(frozen=True, slots=True)
class Plan:
    """All that follows from one project; ``findings`` are those of the beds and of the cutting."""

    project: Project
    beds: tuple[BedPlan, ...]
    cut: CutPlan
    findings: tuple[Finding, ...]

    @property
    def plants(self) -> int:
        """Plants of all beds: the one count that screen, paper and files show."""
        return sum(bed.plants for bed in self.beds)


def make_plan(project: Project, previous: Plan | None = None) -> Plan:
    """Make the plan of a project.

    With ``previous``, parts that did not change are taken over as the same objects; the result is
    equal either way.
    """
    raise NotImplementedError((project, previous))
