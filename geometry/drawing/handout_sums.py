"""Sums for a class, worked with a project's own numbers: each comes out on a pocket calculator.

A result is reckoned from the figures as they are shown, so that pupils who type them in get the
same. Plants are those of the plan, never rounded.
"""

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import hypot
from typing import Final

from geometry.model.measure import area as loop_area
from geometry.plan import BedPlan, Plan, RaftDesign
from geometry.tongue import mark, number, plural, tr
from geometry.units import MM_PER, Unit

TIMES: Final = "\N{MULTIPLICATION SIGN}"
DIVIDED: Final = "\N{DIVISION SIGN}"

PLANT_KG: Final = Fraction(32, 100)
PLANT_LB: Final = Fraction(7, 10)
"""A head of 0.2 kg with a wet pot and plug of 0.12 kg; in pounds to a tenth (common practice, no
source)."""

FOAM_KG_M3: Final = Fraction(32)
FOAM_LB_FT3: Final = Fraction(2)
"""Foam board weighs about 32 kg in a cubic metre, 2 lb in a cubic foot (ASTM C578: types IX and VI
begin at 29 kg/m3, VII at 35)."""

USUAL_MM: Final = Fraction(50)
_EVEN_MM: Final = 0.5
_MOST_ADDED: Final = 6


@dataclass(frozen=True, slots=True)
class Sum:
    """One worked sum: what is asked, how it is reckoned, and a word on what it means."""

    question: str
    working: str
    meaning: str = ""


def main_bed(plan: Plan) -> BedPlan | None:
    """Return the bed that a class works with: the first that has holes, or else rafts."""
    planted = next((bed for bed in plan.beds if bed.plants), None)
    return planted or next((bed for bed in plan.beds if bed.rafts), None)


def main_design(bed: BedPlan) -> RaftDesign:
    """Return the raft design that is made most often."""
    return max(zip(bed.uses, bed.designs, strict=True), key=lambda each: each[0])[1]


def foam_mm(plan: Plan, design: RaftDesign) -> Fraction:
    """Return how thick a raft's foam is; 50 mm where that is not known."""
    for cut in plan.cut.sheets:
        if cut.sheet.thickness is not None and any(
            piece.design == design.name for piece in cut.pieces
        ):
            return cut.sheet.thickness.exact
    known = [sheet.thickness.exact for sheet in plan.project.sheets if sheet.thickness is not None]
    return known[0] if known else USUAL_MM


def sums_of(plan: Plan, bed: BedPlan) -> tuple[Sum, ...]:
    """Work the sums of a bed that has rafts."""
    unit, design = plan.project.units, main_design(bed)
    area, area_sum = _area(design, unit)
    sums = [area_sum, _plants(bed)]
    if bed.plants:
        sums += [*_row_sum(design, unit), _density(bed, unit), _weight(plan, design, area, unit)]
    if len(plan.beds) > 1 and plan.plants:
        counts = [each.plants for each in plan.beds]
        sums.append(
            Sum(
                tr("How many plants are there in all beds?"),
                f"{_added(counts)} = {number(plan.plants, 0)}",
            )
        )
    return tuple(sums)


def _area(design: RaftDesign, unit: Unit) -> tuple[Fraction, Sum]:
    """Length times width; a raft of odd shape has less than its box, and that counts."""
    per, word = (MM_PER["ft"], "ft") if unit == "in" else (MM_PER["m"], "m")
    decimals = 2 if unit == "in" else 3
    length, width = (
        _rounded(side / per, decimals) for side in (design.shape.length, design.shape.width)
    )
    box = _rounded(length * width, 2)
    working = (
        f"{number(float(length), decimals)} {word} {TIMES} {number(float(width), decimals)} {word}"
        f" = {number(float(box), 2)} {word}²"
    )
    question = tr("How large is one raft?")
    if design.shape.is_rectangle:
        return box, Sum(question, working)
    own = _rounded(Fraction(loop_area(design.shape.loop)) / per**2, 2)
    meaning = tr(
        "That is the box around it. The raft itself has {area}.",
        area=f"{number(float(own), 2)} {word}²",
    )
    return own, Sum(question, working, meaning)


