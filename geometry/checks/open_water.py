"""The water that light reaches between the wall, the rafts and the pots."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi
from typing import Final

import numpy as np

from geometry.holes.sites import Holes
from geometry.model.measure import area
from geometry.model.pot import Pot
from geometry.rafts.layout import RaftLayout


@dataclass(frozen=True, slots=True)
class HoleLight:
    """The open water in the holes of one raft, in mm².

    ``loose`` is what pots leave of the holes that they sit in; holes whose planting names no pot
    count as filled. ``plugged`` would be open without the plugs.
    """

    loose: float = 0.0
    plugged: float = 0.0


ALL_DARK: Final = HoleLight()


@dataclass(frozen=True, slots=True)
class OpenWater:
    """The open water of a bed at its working level, in mm².

    ``wall`` lies between the wall and the rafts, where a ``sealed`` bed has its strip; ``joints``
    between rafts; ``loose`` and ``plugged`` are those of all holes.
    """

    water: float
    wall: float
    joints: float
    loose: float = 0.0
    plugged: float = 0.0
    sealed: bool = False

    @property
    def open(self) -> float:
        """What light reaches as the bed is planned, with its strip and its plugs."""
        return self.joints + self.loose + (0.0 if self.sealed else self.wall)

    def share(self, part: float) -> float:
        """A part as a share of the water."""
        return part / self.water if self.water else 0.0

    @property
    def open_share(self) -> float:
        """What light reaches as a share of the water."""
        return self.share(self.open)

    def at(self, water: float) -> float:
        """The open share where the walls hold ``water`` mm² at another level."""
        wider = 0.0 if self.sealed else water - self.water
        return max(0.0, self.open + wider) / water if water else 0.0


NO_WATER: Final = OpenWater(0.0, 0.0, 0.0)


def between_rafts(layout: RaftLayout, *, sealed: bool) -> OpenWater:
    """Measure the gaps of a bed at its working level; holes are not counted."""
    water = area(layout.outline) if layout.outline.curves else 0.0
    region = sum(area(loop) for loop in layout.region) if layout.rafts else water
    areas = {id(raft.shape): area(raft.shape.loop) for raft in layout.rafts}
    rafts = sum(areas[id(raft.shape)] for raft in layout.rafts)
    return OpenWater(water, water - region, region - rafts, sealed=sealed)


def in_holes(holes: Holes, pots: Sequence[Pot | None], wobble: float) -> HoleLight:
    """Measure what light finds in the holes of one raft; they come out ``wobble`` mm wider."""
    if not len(holes):
        return HoleLight()
    covered = np.array([np.inf if pot is None else covers(pot) for pot in pots])
    wide = holes.diameters + wobble
    plugged = np.zeros(len(holes), np.bool_) if holes.plugged is None else holes.plugged
    open_around = np.clip(wide**2 - covered[holes.numbers] ** 2, 0.0, None)
    return HoleLight(
        pi / 4 * float(open_around[~plugged].sum()),
        pi / 4 * float((wide[plugged] ** 2).sum()),
    )


def covers(pot: Pot) -> float:
    """How wide a hole a pot keeps dark: its rim or its collar lies over the edge of the hole."""
    return max(pot.body.mm, pot.rim.mm, pot.collar.mm)
