"""Which sites of a bed must keep apart, on a raft and across its joints."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.holes.pairs import Indices, near_between, near_pairs
from geometry.holes.sites import Coordinates
from geometry.model.planting import JointRule
from geometry.rafts.layout import RaftLayout, neighbour_ways
from geometry.units import TOLERANCE_MM

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Apart:
    """Pairs of sites, each in the coordinates of its own raft, and how far apart they must be.

    Seen from the first, the second lies at ``way`` times its place plus ``offset``; ``way`` is -1
    where its raft lies turned half round. ``rafts`` are the places in the layout of a pair of rafts
    that it holds for.
    """

    first: Indices
    second: Indices
    way: Floats
    offset: Coordinates
    least: Floats
    rafts: NDArray[np.int64]

    def __len__(self) -> int:
        return len(self.first)

    def between(self, xy: Coordinates) -> Coordinates:
        """From the first site to the second, for sites at these places."""
        apart: Coordinates = self.way[:, None] * xy[self.second] + self.offset - xy[self.first]
        return apart

    def lacking(self, xy: Coordinates) -> Floats:
        """How much each pair is too near; negative where there is room to spare."""
        apart = self.between(xy)
        lacking: Floats = self.least - np.hypot(apart[:, 0], apart[:, 1])
        return lacking

    def chosen(self, keep: NDArray[np.bool_]) -> "Apart":
        """Some of the pairs."""
        return Apart(
            self.first[keep],
            self.second[keep],
            self.way[keep],
            self.offset[keep],
            self.least[keep],
            self.rafts[keep],
        )


@dataclass(frozen=True, slots=True, eq=False)
class Joints:
    """The rafts of a bed, as far as the sites on them must keep apart.

    ``design`` gives for each raft of the layout which list of sites it carries; ``starts`` is where
    each list begins among the sites of all designs, with the end of the last one at the end.
    """

    layout: RaftLayout
    design: Sequence[int]
    starts: Indices
    rule: JointRule
    joint_gap: float

    def apart(self, xy: Coordinates, least: float, reach: float) -> Apart:
        """List the pairs of sites nearer than ``reach``; each must be ``least`` apart."""
        found = [
            part for part in (*self._on_rafts(xy, reach), *self._across(xy, reach)) if len(part[0])
        ]
        columns = list(zip(*found, strict=True)) if found else [()] * 5
        first, second = (np.concatenate([np.empty(0, np.int64), *parts]) for parts in columns[:2])
        way = np.concatenate([np.empty(0), *columns[2]])
        offset, rafts = (np.concatenate([np.empty((0, 2)), *parts]) for parts in columns[3:])
        return Apart(first, second, way, offset, np.full(len(first), least), rafts.astype(np.int64))

    def _on_rafts(self, xy: Coordinates, reach: float) -> Iterator[tuple[NDArray[np.generic], ...]]:
        seen: set[int] = set()
        for raft, design in enumerate(self.design):
            if design not in seen:
                seen.add(design)
                begin, end = self._span(design)
                pairs = near_pairs(xy[begin:end], reach)
                yield self._part(pairs, (begin, begin), 1.0, (0.0, 0.0), (raft, raft))

    def _across(self, xy: Coordinates, reach: float) -> Iterator[tuple[NDArray[np.generic], ...]]:
        """Pairs of two rafts that lie side by side, each way of lying side by side once."""
        if self.rule == "separate" or len(self.design) < 2:
            return
        rafts = self.layout.rafts
        corners = np.array([(float(raft.x), float(raft.y)) for raft in rafts])
        sizes = np.array([(float(r.shape.length), float(r.shape.width)) for r in rafts])
        facing = np.array([-1.0 if raft.turned else 1.0 for raft in rafts])
        datums = corners + sizes * (facing < 0)[:, None]
        widest = float(np.hypot(*sizes.max(axis=0))) + reach
        seen: set[tuple[int, int, float, float, float]] = set()
        for here, there in _pairs_of(corners + sizes / 2, widest):
            one, other = self.design[here], self.design[there]
            if self._is_alike(here) and rafts[here].shape is rafts[there].shape:
                continue
            dx, dy = (facing[here] * (datums[there] - datums[here])).tolist()
            way = float(facing[here] * facing[there])
            key = one, other, way, round(dx, 6), round(dy, 6)
            if key not in seen:
                seen.add(key)
                yield self._beside(xy, reach, (one, other), way, (dx, dy), (here, there))
        alike: set[int] = set()
        ways = neighbour_ways(rafts)
        for raft, design in enumerate(self.design):
            if not self._is_alike(raft) or design in alike:
                continue
            alike.add(design)
            size = sizes[raft]
            for right, up in ways:
                dx, dy = ((right, up) * (size + self.joint_gap)).tolist()
                for way, shift in (
                    (1.0, (dx, dy)),
                    (-1.0, (dx + float(size[0]), dy + float(size[1]))),
                ):
                    yield self._beside(xy, reach, (design, design), way, shift, (raft, raft))

    def _is_alike(self, raft: int) -> bool:
        return self.rule == "interchangeable" and self.layout.rafts[raft].shape.is_rectangle

    def _span(self, design: int) -> tuple[int, int]:
        return int(self.starts[design]), int(self.starts[design + 1])

    def _beside(
        self,
        xy: Coordinates,
        reach: float,
        designs: tuple[int, int],
        way: float,
        offset: tuple[float, float],
        rafts: tuple[int, int],
    ) -> tuple[NDArray[np.generic], ...]:
        (begin, end), (other_begin, other_end) = map(self._span, designs)
        theirs = way * xy[other_begin:other_end] + offset
        pairs = near_between(xy[begin:end], theirs, reach)
        return self._part(pairs, (begin, other_begin), way, offset, rafts)

    @staticmethod
    def _part(
        pairs: tuple[Indices, Indices],
        begins: tuple[int, int],
        way: float,
        offset: tuple[float, float],
        rafts: tuple[int, int],
    ) -> tuple[NDArray[np.generic], ...]:
        count = len(pairs[0])
        return (
            pairs[0] + begins[0],
            pairs[1] + begins[1],
            np.full(count, way),
            np.tile(offset, (count, 1)),
            np.tile(rafts, (count, 1)),
        )


def _pairs_of(middles: Coordinates, reach: float) -> Iterator[tuple[int, int]]:
    first, second = near_pairs(middles, reach)
    return zip(first.tolist(), second.tolist(), strict=True)


def too_near(lacking: Floats) -> NDArray[np.bool_]:
    """Which pairs break their distance; 1e-6 mm too near is not too near."""
    broken: NDArray[np.bool_] = lacking > TOLERANCE_MM
    return broken
