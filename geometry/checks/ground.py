"""A raft's holes with all that they keep away from, and the smallest change that clears a fault."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.checks.beside import images, shifts
from geometry.checks.finding import Cure, LeaveOut, MoveHole
from geometry.checks.nearest import SLACK_MM, circles, places_on
from geometry.checks.raft_in_bed import RaftInBed
from geometry.checks.rules import Hazard, Rules
from geometry.holes.pairs import Floats, Indices, near_between
from geometry.holes.sites import Coordinates, Holes
from geometry.model.curves import Loop
from geometry.model.edges import Edges, edges_of
from geometry.model.measure import gauge_of
from geometry.rafts.pieces import offset_curves, reversed_loop
from geometry.units import TOLERANCE_MM

_PROBE_MM: Final = 1e-3
_STEPS: Final = 4
_LIKELY: Final = 24
_MOST_SEARCHES: Final = 32
"""So many holes of a raft at most get a search for their nearest place; it takes a millisecond."""


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """A raft in its bed, the rules, the obstacles near it and the rafts that lie near it."""

    raft: RaftInBed
    rules: Rules
    hazards: tuple[Hazard, ...] = ()
    neighbours: tuple[RaftInBed, ...] = ()

    @property
    def beside_itself(self) -> bool:
        """Whether the raft must be fit to lie beside rafts of its own kind anywhere."""
        return self.rules.joints == "interchangeable" and self.raft.shape.is_rectangle

    def apart(self, movers: Indices, others: Coordinates, least: Floats) -> list[Cure]:
        """Move holes straight away from other places until they are ``least`` mm apart."""
        xy = self.raft.holes.xy[movers]
        away = xy - others
        gap = np.hypot(away[:, 0], away[:, 1])
        away[gap == 0] = 1.0, 0.0
        direction = away / np.where(gap == 0, 1.0, gap)[:, None]
        return self._cures(movers, _stepped(xy, direction, least - gap))

    def off_the_edge(self, movers: Indices) -> list[Cure]:
        """Move holes straight away from the raft's edge until edge margin and web are kept."""
        least = self._margin(movers)
        inwards = gauge_of(self.raft.shape.loop).signed_distance
        return self._cures(movers, _moved_off(self.raft.holes.xy[movers], inwards, least))

    def off_the_hazard(self, movers: Indices, hazard: Hazard) -> list[Cure]:
        """Move holes straight away from an obstacle until their rims keep its clearance."""
        least = hazard.clearance + self.raft.holes.diameters[movers] / 2

        def outwards(xy: Coordinates) -> Floats:
            return -hazard.gauge.signed_distance(self.raft.in_bed(xy))

        return self._cures(movers, _moved_off(self.raft.holes.xy[movers], outwards, least))

    def _cures(self, movers: Indices, goals: Coordinates) -> list[Cure]:
        """Move each hole to its goal, else to the nearest place it may have, else leave it out."""
        raft, names = self.raft.name, self.raft.holes.names
        allowed = self.allows(movers, goals)
        elsewhere: dict[int, Cure] = {}
        stuck = np.unique(movers[~allowed]).tolist()
        for hole in stuck[:_MOST_SEARCHES]:
            if place := self._nearest_place(hole):
                elsewhere[hole] = MoveHole(raft, names[hole], *place)
        return [
            MoveHole(raft, names[hole], *goal)
            if is_allowed
            else elsewhere.get(hole, LeaveOut(raft, names[hole]))
            for hole, goal, is_allowed in zip(
                movers.tolist(), goals.tolist(), allowed.tolist(), strict=True
            )
        ]

    def _nearest_place(self, hole: int) -> tuple[float, float] | None:
        """The nearest place on the raft that a hole may have, at most the spacing away."""
        place = self.raft.holes.xy[hole]
        goals = places_on(self._limits(hole), place, self.rules.widest)
        # The first few are most likely to do, and a place may meet hundreds of limits.
        for some in (goals[:_LIKELY], goals[_LIKELY:]):
            fitting = np.flatnonzero(self.allows(np.full(len(some), hole), some))
            if len(fitting):
                x, y = some[fitting[0]].tolist()
                return x, y
        return None

    def _limits(self, hole: int) -> Edges:
        """The lines and arcs on which a hole just keeps one of its distances."""
        raft, rules, holes = self.raft, self.rules, self.raft.holes
        radius = float(holes.diameters[hole]) / 2
        own = rules.spacings(holes)
        own_spacing, own_web = float(own[hole]), float(rules.webs(holes)[hole])
        others = np.flatnonzero(np.arange(len(holes)) != hole)
        apart = least_on_raft(rules, holes, others, np.full(len(others), hole)) + SLACK_MM
        parts = [circles(holes.xy[others], apart)]
        across = [
            (
                raft.on_raft(other.in_bed(other.holes.xy)),
                (rules.spacings(other.holes) + own_spacing) / 2,
            )
            for other in self.neighbours
        ]
        if self.beside_itself:
            copies = images(raft, rules, 2 * (rules.widest + SLACK_MM))
            theirs = copies.source != hole
            apart = (own[copies.source[theirs]] + own_spacing) / 2
            across.append((copies.xy[theirs], apart))
            # A hole and its own turned image are twice as far apart as either from their middle.
            middles = (raft.size + shifts(raft, rules)) / 2
            half = (own_spacing + SLACK_MM) / 2
            parts.append(circles(middles, np.full(len(middles), half)))
        parts += [circles(xy, least + SLACK_MM) for xy, least in across]
        margin = max(float(rules.edge_margins(holes)[hole]), own_web + radius) + SLACK_MM
        edge = _edge_line(raft.shape.loop, margin)
        parts.append(edge.arcs)
        lines = [edge.lines]
        for hazard in self.hazards:
            away = hazard.clearance + radius + SLACK_MM
            around = edges_of(offset_curves(reversed_loop(hazard.loop), away))
            parts.append(circles(raft.on_raft(around.arcs[:, :2]), around.arcs[:, 2]))
            ends = (raft.on_raft(around.lines[:, :2]), raft.on_raft(around.lines[:, 2:]))
            lines.append(np.column_stack(ends))
        return Edges(np.concatenate(lines), np.concatenate(parts))

    def allows(self, movers: Indices, goals: Coordinates) -> NDArray[np.bool_]:
        """Tell for each hole whether every rule lets it lie at its goal, all others staying."""
        allowed = np.ones(len(goals), dtype=np.bool_)
        left = np.arange(len(goals))
        for is_clear in (
            self._clear_of_holes,
            self._clear_of_edge,
            self._clear_of_hazards,
            self._clear_of_neighbours,
            self._clear_of_itself,
        ):
            allowed[left] = is_clear(movers[left], goals[left])
            left = np.flatnonzero(allowed)
            if not len(left):
                break
        return allowed

    def _clear_of_edge(self, movers: Indices, goals: Coordinates) -> NDArray[np.bool_]:
        margin = self._margin(movers) - TOLERANCE_MM
        clear: NDArray[np.bool_] = gauge_of(self.raft.shape.loop).signed_distance(goals) > margin
        return clear

    def _margin(self, holes: Indices) -> Floats:
        raft, rules = self.raft, self.rules
        rims = rules.webs(raft.holes) + raft.holes.diameters / 2
        return np.maximum(rules.edge_margins(raft.holes), rims)[holes]

    def _clear_of_hazards(self, movers: Indices, goals: Coordinates) -> NDArray[np.bool_]:
        clear = np.ones(len(goals), dtype=np.bool_)
        radii, places = self.raft.holes.diameters[movers] / 2, self.raft.in_bed(goals)
        for hazard in self.hazards:
            foam = -hazard.gauge.signed_distance(places) - radii
            clear &= foam > hazard.clearance - TOLERANCE_MM
        return clear

    def _clear_of_holes(self, movers: Indices, goals: Coordinates) -> NDArray[np.bool_]:
        holes, rules = self.raft.holes, self.rules
        reach = max(rules.widest, float(holes.diameters.max(initial=0.0)) + rules.widest_web)
        goal, other = near_between(goals, holes.xy, reach)
        least = least_on_raft(rules, holes, movers[goal], other)
        too_near = (_gap(goals[goal], holes.xy[other]) < least - TOLERANCE_MM) & (
            other != movers[goal]
        )
        return _none_of(goal[too_near], len(goals))

    def _clear_of_neighbours(self, movers: Indices, goals: Coordinates) -> NDArray[np.bool_]:
        clear = np.ones(len(goals), dtype=np.bool_)
        for neighbour in self.neighbours:
            others = self.raft.on_raft(neighbour.in_bed(neighbour.holes.xy))
            goal, other = near_between(goals, others, self.rules.widest - TOLERANCE_MM)
            theirs = self.rules.spacings(neighbour.holes)[other]
            least = (self.rules.spacings(self.raft.holes)[movers[goal]] + theirs) / 2
            close = _gap(goals[goal], others[other]) < least - TOLERANCE_MM
            clear &= _none_of(goal[close], len(goals))
        return clear

    def _clear_of_itself(self, movers: Indices, goals: Coordinates) -> NDArray[np.bool_]:
        if not self.beside_itself:
            return np.ones(len(goals), dtype=np.bool_)
        reach = self.rules.widest - TOLERANCE_MM
        spacings = self.rules.spacings(self.raft.holes)
        copies = images(self.raft, self.rules, reach)
        goal, image = near_between(goals, copies.xy, reach)
        apart = (spacings[copies.source[image]] + spacings[movers[goal]]) / 2 - TOLERANCE_MM
        close = _gap(goals[goal], copies.xy[image]) < apart
        clear = _none_of(goal[close & (copies.source[image] != movers[goal])], len(goals))
        least = spacings[movers] - TOLERANCE_MM
        for shift in shifts(self.raft, self.rules):
            own = self.raft.size - goals + shift
            clear &= (_gap(goals, own) >= least) & (np.hypot(*shift) >= least)
        return clear


