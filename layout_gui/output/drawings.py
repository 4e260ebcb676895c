"""Drawings for machines and drawing programs: a raft design, or a whole bed with all its rafts."""

from collections.abc import Iterator

from geometry.drawing.raft import draw_raft
from geometry.drawing.whole_bed import draw_whole_bed
from geometry.model.measure import bounds
from geometry.plan import BedPlan, Plan, RaftDesign, bed_file_names
from geometry.watch import part
from layout_gui.output.letters import Letters
from layout_gui.output.svg import render_svg

_BED = "bed"


def raft_drawings(plan: Plan) -> Iterator[str]:
    """Give the file names of the drawings of all raft designs."""
    for bed in plan.beds:
        for design in bed.designs:
            yield from (f"{design.name}.svg", f"{design.name}.dxf")


def bed_drawings(plan: Plan) -> Iterator[str]:
    """Give the file names of the drawings of all beds that have an outline."""
    for name, bed in _beds(plan).items():
        if bed.layout.outline.curves:
            yield from (f"{name}.{_BED}.svg", f"{name}.{_BED}.dxf")


def kind_of(name: str) -> str:
    """Return the kind of a file: what ends the name of a drawing, or the whole name."""
    stem, _, kind = name.rpartition(".")
    if kind not in {"svg", "dxf"}:
        return name
    return f".{_BED}.{kind}" if stem.endswith(f".{_BED}") else f".{kind}"


def render_drawing(plan: Plan, name: str, letters: Letters) -> bytes:
    """Make the drawing that belongs to a file name.

    Raises:
        KeyError: The plan has no such drawing.
    """
    stem, _, kind = name.rpartition(".")
    if stem.endswith(f".{_BED}"):
        return _bed(_beds(plan)[stem.removesuffix(f".{_BED}")], kind, letters)
    return _raft(raft_design(plan, stem), plan, kind, letters)


def raft_design(plan: Plan, name: str) -> RaftDesign:
    """Return the raft design of this name.

    Raises:
        KeyError: The plan has none.
    """
    return {design.name: design for bed in plan.beds for design in bed.designs}[name]


def _beds(plan: Plan) -> dict[str, BedPlan]:
    """The beds by the names of their files; those that are not planned yet have none."""
    names = zip(bed_file_names(plan.project), plan.project.beds, strict=True)
    planned = {bed.bed.name: bed for bed in plan.beds}
    return {name: planned[bed.name] for name, bed in names if bed.name in planned}


def _raft(design: RaftDesign, plan: Plan, kind: str, letters: Letters) -> bytes:
    drawing = draw_raft(design, unit=plan.project.units)
    if kind == "svg":
        width, height = float(design.shape.length), float(design.shape.width)
        return render_svg(drawing, width=width, height=height, title=design.name, letters=letters)
    from layout_gui.output.dxf import render_dxf  # noqa: PLC0415 - loaded when first used

    return render_dxf(drawing, letters)


def _bed(bed: BedPlan, kind: str, letters: Letters) -> bytes:
    with part(0.0, 0.2):
        drawing = draw_whole_bed(bed)
    with part(0.2, 1.0):
        if kind == "svg":
            _, _, right, top = bounds(bed.layout.outline)
            name = bed.bed.name
            return render_svg(drawing, width=right, height=top, title=name, letters=letters)
        from layout_gui.output.dxf import render_dxf  # noqa: PLC0415 - loaded when first used

        return render_dxf(drawing, letters)
