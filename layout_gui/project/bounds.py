"""The bounds of the project file and the rules that hold between its values.

One table for files and edits: what may not be read may not be typed either.
"""

import unicodedata
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, fields
from fractions import Fraction
from typing import Any, Final

from geometry.errors import GeometryError
from geometry.model.bed import Bed, Split
from geometry.model.outlines import LShape, Measured, Outline, Polygon, Rectangle
from geometry.model.planting import COARSEST_STEP_MM, FINEST_STEP_MM
from geometry.model.project import Project
from geometry.model.sheet import Sheet
from geometry.model.wanted import HIGHEST_PER_M2, MOST_WANTED, Density
from geometry.model.zone import Zone
from geometry.units import LONGEST_MM, Length, finite_decimal
from layout_gui.project.faults import Fault

LONGEST_NAME: Final = 200
LONGEST_NOTE: Final = 2000
MOST_RAFTS: Final = 100_000
MOST_SITES: Final = 2_000_000
MOST_GUIDE_LINES: Final = 1_000

EXAMPLE: Final = 'write a length such as 200 or "8 in"'


@dataclass(frozen=True, slots=True)
class Bound:
    """The least and the most of a length in mm; with ``above`` the least itself is too small."""

    least: Fraction
    above: bool = False
    most: Fraction = Fraction(LONGEST_MM)

    def fault(self, mm: Fraction) -> tuple[str, str] | None:
        """Say what is wrong with a length and what to write instead; None when it is within."""
        above, below = mm.as_integer_ratio()
        if above > LONGEST_MM * below:
            return "must be at most 1000 m", EXAMPLE
        if mm > self.most:
            return f"must be at most {finite_decimal(self.most)} mm", EXAMPLE
        over = above * self.least.denominator - self.least.numerator * below
        if over < 0 or (self.above and over == 0):
            match self.least:
                case least if least > 0 and mm > 0:
                    return f"must be at least {finite_decimal(least)} mm", EXAMPLE
                case least if least > 0 or self.above:
                    return "must be above 0", EXAMPLE
                case 0:
                    return "must not be below 0", EXAMPLE
                case _:
                    return "must be at least -1000 m", EXAMPLE
        return None


SIZE: Final = Bound(Fraction(0), above=True)
GAP: Final = Bound(Fraction(0))
FINE: Final = Bound(Fraction(1, 100))
STEP: Final = Bound(FINEST_STEP_MM, most=COARSEST_STEP_MM)
PLACE: Final = Bound(Fraction(-LONGEST_MM))

BOUNDS: Final[dict[str, Bound]] = {
    **dict.fromkeys(("length", "width", "widths", "lengths", "diagonals", "diameter"), SIZE),
    **dict.fromkeys(("notch_length", "notch_width", "width_start", "width_end"), SIZE),
    "thickness": SIZE,
    **dict.fromkeys(("corner_radius", "clearance", "joint_gap"), GAP),
    **dict.fromkeys(("edge_margin", "web", "kerf", "trim"), GAP),
    **dict.fromkeys(("tolerance", "keep_offcut"), GAP),
    **dict.fromkeys(("along", "across"), SIZE),
    **dict.fromkeys(("spacing", "row_spacing", "hole_diameter"), FINE),
    "round_to": STEP,
    **dict.fromkeys(("x", "y", "points", "home", "shift_along", "shift_across"), PLACE),
    **dict.fromkeys(("centre", "corner", "at"), PLACE),
}
"""The bound of each length, by its name in the model and in the file alike."""

COUNTS: Final = {
    "along": (1, MOST_RAFTS),
    "across": (1, MOST_RAFTS),
    "quantity": (0, 10**6),
    "count": (1, MOST_WANTED),
}
"""The least and the most of each count."""

HIGHEST_PRICE: Final = 10**9


def text_fault(text: str, longest: int = LONGEST_NAME) -> tuple[str, str] | None:
    """Say what is wrong with a name or a note; None when it can be shown and printed."""
    if len(text) > longest:
        return f"must be at most {longest} characters", "shorten it"
    if not text.isprintable() and any(
        unicodedata.category(sign) in {"Cc", "Cs", "Zl", "Zp"} for sign in text
    ):
        return "must not hold control characters or half characters", "type it anew"
    return None


def outline_fault(outline: Outline) -> tuple[str, str, str] | None:
    """Find what two numbers of an outline forbid each other: key, what is wrong, what to do."""
    match outline:
        case Rectangle(length, width, corner_radius):
            if 2 * corner_radius.exact > min(length.exact, width.exact):
                cure = "write a smaller radius"
                return "corner_radius", "must be at most half the shorter side", cure
        case LShape():
            for key, side in (("notch_length", outline.length), ("notch_width", outline.width)):
                if getattr(outline, key).exact >= side.exact:
                    return key, f"must be less than the {key[6:]}", "write a smaller notch"
        case Measured():
            if len(outline.diagonals) == 1:
                return "diagonals", "must be two or none", "measure both diagonals or neither"
        case Polygon(points):
            for axis in range(2):
                places = [point[axis].exact for point in points]
                if max(places) - min(places) > LONGEST_MM:
                    return "points", "must span at most 1000 m", "write smaller numbers"
        case _:
            pass
    return None


