"""Rafts to try short templates on."""

from collections.abc import Iterator
from fractions import Fraction

import numpy as np

from geometry.drawing.marks import Circle, Group
from geometry.drawing.paper import Page, PageSetup
from geometry.drawing.short.job import Job, jobs
from geometry.holes.sites import Holes
from geometry.model.curves import Loop
from geometry.plan import PlacedRaft, RaftDesign
from geometry.rafts.layout import RaftShape
from geometry.units import Unit
from tests.builders import make_bed_plan, make_design, make_holes, make_plan, make_shape


def stagger(
    length: float, width: float, *, pitch: float, rows: int, gap: float, offset: float, long: int,
    short: int, diameter: float = 50,
) -> RaftDesign:  # fmt: skip
    """A raft with staggered rows, its block in the middle of it."""
    wide = max((long - 1) * pitch, (short - 1) * pitch + offset)
    x0, y0 = (length - wide) / 2, (width - (rows - 1) * gap) / 2
    places, names = [], []
    for row in range(rows):
        count = short if row % 2 else long
        for place in range(count):
            places.append((x0 + (offset if row % 2 else 0) + place * pitch, y0 + row * gap))
            names.append(f"{'ABCDEFGHJKLM'[row]}{place + 1}")
    holes = make_holes(places, diameter=diameter, names=names)
    return make_design(shape=make_shape(length, width), holes=holes)


def job_of(design: RaftDesign, setup: PageSetup | None = None, unit: Unit = "mm") -> Job:
    raft = PlacedRaft("R1", design, 0, 0)
    plan = make_plan(make_bed_plan([raft]), units=unit)
    return jobs(plan, setup or PageSetup())[0]


def shaped(loop: Loop, length: float, width: float, holes: Holes) -> RaftDesign:
    return make_design(
        shape=RaftShape(loop, Fraction(length), Fraction(width), is_rectangle=False), holes=holes
    )


def groups_of(page: Page) -> Iterator[Group]:
    for picture in page.pictures:
        yield from picture.drawing.groups


def centres(groups: Iterator[Group], start: str) -> dict[str, tuple[float, float]]:
    """Where the first circle of each group is whose id begins so."""
    found: dict[str, tuple[float, float]] = {}
    for group in groups:
        if group.id.startswith(start):
            circle = next(mark for mark in group.marks if isinstance(mark, Circle))
            found[group.id] = (circle.centre.x, circle.centre.y)
    return found


def turned(places: np.ndarray, angle: float) -> np.ndarray:
    cosine, sine = np.cos(angle), np.sin(angle)
    return places @ np.array([[cosine, sine], [-sine, cosine]])