def _plants(bed: BedPlan) -> Sum:
    counts = Counter[int]()
    for design, uses in zip(bed.designs, bed.uses, strict=True):
        counts[len(design.holes)] += uses
    parts = [
        f"{uses} {TIMES} {holes}" if uses > 1 else f"{holes}"
        for holes, uses in sorted(counts.items(), reverse=True)
    ]
    total = number(bed.plants, 0)
    working = f"{' + '.join(parts)} = {total}"
    meaning = tr(
        "{rafts} in the bed, one plant in each hole.", rafts=plural(len(bed.rafts), "raft")
    )
    return Sum(tr("How many plants does the bed hold?"), working, meaning)


def _row_sum(design: RaftDesign, unit: Unit) -> list[Sum]:
    """How far it is along a row of holes; nothing where no row has three evenly spaced ones."""
    decimals = {"mm": 0, "cm": 1, "in": 2}[unit]
    for name, places in _rows(design).items():
        gaps = [hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(places)]
        if len(gaps) < 2 or max(gaps) - min(gaps) > _EVEN_MM:
            continue
        pitch = _rounded(Fraction(gaps[0]) / MM_PER[unit], decimals)
        far = len(gaps) * pitch
        return [
            Sum(
                tr("How far is it from the first hole of row {row} to the last?", row=name),
                f"{len(gaps)} {TIMES} {number(float(pitch), decimals)} {unit}"
                f" = {number(float(far), decimals)} {unit}",
                tr("{holes} have one gap less between them.", holes=plural(len(places), "hole")),
            )
        ]
    return []


def _rows(design: RaftDesign) -> dict[str, list[tuple[float, float]]]:
    """Return the places of the holes of each row, in the order of their numbers."""
    rows: dict[str, list[tuple[float, float]]] = {}
    for name, (x, y) in zip(design.holes.names, design.holes.xy.tolist(), strict=True):
        rows.setdefault(name.rstrip("0123456789"), []).append((x, y))
    return rows


def _density(bed: BedPlan, unit: Unit) -> Sum:
    per, word = (MM_PER["ft"] ** 2, "ft²") if unit == "in" else (Fraction(10**6), "m²")
    area = _rounded(Fraction(bed.area_mm2) / per, 2)
    density = _rounded(bed.plants / area, 1) if area else Fraction(0)
    return Sum(
        tr("How many plants share one {area} of water?", area=word),
        f"{number(bed.plants, 0)} {DIVIDED} {number(float(area), 2)} {word}"
        f" = {number(float(density), 1)}",
    )


def _weight(plan: Plan, design: RaftDesign, area: Fraction, unit: Unit) -> Sum:
    thick = foam_mm(plan, design)
    if unit == "in":
        deep, each, foam, word = thick / MM_PER["ft"], PLANT_LB, FOAM_LB_FT3, "lb"
        long, cubic = "ft", "lb/ft³"
    else:
        deep, each, foam, word = thick / 1000, PLANT_KG, FOAM_KG_M3, "kg"
        long, cubic = "m", "kg/m³"
    deep = _rounded(deep, 3)
    plants = len(design.holes) * each
    total = _rounded(plants + area * deep * foam, 1)
    working = (
        f"{len(design.holes)} {TIMES} {number(float(each), 2)} {word}"
        f" + {number(float(area), 2)} {long}² {TIMES} {number(float(deep), 3)} {long}"
        f" {TIMES} {number(float(foam))} {cubic}"
        f" = {number(float(total), 1)} {word}"
    )
    return Sum(
        tr("How heavy is a raft full of grown plants?"),
        working,
        tr("We take {weight} for a plant with its wet pot. Weigh yours!",
           weight=f"{number(float(each), 2)} {word}"),
    )  # fmt: skip


def _added(counts: list[int]) -> str:
    if len(counts) > _MOST_ADDED:
        shown = " + ".join(number(count, 0) for count in counts[:3])
        return f"{shown} + … + {number(counts[-1], 0)}"
    return " + ".join(number(count, 0) for count in counts)


def _rounded(value: Fraction, decimals: int) -> Fraction:
    """Round half up, as pupils do."""
    scale = 10**decimals
    return Fraction(int(value * scale + Fraction(1, 2)), scale)


QUESTIONS: Final = (
    mark("From which corner do we measure, and why always from the same one?"),
    mark("Why must the roots reach the water, but not the leaves?"),
    mark("What happens when two plants stand too close together?"),
    mark("Why do we drill and brush far from the water?"),
    mark("Why is an empty hole closed with a plug?"),
    mark("Half of the plants are picked on one side only. How will the raft lie?"),
)
"""What a class may think about; the answers are in the work."""
