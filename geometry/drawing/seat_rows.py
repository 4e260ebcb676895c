"""Which saw is taken for each pot, and how the pots then sit: for the cut sheet."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from geometry.afloat.pots import Pot, Seated
from geometry.afloat.saws import fit_of, saw_text
from geometry.drawing.bench import BENCH_MM
from geometry.drawing.drilling import hatch
from geometry.drawing.flow import Part, Row, columns_of, gap, heading, row_width, together, words
from geometry.drawing.lettering import clipped, fitting_height, line
from geometry.drawing.marks import Box, Mark, frame
from geometry.drawing.paper import Paper
from geometry.drawing.pot_section import drawing_box, pot_marks
from geometry.drawing.scales import best_scale
from geometry.drawing.seat_words import SEAT_WORDS, seat_words
from geometry.drawing.styles import Style
from geometry.model.curves import Point
from geometry.model.planting import Planting
from geometry.plan import BedPlan, Plan, RaftDesign
from geometry.shopping import SAME_SAW_MM, USUAL_THICKNESS
from geometry.tongue import tr
from geometry.units import Length, Unit, format_length

_TALLEST_MM: Final = 62.0
_HEAD_MM: Final = 8.0
_SECTION_MM: Final = 84.0
_ASIDE_MM: Final = 92.0
_MOST_SAWS: Final = 6
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

    @property
    def sits(self) -> tuple[Pot, Seated] | None:
        """The pot and how it sits; None where it does not."""
        if self.seated.seat in {"falls through", "does not go in"}:
            return None
        return self.pot, self.seated


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


def saw_note(plan: Plan, potted: Potted, unit: Unit) -> str:
    """Say in one line which saw to take for a pot, and how it then sits."""
    hole = potted.planting.hole_diameter
    return tr(
        "Saw of {saw} for {pot}: {seat}.",
        saw=saw_text(own_saw(plan, hole) or hole, unit), pot=clipped(potted.name),
        seat=tr(SEAT_WORDS[potted.seated.seat]),
    )  # fmt: skip


def seat_row(potted: Potted, thickness: float, room: float) -> Row | None:
    """Draw a pot in its hole, at true size where there is room; None where it has no seat."""
    pot, seated, hole = potted.pot, potted.seated, potted.hole
    if potted.sits is None:
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


def pots_part(plan: Plan, paper: Paper) -> Part | None:
    """Compose the part that shows each pot in its hole, with the saws; None without a pot."""
    found = {(each.name, each.planting.hole_diameter): each for each in potted_in(plan)}
    if not found:
        return None
    unit, room = plan.project.units, row_width(paper)
    rows: list[Row] = []
    for potted in found.values():
        told = tuple(
            words(text, room - _ASIDE_MM, height=BENCH_MM)
            for text in (saw_line(plan, potted, unit), *_saw_lines(plan, potted, unit))
        )
        seat = seat_row(potted, _thickness(plan), _SECTION_MM)
        drawn: Row = words("", room) if seat is None else seat
        rows += together(
            (heading(clipped(potted.name), room), columns_of((0, (drawn,)), (_ASIDE_MM, told)))
        )
        rows.append(gap())
    title = tr("Pots and saws")
    return Part(title, tr("{name}: which saw for which pot", name=clipped(plan.project.name)),
                tuple(rows), title)  # fmt: skip


def _saw_lines(plan: Plan, potted: Potted, unit: Unit) -> Iterator[str]:
    """Say what the grower's other saws would do, those nearest to the pot first."""
    wobble = plan.project.allowances.wobble.mm
    if wobble:
        yield tr("Holes come out {wobble} wider than the saw.", wobble=format_length(wobble, "mm"))
    taken = own_saw(plan, potted.planting.hole_diameter)
    others = sorted(
        set(plan.project.supplies.saws) - {taken}, key=lambda saw: abs(saw.mm - potted.pot.body)
    )
    for saw in others[:_MOST_SAWS]:
        fit = fit_of(potted.pot, saw, wobble, is_own=True)
        yield tr("With your {saw}: {seat}.", saw=saw_text(saw, unit), seat=seat_words(fit.seated))


def _thickness(plan: Plan) -> float:
    known = [sheet.thickness for sheet in plan.project.sheets if sheet.thickness is not None]
    return max(known, key=lambda each: each.exact, default=USUAL_THICKNESS).mm
