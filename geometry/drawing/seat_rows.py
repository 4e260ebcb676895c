"""Which saw a raft is drilled with, and how its pots then sit: rows of the cut sheet."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from geometry.afloat.pots import Pot, Seated
from geometry.afloat.saws import saw_text
from geometry.drawing.bench import BENCH_MM
from geometry.drawing.drilling import hatch
from geometry.drawing.flow import Row
from geometry.drawing.lettering import fitting_height, line
from geometry.drawing.marks import Box, Mark, frame
from geometry.drawing.pot_section import drawing_box, pot_marks
from geometry.drawing.scales import best_scale
from geometry.drawing.seat_words import seat_words
from geometry.drawing.styles import Style
from geometry.model.curves import Point
from geometry.model.planting import Planting
from geometry.plan import BedPlan, Plan, RaftDesign
from geometry.shopping import SAME_SAW_MM
from geometry.tongue import tr
from geometry.units import Length, Unit

_TALLEST_MM: Final = 62.0
_HEAD_MM: Final = 8.0
_SHOULDER_MM: Final = 13.0
_LEAST_SHOULDER_MM: Final = 3.0


@dataclass(frozen=True, slots=True)
class Potted:
    """A pot as it sits in the holes of one planting, ``hole`` as wide as they come out, in mm."""

    name: str
    pot: Pot
    seated: Seated
    planting: Planting
    hole: float


def potted_on(plan: Plan, bed: BedPlan, design: RaftDesign) -> tuple[Potted, ...]:
    """Return the pots of a raft, those of the most holes first; none where none is named."""
    water = plan.water_of(bed.bed.name)
    if water is None or not len(design.holes):
        return ()
    around = water.surroundings
    counts = design.holes.count_by_planting(len(around.pots)).tolist()
    found: dict[tuple[str, Length], Potted] = {}
    for number in np.argsort([-count for count in counts], kind="stable").tolist():
        pot, seated, planting = (
            around.pots[number], water.seats[number], around.plantings[number],
        )  # fmt: skip
        if pot is None or seated is None or not counts[number]:
            continue
        hole = planting.hole_diameter.mm + around.allowances.wobble.mm
        key = pot.name, planting.hole_diameter
        found.setdefault(key, Potted(pot.name, Pot.of(pot), seated, planting, hole))
    return tuple(found.values())


def potted_in(plan: Plan) -> Iterator[Potted]:
    """Yield the pots of all raft designs of a plan, those that are alike again and again."""
    for bed in plan.beds:
        for design in bed.designs:
            yield from potted_on(plan, bed, design)


def own_saw(plan: Plan, hole: Length) -> Length | None:
    """Return the grower's saw that serves a hole, None where there is none."""
    saws = plan.project.supplies.saws
    near = min(saws, key=lambda saw: abs(saw.exact - hole.exact), default=None)
    if near is None or abs(near.exact - hole.exact) > SAME_SAW_MM:
        return None
    return near


def saw_line(plan: Plan, potted: Potted, unit: Unit) -> str:
    """Say which saw to take for a pot, and how it then sits."""
    hole = potted.planting.hole_diameter
    saw = own_saw(plan, hole)
    words = seat_words(potted.seated)
    if saw is None:
        return tr(
            "Take a saw of {saw} for {pot}: {seat}.",
            saw=saw_text(hole, unit), pot=potted.name, seat=words,
        )  # fmt: skip
    return tr(
        "Take your saw of {saw} for {pot}: {seat}.",
        saw=saw_text(saw, unit), pot=potted.name, seat=words,
    )  # fmt: skip


def seat_row(potted: Potted, thickness: float, room: float) -> Row | None:
    """Draw a pot in its hole, at true size where there is room; None where it has no seat."""
    pot, seated, hole = potted.pot, potted.seated, potted.hole
    if seated.seat in {"falls through", "does not go in"}:
        return None
    shoulder = min(max((room - max(hole, pot.rim)) / 2, _LEAST_SHOULDER_MM), _SHOULDER_MM)
    box = drawing_box(pot, seated, hole, thickness, shoulder)
    scale = best_scale(box.width, box.height, room, _TALLEST_MM)
    wide, high = box.width / scale, box.height / scale

    def draw(left: float, top: float) -> Iterator[Mark]:
        title = (
            tr("The pot in it, at true size")
            if scale == 1
            else tr("The pot in it, 1 : {scale}", scale=scale)
        )
        size = fitting_height(title, BENCH_MM, room, bold=True)
        yield line(left, top - BENCH_MM, title, size, style=Style.TITLE, room=room)
        face = Point(left + wide / 2, top - _HEAD_MM - box.top / scale)
        half, low = hole / 2 / scale, face.y - thickness / scale
        for part in (
            Box(left, low, face.x - half, face.y),
            Box(face.x + half, low, left + wide, face.y),
        ):
            yield from hatch(part)
            yield frame(part, Style.RAFT)
        yield from pot_marks(pot, seated, thickness, face, 1 / scale)

    return Row(_HEAD_MM + high + 3, draw)
