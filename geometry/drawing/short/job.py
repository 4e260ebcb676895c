"""One raft design and how its short templates are put on paper."""

from dataclasses import dataclass

from geometry.drawing.crop_marks import hole_lines
from geometry.drawing.figures import figure, length_text, size_text
from geometry.drawing.lettering import clipped, name_list
from geometry.drawing.paper import PageSetup, Paper
from geometry.drawing.stamp import stamp_words
from geometry.plan import BedPlan, Plan, RaftDesign
from geometry.tongue import number, tr, tr_n
from geometry.units import Unit


@dataclass(frozen=True, slots=True)
class Job:
    """A raft design with what its pages say about it."""

    plan: Plan
    bed: BedPlan
    design: RaftDesign
    setup: PageSetup

    @property
    def unit(self) -> Unit:
        """The grower's unit."""
        return self.plan.project.units

    @property
    def paper(self) -> Paper:
        """The paper as it comes out of the printer, in true millimetres."""
        return self.setup.true

    @property
    def place(self) -> str:
        """Project and bed in words."""
        project, bed = clipped(self.plan.project.name), clipped(self.bed.bed.name)
        return tr("{project}, bed {bed}", project=project, bed=bed)

    @property
    def task(self) -> str:
        """How many rafts are drilled alike, and which."""
        rafts = [raft.name for raft in self.bed.rafts if raft.design.name == self.design.name]
        return tr_n(
            "drill {n} of these: {rafts}",
            "drill {n} of these: {rafts}",
            len(rafts),
            rafts=name_list(rafts),
        )

    @property
    def stamp(self) -> str:
        """Which version the pages are of: code, revision and date."""
        return ", ".join(stamp_words(self.plan.project, self.design))

    @property
    def facts(self) -> str:
        """Size of the raft and its holes in words."""
        holes = hole_lines(self.design.holes, self.bed.plantings, self.unit)
        return "; ".join((size_text(self.design.shape, self.unit), *holes))

    def length(self, mm: float) -> str:
        """Write a length with its unit."""
        return length_text(mm, self.unit)

    def figure(self, mm: float) -> str:
        """Write a length without its unit."""
        return figure(mm, self.unit)


def jobs(plan: Plan, setup: PageSetup) -> tuple[Job, ...]:
    """Return one job for each raft design of a plan."""
    return tuple(Job(plan, bed, design, setup) for bed in plan.beds for design in bed.designs)


def about(mm: float) -> str:
    """Write an error: tenths of a millimetre, never rounded down."""
    tenths = -int(-(mm * 10 - 1e-6) // 1)
    return tr("{mm} mm", mm=number(tenths / 10, 1))
