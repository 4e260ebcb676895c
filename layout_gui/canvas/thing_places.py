"""Where the things of a bed are: obstacles, zones, corners of the outline, joints."""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from PySide6.QtGui import QPainterPath

from geometry.errors import GeometryError
from geometry.model.bed import Bed
from geometry.model.curves import Loop
from geometry.model.measure import Box, Gauge, bounds
from geometry.plan import BedPlan
from geometry.rafts.split import JointLines, joint_lines
from layout_gui.project.edits_things import (
    box_of,
    find_standing,
    grips_of,
    loop_of,
    things_of,
)
from layout_gui.project.grips import Grip, corner_grips
from layout_gui.project.things import Thing
from layout_gui.screen.painter import loop_path

GRASP_PX: Final = 12.0
"""A press so near a grip or a selected corner, each way, takes hold of it: 24 pixels across."""

CORNER_PX: Final = 7.0
"""A press so near a corner takes hold of it; frames around all holes begin not far from there."""

LINE_PX: Final = 6.0
"""A press so near an outline takes hold of it."""

CROWD_PX: Final = 48.0
"""A side shorter than this has no grip in its middle."""

JOINT_PX: Final = 4.0
"""A press so near a joint takes hold of it."""


@dataclass(frozen=True, slots=True)
class Body:
    """An obstacle or a drawn zone where it stands."""

    thing: Thing
    loop: Loop
    gauge: Gauge
    box: Box

    def is_at(self, x: float, y: float, reach_mm: float) -> bool:
        """Whether a press takes hold of it: an obstacle's whole body, a zone's outline."""
        left, bottom, right, top = self.box
        if not (
            left - reach_mm <= x <= right + reach_mm and bottom - reach_mm <= y <= top + reach_mm
        ):
            return False
        inside = float(self.gauge.signed_distance(np.array([[x, y]]))[0])
        return inside >= -reach_mm if self.thing.kind == "obstacle" else abs(inside) <= reach_mm


