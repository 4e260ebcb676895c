"""What a project begins with: shapes, foam and rules in round numbers, and what is still open.

All sizes here are common practice, no source; they are shown, and each can be changed.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from typing import Final, Literal

from geometry.beds.outline import exact_box
from geometry.beds.shapes import AGAIN, NEEDED, SHAPES, ShapeName, cut_of, shape_of, with_cut
from geometry.crops.table import find_crop
from geometry.errors import GeometryError
from geometry.model.bed import Bed, Fit
from geometry.model.outlines import (
    Disc,
    LShape,
    Measured,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.model.own_crop import OwnCrop
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.sheet import Cutting, Sheet
from geometry.tongue import mark, tr
from geometry.units import ZERO, Length, Unit
from layout_gui.project import edits

Question = Literal["shape", "inside", "levels", "foam", "crop"]
Values = Mapping[str, Length | None]

QUESTIONS: Final[tuple[Question, ...]] = ("shape", "inside", "levels", "foam", "crop")


@dataclass(frozen=True, slots=True)
class FirstValues:
    """Sizes that a new project starts with, in round numbers of one system.

    The names of the sheets are marked, and translated where they go into a project.
    """

    sheets: tuple[Sheet, ...]
    clearance: Length
    joint_gap: Length
    edge_margin: Length
    web: Length
    hole: Length
    kerf: Length
    spacing: Length
    length: Length
    width: Length
    part: Length

    @property
    def sheet(self) -> Sheet:
        """The board that is offered first."""
        return self.sheets[0]


METRIC_FIRST: Final = FirstValues(
    sheets=(
        Sheet(mark("board 1250 x 600"), Length.of(1250), Length.of(600), Length.of(50)),
        Sheet(mark("board 1200 x 600"), Length.of(1200), Length.of(600), Length.of(50)),
        Sheet(mark("board 2400 x 600"), Length.of(2400), Length.of(600), Length.of(50)),
        Sheet(mark("board 2500 x 1200"), Length.of(2500), Length.of(1200), Length.of(50)),
    ),
    clearance=Length.of(10),
    joint_gap=Length.of(5),
    edge_margin=Length.of(60),
    web=Length.of(25),
    hole=Length.of(50),
    kerf=Length.of(3),
    spacing=Length.of(200),
    length=Length.of(2400),
    width=Length.of(1200),
    part=Length.of(400),
)
INCH_FIRST: Final = FirstValues(
    sheets=(
        Sheet(mark("board 8 x 4 ft"), Length.of("96 in"), Length.of("48 in"), Length.of("2 in")),
        Sheet(mark("board 8 x 2 ft"), Length.of("96 in"), Length.of("24 in"), Length.of("2 in")),
        Sheet(mark("board 4 x 2 ft"), Length.of("48 in"), Length.of("24 in"), Length.of("2 in")),
    ),
    clearance=Length.of("1/2 in"),
    joint_gap=Length.of("1/4 in"),
    edge_margin=Length.of("2 1/2 in"),
    web=Length.of("1 in"),
    hole=Length.of("2 in"),
    kerf=Length.of("1/8 in"),
    spacing=Length.of("8 in"),
    length=Length.of("96 in"),
    width=Length.of("48 in"),
    part=Length.of("16 in"),
)


def first_values(unit: Unit) -> FirstValues:
    """Return the first values of a grower who works in this unit."""
    return INCH_FIRST if unit == "in" else METRIC_FIRST


def first_planting(crop: str, unit: Unit, own: Iterable[OwnCrop] = ()) -> Planting:
    """Return a planting of a crop at its spacing, 20 cm or 8 in without one.

    ``own`` are the grower's own crops, which go before the published ones.
    """
    first = first_values(unit)
    row = find_crop(crop, own)
    return Planting(
        spacing=row.spacing if row else first.spacing,
        hole_diameter=first.hole,
        crop=crop,
        edge_margin=first.edge_margin,
        web=first.web,
    )


def first_project(length: Length, width: Length, crop: str, unit: Unit) -> Project:
    """Return a project of one rectangular bed, full of rafts and holes."""
    first = first_values(unit)
    bed = Bed(
        name=tr("Bed 1"),
        outline=Rectangle(length, width),
        clearance=first.clearance,
        joint_gap=first.joint_gap,
        rafts=Fit(first.sheet.length, first.sheet.width),
        planting=first_planting(crop, unit),
    )
    sheet = replace(first.sheet, name=tr(first.sheet.name))
    return Project("", unit, (bed,), (sheet,), Cutting(first.kerf))


# -- shapes ---------------------------------------------------------------------------------------


def usual_outline(shape: ShapeName, unit: Unit) -> Outline:
    """Return an outline of a shape to begin with, in sizes that wait to be measured."""
    first = first_values(unit)
    return _outline(shape, first.length, first.width, first.part)


def is_usual(outline: Outline) -> bool:
    """Tell whether an outline still has the sizes it began with."""
    shapes = SHAPES if isinstance(outline, Polygon) else (shape_of(outline),)
    return any(outline == usual_outline(shape, unit) for shape in shapes for unit in ("mm", "in"))


def reshaped(old: Outline, shape: ShapeName, unit: Unit) -> Outline:
    """Return an outline of another shape; one that was measured keeps its length and width."""
    if is_usual(old):
        return usual_outline(shape, unit)
    try:
        length, width = (Length(side) for side in exact_box(old))
    except GeometryError:
        return usual_outline(shape, unit)
    return _outline(shape, length, width, Length(min(length.exact, width.exact) / 4))


def _outline(shape: ShapeName, length: Length, width: Length, part: Length) -> Outline:
    half = Length(part.exact / 2)
    narrow = Length(width.exact * 3 / 4)
    match shape:
        case "rectangle":
            return Rectangle(length, width)
        case "rounded":
            return Rectangle(length, width, half)
        case "round":
            return Disc(min(length, width, key=lambda side: side.exact))
        case "round ends":
            return RoundEnded(length, width)
        case "L":
            return LShape(length, width, Length(length.exact / 2), part)
        case "corner cut":
            return with_cut(length, width, part, part)
        case "tapered":
            return Tapered(length, width, narrow)
        case "free":
            left, right = half, Length(length.exact - half.exact)
            return Polygon(((ZERO, ZERO), (length, ZERO), (right, width), (left, narrow)))


# -- measures -------------------------------------------------------------------------------------


def values_of(shape: ShapeName, outline: Outline) -> dict[str, Length | None]:
    """Return every measure of an outline by its name; None for what was not measured."""
    match outline:
        case Measured(widths, lengths, diagonals):
            found: dict[str, Length | None] = dict.fromkeys(AGAIN)
            found |= zip(("width", "width-2", "width-3"), widths, strict=False)
            found |= zip(("length", "length-2"), lengths, strict=False)
            found |= zip(("diagonal-1", "diagonal-2"), diagonals, strict=False)
            return found
        case Polygon():
            cut = cut_of(outline) if shape == "corner cut" else None
            return dict(zip(NEEDED["corner cut"], cut or (), strict=False))
        case _:
            found = {name: getattr(outline, name) for name in NEEDED[shape_of(outline)]}
            return found | dict.fromkeys(AGAIN) if shape == "rectangle" else found


def outline_of(shape: ShapeName, values: Values) -> Outline:
    """Return the outline that has these measures; one diagonal alone does not count.

    Raises:
        GeometryError: A measure that the shape needs is missing, or two of them disagree.
    """
    needed = [value for name in NEEDED[shape] if (value := values.get(name)) is not None]
    if shape == "free" or len(needed) < len(NEEDED[shape]):
        raise GeometryError(tr("This measure is needed."))
    match shape:
        case "round":
            return Disc(*needed)
        case "round ends":
            return RoundEnded(*needed)
        case "L":
            return LShape(*needed)
        case "tapered":
            return Tapered(*needed)
        case "corner cut":
            return with_cut(*needed)
        case "rounded":
            return Rectangle(*needed)
        case _:
            return _rectangle(values, *needed)


def _rectangle(values: Values, length: Length, width: Length) -> Outline:
    def again(*names: str) -> tuple[Length, ...]:
        return tuple(value for name in names if (value := values.get(name)) is not None)

    widths, lengths = (width, *again("width-2", "width-3")), (length, *again("length-2"))
    diagonals = again("diagonal-1", "diagonal-2")
    if len(widths) == len(lengths) == 1 and len(diagonals) < 2:
        return Rectangle(length, width)
    return Measured(widths, lengths, diagonals if len(diagonals) == 2 else ())


# -- answers --------------------------------------------------------------------------------------


def open_question(project: Project, bed: Bed | None) -> Question | None:
    """Return the first question that the project does not answer yet; None when all are."""
    if bed is None:
        return "shape"
    if not project.sheets:
        if is_usual(bed.outline):
            return "inside"
        return "levels" if bed.planting is None else "foam"
    return "crop" if bed.planting is None else None


def with_shape(project: Project, bed: Bed | None, shape: ShapeName) -> Project:
    """Give the bed a shape; without a bed, begin one."""
    if bed is not None:
        return edits.set_outline(project, bed.name, reshaped(bed.outline, shape, project.units))
    first = first_values(project.units)
    begun = Bed(
        name=tr("Bed 1"),
        outline=usual_outline(shape, project.units),
        clearance=first.clearance,
        joint_gap=first.joint_gap,
    )
    return edits.add_bed(project, begun)


def with_foam(project: Project, bed: Bed, sheet: Sheet) -> Project:
    """Cut the bed's rafts out of a sheet, which takes the place of the first one.

    The sheet lies the way that gives fewer rafts.
    """
    if not project.sheets:
        kerf = replace(project.cutting, kerf=first_values(project.units).kerf)
        project = edits.set_cutting(project, kerf)
    others = tuple(each for each in project.sheets[1:] if each.name != sheet.name)
    project = edits.set_sheets(project, (sheet, *others))
    return edits.set_bed(project, bed.name, rafts=_fewest(bed, sheet))


def _fewest(bed: Bed, sheet: Sheet) -> Fit:
    along, across = Fit(sheet.length, sheet.width), Fit(sheet.width, sheet.length)
    try:
        box = exact_box(bed.outline)
    except GeometryError:
        return along
    return min(along, across, key=lambda fit: _rafts(bed, box, fit))


def _rafts(bed: Bed, box: tuple[Fraction, Fraction], fit: Fit) -> int:
    gap = bed.joint_gap.exact
    columns, rows = (
        ceil((side - 2 * bed.clearance.exact + gap) / (most.exact + gap))
        for side, most in zip(box, (fit.length, fit.width), strict=True)
    )
    return max(columns, 1) * max(rows, 1)


def with_crop(project: Project, bed: Bed, crop: str) -> Project:
    """Plant the bed with a crop at its own or published spacing; its other rules stay."""
    if bed.planting is None:
        planting = first_planting(crop, project.units, project.crops)
        return edits.set_bed(project, bed.name, planting=planting)
    row = find_crop(crop, project.crops)
    spacing = {"spacing": row.spacing} if row else {}
    return edits.set_planting(project, bed.name, crop=crop, **spacing)