@lru_cache(maxsize=64)
def _edge_line(loop: Loop, margin: float) -> Edges:
    """Where a centre just keeps its margin from the edge, for the raft after raft of one shape."""
    return edges_of(offset_curves(loop, margin))


def least_on_raft(rules: Rules, holes: Holes, first: Indices, second: Indices) -> Floats:
    """Return how far pairs of holes of a raft are to be apart, by spacing and by web."""
    spacings, webs = rules.spacings(holes), rules.webs(holes)
    radii = (holes.diameters[first] + holes.diameters[second]) / 2
    foam = radii + np.maximum(webs[first], webs[second])
    least: Floats = np.maximum((spacings[first] + spacings[second]) / 2, foam)
    return least


def _gap(here: Coordinates, there: Coordinates) -> Floats:
    gap: Floats = np.hypot(*(here - there).T)
    return gap


def _none_of(indices: Indices, count: int) -> NDArray[np.bool_]:
    clear = np.ones(count, dtype=np.bool_)
    clear[indices] = False
    return clear


def _moved_off(
    xy: Coordinates, clearance: Callable[[Coordinates], Floats], least: Floats
) -> Coordinates:
    """Step up the slope of a clearance until there is enough of it; a corner takes two steps."""
    for _ in range(_STEPS):
        missing = least - clearance(xy)
        short = missing > TOLERANCE_MM
        if not short.any():
            break
        xy = xy.copy()
        xy[short] = _stepped(xy[short], _slope(xy[short], clearance), missing[short])
    return xy


def _slope(xy: Coordinates, clearance: Callable[[Coordinates], Floats]) -> Coordinates:
    """Unit directions in which a clearance grows fastest."""
    probes = np.array([(_PROBE_MM, 0.0), (0.0, _PROBE_MM)])
    rise = np.column_stack([clearance(xy + probe) - clearance(xy - probe) for probe in probes])
    steepness = np.hypot(rise[:, 0], rise[:, 1])
    rise[steepness == 0] = 1.0, 0.0
    direction: Coordinates = rise / np.where(steepness == 0, 1.0, steepness)[:, None]
    return direction


def _stepped(xy: Coordinates, direction: Coordinates, amount: Floats) -> Coordinates:
    """Go along unit directions at least so far, to whole thousandths of a millimetre."""
    direction = np.where(np.abs(direction) < 1e-6, 0.0, direction)
    goal = (xy + direction * amount[:, None]) * 1000
    # The small shift keeps a goal that is whole but for rounding from going one further.
    whole = np.where(direction > 0, np.ceil(goal - 1e-4), np.floor(goal + 1e-4)) / 1000
    return np.where(direction == 0, xy, whole)