class ThingPlaces:
    """The things of one bed plan, ready to be found. Worked out when first asked."""

    def __init__(self, bed_plan: BedPlan) -> None:
        self._plan = bed_plan

    @property
    def bed(self) -> Bed:
        """The bed they are in."""
        return self._plan.bed

    @cached_property
    def all(self) -> tuple[Thing, ...]:
        """Every thing, in the order of the keyboard."""
        return things_of(self.bed)

    @cached_property
    def bodies(self) -> dict[Thing, Body]:
        """Obstacles and drawn zones that can be drawn; what lies on top comes last."""
        return {body.thing: body for body in self._make_bodies()}

    @cached_property
    def corners(self) -> tuple[Grip, ...]:
        """The corners of the outline."""
        with suppress(GeometryError):
            return corner_grips(self.bed.outline)
        return ()

    @cached_property
    def joints(self) -> JointLines:
        """The middle lines of the joints."""
        with suppress(GeometryError):
            return joint_lines(self.bed)
        return JointLines((), ())

    @cached_property
    def rafts_box(self) -> Box:
        """The box around all rafts; that of the water where there are none."""
        boxes = [
            (raft.x, raft.y, raft.x + float(raft.shape.length), raft.y + float(raft.shape.width))
            for raft in self._plan.layout.rafts
        ]
        if not boxes:
            return bounds(self._plan.layout.outline)
        left, bottom, right, top = (
            extreme(map(float, side))
            for extreme, side in zip((min, min, max, max), zip(*boxes, strict=True), strict=True)
        )
        return left, bottom, right, top

    def at(
        self, x: float, y: float, pixel_mm: float, picked: Thing | None = None
    ) -> tuple[Thing, ...]:
        """Return what lies at a place, the first to be taken hold of first.

        A corner that is ``picked`` is taken hold of from further away.
        """
        near = LINE_PX * pixel_mm
        under = [t for t, body in reversed(self.bodies.items()) if body.is_at(x, y, near)]
        found = [thing for thing in under if thing.kind == "obstacle"]
        corners = self._corners_at(x, y, GRASP_PX * pixel_mm)
        if picked not in corners:
            corners = self._corners_at(x, y, CORNER_PX * pixel_mm)
        found += corners
        found += self._joints_at(x, y, JOINT_PX * pixel_mm)
        return (*found, *(thing for thing in under if thing.kind == "zone"))

    def grips(self, thing: Thing) -> tuple[Grip, ...]:
        """Return where an obstacle or a zone can be pulled, in bed coordinates."""
        if thing not in self.bodies:
            return ()
        return grips_of(find_standing(self.bed, thing))

    def shown_grips(self, thing: Thing, pixel_mm: float) -> dict[int, Grip]:
        """Return the grips of a thing by number, without those that would crowd a small one."""
        found = dict(enumerate(self.grips(thing)))
        if thing not in self.bodies or not any(grip.is_corner for grip in found.values()):
            return found
        left, bottom, right, top = self.bodies[thing].box
        has_room = {
            True: right - left >= CROWD_PX * pixel_mm,
            False: top - bottom >= CROWD_PX * pixel_mm,
        }
        # The middle of a lower or upper side needs room along it, that of the others across.
        return {k: g for k, g in found.items() if g.is_corner or has_room[not g.moves_x]}

    def grip_at(self, thing: Thing, x: float, y: float, pixel_mm: float) -> int | None:
        """Return the number of the grip of a thing within reach; on small things less reach."""
        body = self.bodies.get(thing)
        if body is None:
            return None
        left, bottom, right, top = body.box
        reach = min(GRASP_PX * pixel_mm, max(min(right - left, top - bottom) / 3, 3 * pixel_mm))
        away = [
            (max(abs(float(grip.x) - x), abs(float(grip.y) - y)), number)
            for number, grip in self.shown_grips(thing, pixel_mm).items()
        ]
        nearest, number = min(away, default=(reach + 1, 0))
        return number if nearest <= reach else None

    def path(self, thing: Thing) -> QPainterPath:
        """Return the line of a thing: its outline, or the middle of a joint; none of a corner."""
        if thing in self.bodies:
            return loop_path([self.bodies[thing].loop])
        path = QPainterPath()
        left, bottom, right, top = self.rafts_box
        if thing.kind == "along" and thing.number < len(self.joints.along):
            at = float(self.joints.along[thing.number])
            path.moveTo(at, bottom)
            path.lineTo(at, top)
        elif thing.kind == "across" and thing.number < len(self.joints.across):
            at = float(self.joints.across[thing.number])
            path.moveTo(left, at)
            path.lineTo(right, at)
        return path

    def spot(self, thing: Thing) -> tuple[float, float] | None:
        """Return where a corner is."""
        if thing.kind != "corner" or not 0 <= thing.number < len(self.corners):
            return None
        corner = self.corners[thing.number]
        return float(corner.x), float(corner.y)

    def _make_bodies(self) -> Iterator[Body]:
        bed = self.bed
        things = [Thing("obstacle", number) for number in range(len(bed.obstacles))]
        if bed.planting is not None:
            things += [Thing("zone", zone.name) for zone in bed.zones if zone.shape is not None]
        for thing in things:
            with suppress(GeometryError):
                standing = find_standing(bed, thing)
                loop = loop_of(standing)
                box = tuple(float(side) for side in box_of(standing))
                yield Body(thing, loop, Gauge.of(loop), (box[0], box[1], box[2], box[3]))

    def _corners_at(self, x: float, y: float, reach_mm: float) -> list[Thing]:
        away = [
            (max(abs(float(corner.x) - x), abs(float(corner.y) - y)), number)
            for number, corner in enumerate(self.corners)
        ]
        return [Thing("corner", number) for far, number in sorted(away) if far <= reach_mm]

    def _joints_at(self, x: float, y: float, reach_mm: float) -> list[Thing]:
        left, bottom, right, top = self.rafts_box
        if not (left <= x <= right and bottom <= y <= top):
            return []
        reach = reach_mm + float(self.bed.joint_gap.exact) / 2
        found = [
            Thing("along", k) for k, at in enumerate(self.joints.along) if abs(at - x) <= reach
        ]
        return found + [
            Thing("across", k) for k, at in enumerate(self.joints.across) if abs(at - y) <= reach
        ]