def sheet_fault(sheet: Sheet) -> tuple[str, str, str] | None:
    """Find what the values of a sheet forbid each other: key, what is wrong, what to do."""
    if sheet.tolerance.exact >= min(sheet.length.exact, sheet.width.exact):
        return "tolerance", "must be less than the shorter side", "write how much may be missing"
    if sheet.score is not None and not (sheet.score.across or sheet.score.along):
        cure = 'write how far apart they lie, such as {"across": "16 in"}, or take it out'
        return "score", "has no lines", cure
    return None


def project_faults(project: Project) -> Iterator[Fault]:
    """Yield what is wrong between the parts of a project whose single values are in bounds."""
    names: Counter[str] = Counter()
    rafts = 0
    for number, bed in enumerate(project.beds):
        names[bed.name] += 1
        if names[bed.name] == 2:
            yield Fault(
                f"/beds/{number}/name", f"“{bed.name}” is the name of another bed",
                "give each bed a name of its own",
            )  # fmt: skip
        yield from _zone_faults(bed, f"/beds/{number}/zones")
        if isinstance(bed.rafts, Split):
            rafts += bed.rafts.along * bed.rafts.across
            if rafts > MOST_RAFTS:
                yield Fault(
                    f"/beds/{number}/rafts", f"the project has more than {MOST_RAFTS} rafts",
                    "write fewer along or across",
                )  # fmt: skip
                return
    for number, choice in enumerate(project.choices):
        if choice.bed not in names:
            yield Fault(
                f"/choices/{number}/bed", f"there is no bed “{choice.bed}”",
                "name one of the beds or take the choice out",
            )  # fmt: skip
    for number, line in enumerate(project.guide_lines):
        if line.bed not in names:
            yield Fault(
                f"/guide_lines/{number}/bed", f"there is no bed “{line.bed}”",
                "name one of the beds or take the line out",
            )  # fmt: skip


def _zone_faults(bed: Bed, place: str) -> Iterator[Fault]:
    if bed.zones and bed.planting is None:
        yield Fault(place, "stand in a bed without planting", "plant the bed first")
    names: Counter[str] = Counter()
    for number, zone in enumerate(bed.zones):
        names[zone.name] += 1
        if names[zone.name] == 2:
            yield Fault(
                f"{place}/{number}/name", f"“{zone.name}” is the name of another zone",
                "give each zone of a bed a name of its own",
            )  # fmt: skip
        if (zone.shape is None) == (not zone.rafts):
            yield Fault(
                f"{place}/{number}", "has neither a shape nor rafts, or both",
                "keep one of the two",
            )  # fmt: skip
        if zone.shape is not None and (zone.centre is None) == (zone.corner is None):
            yield Fault(
                f"{place}/{number}/shape", "has no place, or two",
                'write a "centre" or a "corner", such as [300, 60]',
            )  # fmt: skip


def refuse_out_of_bounds(value: Any, label: str = "") -> None:
    """Refuse a value of the model, or a part of one, that no project file may hold.

    Raises:
        GeometryError: with the label, what is wrong and what to do.
    """
    for name, what, cure in _own_faults(value, label):
        raise GeometryError(f"{name} {what}; {cure}.")


def _own_faults(value: Any, name: str) -> Iterator[tuple[str, str, str]]:
    words = name.replace("_", " ").capitalize()
    found: tuple[str, str] | None = None
    match value:
        case Length():
            found = BOUNDS[name].fault(value.exact)
        case str():
            found = text_fault(value, LONGEST_NOTE if name in {"note", "key"} else LONGEST_NAME)
        case bool() | None:
            pass
        case int():
            least, most = COUNTS[name]
            if not least <= value <= most:
                found = f"must be from {least} to {most}", "write a whole number"
        case Density(per_m2):
            if not 0 < per_m2 <= HIGHEST_PER_M2:
                found = f"must be above 0 and at most {HIGHEST_PER_M2} per m²", "write 24/m2"
        case Fraction():
            if not 0 <= value <= HIGHEST_PRICE or finite_decimal(value) is None:
                found = f"must be a decimal from 0 to {HIGHEST_PRICE}", "write one such as 14.5"
        case tuple():
            for part in value:
                yield from _own_faults(part, name)
        case _:
            for part in fields(value):
                yield from _own_faults(getattr(value, part.name), part.name)
            yield from _between(value)
    if found:
        yield words, *found


def _between(value: Any) -> Iterator[tuple[str, str, str]]:
    match value:
        case Bed() if not value.name:
            yield "Name", "is missing", "give the bed a name"
        case Zone() if not value.name:
            yield "Name", "is missing", "give the zone a name"
        case Rectangle() | LShape() | Measured() | Polygon():
            if found := outline_fault(value):
                yield found[0].replace("_", " ").capitalize(), *found[1:]
        case Sheet():
            if found := sheet_fault(value):
                yield found[0].replace("_", " ").capitalize(), *found[1:]
        case _:
            pass
