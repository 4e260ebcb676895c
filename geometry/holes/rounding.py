"""Places for the tape: a bed's sites on whole steps from each raft's datum corner, rules kept.

Rows stay straight where that is possible: first whole numbers are found for the rows and columns
that the exact sites share, then for single sites along their rows, then raft by raft, then site by
site. A site for which no whole step is legal keeps its exact place, and is told of.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, fields, replace
from itertools import pairwise, product
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.holes.apart import Apart, Floats, Joints, too_near
from geometry.holes.claims import Claims, claims_of
from geometry.holes.place import BedPattern, Limits, keep_outs, least_apart, limits_of, place_holes
from geometry.holes.region import KeepOut, Part, Region
from geometry.holes.sites import Coordinates, KeptExact, Sites
from geometry.holes.whole_steps import Edges, Wholes, solve
from geometry.model.bed import Bed
from geometry.model.measure import bounds, shifted, turned_half
from geometry.model.planting import FINEST_STEP_MM, Planting
from geometry.model.zone import all_plantings
from geometry.rafts.inset import is_box
from geometry.rafts.layout import RaftLayout, RaftPlace, Side
from geometry.units import MM_PER, TOLERANCE_MM, Length

Mask = NDArray[np.bool_]

_SIDES: Final[tuple[Side, ...]] = ("left", "right", "bottom", "top")
_SCANNED: Final = 24
"""So many steps to either side of a site are looked at on rafts of odd shape."""
_FAR: Final = 2**40
_MOST_BY_RAFT: Final = 200
_MOST_BY_SITE: Final = 10_000
"""Up to so many rafts and sites are rounded one after the other when all at once do not go."""
_NEARBY: Final = np.array(sorted(product((-1, 0, 1, 2), repeat=2)), dtype=np.float64)


def rounded(bed: Bed, layout: RaftLayout, pattern: BedPattern) -> BedPattern:
    """Move the sites of a pattern to whole steps of the planting's ``round_to``.

    Counts and rows stay as they are, and so does the pattern without a ``round_to``.
    """
    planting = bed.planting
    if planting is None or planting.round_to is None or not any(map(len, pattern.sites)):
        return pattern
    made = _on_steps(bed, layout, pattern)
    return replace(made, remedy=_remedy(bed, layout, pattern)) if made.kept else made


def _on_steps(bed: Bed, layout: RaftLayout, pattern: BedPattern) -> BedPattern:
    work = _Rounding.of(bed, layout, pattern)
    xy = work.whole()
    sites = _shared_out(work, pattern, xy)
    return replace(pattern, sites=sites, kept=tuple(work.kept(xy)), exact=pattern)


def _remedy(bed: Bed, layout: RaftLayout, pattern: BedPattern) -> tuple[str, float] | None:
    """The spacing on the steps, where that is soon known, or a finer step that leaves none."""
    planting = bed.planting
    assert planting is not None  # noqa: S101  # there are sites
    assert planting.round_to is not None  # noqa: S101  # and they were rounded
    step = planting.round_to.exact
    spacing = planting.spacing.exact // step * step
    plain = all(raft.shape.is_rectangle for raft in layout.rafts)
    plain = plain and not bed.obstacles and not bed.zones
    if 0 < spacing < planting.spacing.exact and plain and len(layout.rafts) <= _MOST_BY_RAFT:
        other = replace(bed, planting=replace(planting, spacing=Length(spacing)))
        if _Rounding.of(other, layout, place_holes(other, layout)).goes():
            return "planting.spacing", float(spacing)
    in_inches = (step / MM_PER["in"] * 64).denominator == 1
    for parts in (2, 4) if in_inches else (2, 5, 10):
        finer = Length(step / parts)
        if finer.exact >= FINEST_STEP_MM:
            other = replace(bed, planting=replace(planting, round_to=finer))
            if _Rounding.of(other, layout, pattern).goes():
                return "planting.round_to", finer.mm
    return None


def _shared_out(work: "_Rounding", pattern: BedPattern, xy: Coordinates) -> tuple[Sites, ...]:
    """Give each raft its sites; designs that came out alike become one."""
    alike: dict[tuple[bytes, ...], Sites] = {}
    by_design: dict[int, Sites] = {}
    for sites, design in zip(pattern.sites, work.joints.design, strict=True):
        if design not in by_design:
            begin, end = work.joints.starts[design : design + 2]
            own = replace(sites, xy=np.round(xy[begin:end], 9) + 0.0)
            parts = (getattr(own, part.name) for part in fields(own))
            key = tuple(b"" if part is None else part.tobytes() for part in parts)
            by_design[design] = alike.setdefault(key, own)
    return tuple(by_design[design] for design in work.joints.design)


@dataclass(frozen=True, slots=True, eq=False)
class _Zoned:
    """The sites of a bed with zones: the planting of each, and what two plantings keep apart."""

    numbers: Wholes
    least: Floats
    reach: float

    @classmethod
    def of(cls, plantings: Sequence[Planting], numbers: Wholes) -> "_Zoned":
        least = [[float(least_apart(one, other)) for other in plantings] for one in plantings]
        return cls(numbers, np.array(least), max(map(max, least)))

    def held(self, apart: Apart) -> Apart:
        """The pairs with what their own plantings ask for."""
        first, second = self.numbers[apart.first], self.numbers[apart.second]
        return replace(apart, least=self.least[first, second])


@dataclass(frozen=True, slots=True, eq=False)
class _Rounding:
    """All sites of a bed, design after design, and what they must keep.

    ``owner`` is the design of each site, ``lines`` its column and its row, ``grounds`` which of
    the ``regions`` it stays in: those of one planting on one design share theirs. ``members``
    are the sites of each region.
    """

    step: float
    xy: Coordinates
    owner: Wholes
    lines: NDArray[np.int64]
    grounds: Wholes
    regions: tuple[Region, ...]
    members: tuple[Wholes, ...]
    joints: Joints
    apart: Apart
    limits: Limits
    along: int
    zoned: _Zoned | None = None

    @classmethod
    def of(cls, bed: Bed, layout: RaftLayout, pattern: BedPattern) -> "_Rounding":
        assert bed.planting is not None  # noqa: S101  # there are sites
        assert bed.planting.round_to is not None  # noqa: S101  # and they are to be rounded
        plantings = all_plantings(bed.planting, bed.zones)
        designs: dict[int, int] = {}
        design = [designs.setdefault(id(sites), len(designs)) for sites in pattern.sites]
        carriers: list[list[RaftPlace]] = [[] for _ in designs]
        firsts: dict[int, Sites] = {}
        for raft, sites, number in zip(layout.rafts, pattern.sites, design, strict=True):
            carriers[number].append(raft)
            firsts.setdefault(number, sites)
        counts = [len(firsts[number]) for number in range(len(designs))]
        starts = np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)
        xy = np.concatenate([firsts[number].xy for number in range(len(designs))])
        owner = np.repeat(np.arange(len(designs)), counts)
        joints = Joints(layout, design, starts, bed.planting.joints, float(bed.joint_gap.exact))
        numbers = np.concatenate([_numbers(firsts[number]) for number in range(len(designs))])
        kinds, grounds = np.unique(np.column_stack([owner, numbers]), axis=0, return_inverse=True)
        claims = claims_of(bed, layout)
        own_claims = [claims[design.index(number)] for number in range(len(designs))]
        regions = tuple(
            _region(carriers[carrier], bed, plantings[number], own_claims[carrier], number)
            for carrier, number in kinds.tolist()
        )
        along = 1 if pattern.tried and pattern.tried[0].direction == "across" else 0
        made = cls(
            step=bed.planting.round_to.mm,
            xy=xy,
            owner=owner,
            lines=_lines(xy, owner),
            grounds=grounds.ravel(),
            regions=regions,
            members=_members(grounds.ravel(), len(regions)),
            joints=joints,
            apart=_NO_PAIRS,
            limits=limits_of(bed.planting),
            along=along,
            zoned=_Zoned.of(plantings, numbers) if bed.zones else None,
        )
        return replace(made, apart=made._pairs(xy))

    def whole(self) -> Coordinates:
        """Return the places of all sites, on whole steps as far as that is legal."""
        xy, left = self._raft_by_raft()
        return self._one_by_one(xy, left) if left.any() else xy

    def goes(self) -> bool:
        """Whether all sites go on whole steps, not trying each by itself."""
        return not self._raft_by_raft()[1].any()

    def _raft_by_raft(self) -> tuple[Coordinates, Mask]:
        """Round all rafts at once or else one after the other; tell which sites are left."""
        every = np.ones(len(self.xy), dtype=np.bool_)
        if (found := self._structured(self.xy, every)) is not None:
            return found, ~every
        xy, left = self.xy.copy(), every.copy()
        if 1 < self._designs <= _MOST_BY_RAFT:
            for design in range(self._designs):
                mine = self.owner == design
                if mine.any() and (found := self._structured(xy, mine)) is not None:
                    xy, left = found, left & ~mine
        return xy, left

    def kept(self, xy: Coordinates) -> Iterator[KeptExact]:
        """Tell of the sites that are not on whole steps, design by design."""
        exact = ~self.is_whole(xy)
        if not exact.any():
            return
        nearest = np.where(exact[:, None], np.round(self.xy / self.step) * self.step, xy)
        apart = self.apart
        lacking = apart.lacking(nearest)
        touched = exact[apart.first] | exact[apart.second]
        for design in np.unique(self.owner[exact]).tolist():
            mine = exact & (self.owner == design)
            begin = int(self.joints.starts[design])
            raft = self.joints.design.index(design)
            pairs = touched & (self.owner[apart.first] == design)
            count = int(mine.sum())
            if (lacking[pairs] > TOLERANCE_MM).any():
                worst = int(np.flatnonzero(pairs)[lacking[pairs].argmax()])
                ends = [int(apart.first[worst]), int(apart.second[worst])]
                sites = [end - int(self.joints.starts[self.owner[end]]) for end in ends]
                rafts = apart.rafts[worst].tolist()
                yield KeptExact(
                    raft, count, tuple(zip(rafts, sites, strict=True)), float(lacking[worst])
                )
                continue
            sites_of = np.flatnonzero(mine)
            slack = self._slack(nearest, mine)[mine]
            worst = int(slack.argmin())
            yield KeptExact(
                raft, count, ((raft, int(sites_of[worst]) - begin),), max(0.0, -float(slack[worst]))
            )

    @property
    def _designs(self) -> int:
        return len(self.joints.starts) - 1

    def _slack(self, xy: Coordinates, some: Mask) -> Floats:
        """How far some sites are within what their regions allow."""
        slack = np.zeros(len(xy))
        for region, members in zip(self.regions, self.members, strict=True):
            mine = members[some[members]]
            if len(mine):
                slack[mine] = region.slack(xy[mine])
        return slack

    def is_whole(self, xy: Coordinates) -> Mask:
        """Which sites lie on whole steps from the datum corner."""
        off = np.abs(xy - np.round(xy / self.step) * self.step)
        whole: Mask = np.asarray((off < TOLERANCE_MM).all(axis=1))
        return whole

    def _pairs(self, xy: Coordinates) -> Apart:
        spacing, rows = float(self.limits.spacing), self.limits.row_spacing
        widest = max(spacing, float(rows or 0), 0.0 if self.zoned is None else self.zoned.reach)
        found = self._near(xy, spacing, 1.25 * widest + 4 * self.step)
        if rows is None or self.zoned is not None:
            return found
        # Rows stand further apart than plants in a row: what lies straight behind keeps that.
        between = np.abs(found.between(xy))
        behind = (between[:, self.along] < TOLERANCE_MM) & (
            between[:, 1 - self.along] > float(rows) - TOLERANCE_MM
        )
        return replace(found, least=np.where(behind, float(rows), found.least))

    def _near(self, xy: Coordinates, spacing: float, reach: float) -> Apart:
        if self.zoned is None:
            return self.joints.apart(xy, spacing, reach)
        return self.zoned.held(self.joints.apart(xy, spacing, max(reach, self.zoned.reach)))

    def _structured(self, start: Coordinates, free: Mask) -> Coordinates | None:
        """Find whole steps for all free sites at once, rows and columns straight if it goes."""
        for tied in ((True, True), (True, False), (False, False)):
            for axis in (self.along, 1 - self.along):
                for zoom in self._zooms(axis, free):
                    found = self._laid(start, free, axis, zoom, tied)
                    if found is not None and self._is_legal(found, free):
                        return found
        return None

    def _zooms(self, axis: int, free: Mask) -> Iterator[float]:
        """How far the sites are first opened along an axis: not at all, or to whole steps."""
        yield 1.0
        aligned = self._within(free) & self._aligned(1 - axis)
        gaps = np.abs(self.apart.between(self.xy)[aligned, axis])
        if len(gaps):
            pitch = float(gaps.min())
            least = float(self.apart.least[aligned].max())
            opened = math.ceil(least / self.step - TOLERANCE_MM) * self.step / pitch
            if opened > 1.0:
                yield opened

    def _within(self, free: Mask) -> Mask:
        apart = self.apart
        within: Mask = free[apart.first] & free[apart.second] & (apart.way > 0)
        return within & ~apart.offset.any(axis=1)

    def _aligned(self, axis: int) -> Mask:
        """Which pairs have no distance along an axis."""
        aligned: Mask = np.abs(self.apart.between(self.xy)[:, axis]) < TOLERANCE_MM
        return aligned

    def _laid(
        self, start: Coordinates, free: Mask, axis: int, zoom: float, tied: tuple[bool, bool]
    ) -> Coordinates | None:
        """Round one axis, looking only at sites in one line; then the other, looking at all."""
        xy = start.copy()
        wish = self._opened(axis, zoom)
        pairs = self.apart.chosen(self._aligned(1 - axis))
        for this, aim, these, together in (
            (axis, wish, pairs, tied[0]),
            (1 - axis, self.xy[:, 1 - axis], self.apart, tied[1]),
        ):
            found = self._axis(xy, free, this, aim, these, tied=together)
            if found is None:
                return None
            xy[free, this] = found
        return xy

    def _opened(self, axis: int, zoom: float) -> Floats:
        wish = self.xy[:, axis].copy()
        if zoom != 1.0:
            for design in range(self._designs):
                begin, end = self.joints.starts[design : design + 2]
                own = wish[begin:end]
                if len(own):
                    middle = (own.min() + own.max()) / 2
                    wish[begin:end] = middle + (own - middle) * zoom
        return wish

    def _axis(
        self, xy: Coordinates, free: Mask, axis: int, wish: Floats, pairs: Apart, *, tied: bool
    ) -> Floats | None:
        """Whole steps along one axis for the free sites, the other axis being settled."""
        unknown = self.lines[:, axis] if tied else np.arange(len(self.xy))
        names, unknown_of_free = np.unique(unknown[free], return_inverse=True)
        number = np.full(len(self.xy), -1, dtype=np.int64)
        number[free] = unknown_of_free
        wanted = self._wanted(xy, free, axis, pairs, number)
        if wanted is None:
            return None
        least, most = self._bounds(xy, free, axis, wish)
        edges, floor, ceiling = wanted
        low = np.full(len(names), -_FAR, dtype=np.int64)
        high = np.full(len(names), _FAR, dtype=np.int64)
        np.maximum.at(low, number[free], np.maximum(least, floor)[free])
        np.minimum.at(high, number[free], np.minimum(most, ceiling)[free])
        if (low > high).any():
            return None
        hopes = np.zeros(len(names))
        hopes[number[free]] = wish[free] / self.step
        steps = solve(low, high, hopes, edges)
        return None if steps is None else np.asarray(steps[number[free]] * self.step, np.float64)

    def _wanted(
        self, xy: Coordinates, free: Mask, axis: int, pairs: Apart, number: Wholes
    ) -> tuple[Edges, Wholes, Wholes] | None:
        """What the pairs ask for along one axis: edges between free sites, bounds for the rest."""
        pairs = pairs.chosen(free[pairs.first] | free[pairs.second])
        across = pairs.between(xy)[:, 1 - axis]
        need = np.sqrt(np.clip((pairs.least - TOLERANCE_MM / 2) ** 2 - across**2, 0.0, None))
        pairs, need = pairs.chosen(need > 0), need[need > 0]
        before = pairs.between(self.xy)[:, axis]
        ahead = np.sign(np.where(np.abs(before) < TOLERANCE_MM, 0.0, before))
        one, other = pairs.first, pairs.second
        both = free[one] & free[other]
        straight = pairs.way > 0
        off = pairs.offset[:, axis]
        if (
            (ahead == 0)
            | (both & straight & (number[one] == number[other]) & _no_room(ahead * off, need))
        ).any():
            return None
        floor = np.full(len(self.xy), -_FAR, dtype=np.int64)
        ceiling = np.full(len(self.xy), _FAR, dtype=np.int64)
        # Seen along ``ahead``, the second lies at least ``need`` beyond the first.
        edge = both & straight & (number[one] != number[other])
        by = self._up((need - ahead * off)[edge])
        forwards = ahead[edge] > 0
        low = np.where(forwards, number[one[edge]], number[other[edge]])
        high = np.where(forwards, number[other[edge]], number[one[edge]])
        spare, now = np.abs(before) - need, pairs.between(xy)[:, axis]
        for site, mate, sign in ((one, other, -ahead), (other, one, pairs.way * ahead)):
            # ``sign`` is the way in which this site moves off the other one.
            fixed = free[site] & ~free[mate]
            shared = both & ~straight
            here = xy[site, axis] + sign * (need - ahead * now)
            half = self.xy[site, axis] - sign * spare / 2
            for chosen, limit in ((fixed, here), (shared, half)):
                rising = chosen & (sign > 0)
                np.maximum.at(floor, site[rising], self._up(limit[rising]))
                falling = chosen & (sign < 0)
                np.minimum.at(ceiling, site[falling], -self._up(-limit[falling]))
        return Edges(low, high, by), floor, ceiling

    def _up(self, mm: Floats) -> Wholes:
        up: Wholes = np.ceil((mm - TOLERANCE_MM / 4) / self.step).astype(np.int64)
        return up

    def _bounds(
        self, xy: Coordinates, free: Mask, axis: int, wish: Floats
    ) -> tuple[Wholes, Wholes]:
        """The stretch of whole steps around each wish that the raft's region allows."""
        least = np.full(len(xy), _FAR, dtype=np.int64)
        most = np.full(len(xy), -_FAR, dtype=np.int64)
        for region, members in zip(self.regions, self.members, strict=True):
            mine = members[free[members]]
            if not len(mine):
                continue
            if is_box(region.parts[0].loop) and not region.keep_outs and type(region) is Region:
                box = region.parts[0].centre_box
                least[mine] = self._up(np.array([box[axis]]))
                most[mine] = -self._up(np.array([-box[axis + 2]]))
            else:
                least[mine], most[mine] = self._scanned(region, xy[mine], axis, wish[mine])
        return least, most

    def _scanned(
        self, region: Region, xy: Coordinates, axis: int, wish: Floats
    ) -> tuple[Wholes, Wholes]:
        """Look so many steps to either side, where the region does not surely allow them all."""
        middle = np.round(wish / self.step).astype(np.int64)
        least, most = middle - _SCANNED, middle + _SCANNED
        nearest = xy.copy()
        nearest[:, axis] = middle * self.step
        near = np.flatnonzero(region.slack(nearest) < (_SCANNED + 1) * self.step)
        reach = np.arange(-_SCANNED, _SCANNED + 1)
        steps = middle[near, None] + reach
        trial = np.repeat(xy[near], len(reach), axis=0)
        trial[:, axis] = steps.ravel() * self.step
        allowed = region.allows(trial).reshape(steps.shape)
        best = np.where(allowed, np.abs(reach), _FAR).argmin(axis=1)[:, None]
        places = np.arange(len(reach))
        below = np.where(~allowed & (places < best), places, -1).max(axis=1, initial=-1) + 1
        above = (
            np.where(~allowed & (places > best), places, len(reach)).min(axis=1, initial=len(reach))
            - 1
        )
        at, none = np.arange(len(near)), ~allowed.any(axis=1)
        least[near] = np.where(none, _FAR, steps[at, below])
        most[near] = np.where(none, -_FAR, steps[at, above])
        return least, most

    def _is_legal(self, xy: Coordinates, moved: Mask) -> bool:
        if (self._slack(xy, moved)[moved] < -TOLERANCE_MM).any():
            return False
        spacing = float(self.limits.spacing)
        apart = self._near(xy, spacing, spacing)
        return not too_near(apart.lacking(xy)).any() and not too_near(self.apart.lacking(xy)).any()

    def _one_by_one(self, xy: Coordinates, left: Mask) -> Coordinates:
        """Move site after site from its exact place to the nearest legal whole steps."""
        todo = np.flatnonzero(left)
        if len(todo) > _MOST_BY_SITE:
            return xy
        xy = xy.copy()
        trials = np.floor(self.xy / self.step)[:, None] * self.step + _NEARBY * self.step
        away = np.hypot(*np.moveaxis(trials - self.xy[:, None], 2, 0))
        trials = np.take_along_axis(trials, away.argsort(axis=1, kind="stable")[..., None], axis=1)
        allowed = np.zeros(trials.shape[:2], dtype=np.bool_)
        for region, members in zip(self.regions, self.members, strict=True):
            mine = members[left[members]]
            if len(mine):
                allowed[mine] = region.allows(trials[mine].reshape(-1, 2)).reshape(len(mine), -1)
        mates = _mates(self.apart, len(xy))
        for _ in range(2):
            for site in todo.tolist():
                own = mates[site]
                trial = trials[site][allowed[site]]
                others = own.way[:, None] * xy[own.mate] + own.shift
                gaps = np.hypot(*np.moveaxis(trial[:, None] - others, 2, 0))
                legal = np.flatnonzero((gaps >= own.least - TOLERANCE_MM).all(axis=1))
                if len(legal):
                    xy[site] = trial[legal[0]]
            todo = todo[~self.is_whole(xy[todo])]
        return xy


@dataclass(frozen=True, slots=True, eq=False)
class _Mates:
    """What one site keeps away from: ``way`` times the place of each mate, plus ``shift``."""

    mate: Wholes
    way: Floats
    shift: Coordinates
    least: Floats


def _mates(apart: Apart, count: int) -> list[_Mates]:
    """Sort the pairs by site, seen from either end.

    A site that meets its own image on a turned raft keeps half as far from the middle of the turn.
    """
    itself = apart.first == apart.second
    one = apart.chosen(~itself)
    own = apart.chosen(itself & (apart.way < 0))
    site = np.concatenate([one.first, one.second, own.first])
    mate = np.concatenate([one.second, one.first, own.first])
    way = np.concatenate([one.way, one.way, np.zeros(len(own))])
    shift = np.concatenate([one.offset, -one.way[:, None] * one.offset, own.offset / 2])
    least = np.concatenate([one.least, one.least, own.least / 2])
    order = np.argsort(site, kind="stable")
    cuts = np.searchsorted(site[order], np.arange(count + 1)).tolist()
    parts = [order[begin:end] for begin, end in pairwise(cuts)]
    return [_Mates(mate[part], way[part], shift[part], least[part]) for part in parts]


def _numbers(sites: Sites) -> Wholes:
    """The planting of each site, by its number."""
    return np.zeros(len(sites), dtype=np.int64) if sites.plantings is None else sites.plantings


def _members(groups: Wholes, count: int) -> tuple[Wholes, ...]:
    """The places at which each group's number stands."""
    order = np.argsort(groups, kind="stable")
    return tuple(np.split(order, np.searchsorted(groups[order], np.arange(1, count))))


def _no_room(offset: Floats, need: Floats) -> Mask:
    return offset < need - TOLERANCE_MM


def _lines(xy: Coordinates, owner: Wholes) -> NDArray[np.int64]:
    """Number the columns and the rows of each design: sites with the same x, the same y."""
    numbers = []
    for axis in range(2):
        key = np.column_stack([owner, np.round(xy[:, axis] * 1e5)])
        numbers.append(np.unique(key, axis=0, return_inverse=True)[1].ravel())
    return np.column_stack(numbers).astype(np.int64)


@dataclass(frozen=True, eq=False)
class _Ground(Region):
    """A region on which one planting has only what it claims of the raft."""

    claims: Claims = field(default_factory=Claims)
    planting: int = 0

    def slack(self, xy: Floats) -> Floats:
        """How far each place may move and surely stays allowed; negative: surely forbidden."""
        return np.minimum(super().slack(xy), self.claims.slack(xy, self.planting))


def _region(
    rafts: Sequence[RaftPlace], bed: Bed, planting: Planting, claims: Claims, number: int
) -> Region:
    """Where a centre may lie on a raft: edge margin on all sides, off every obstacle, on its part.

    Rafts with the same sites keep off what is near any of them, turned half round if they may be.
    """
    limits, hazards = limits_of(planting), keep_outs(replace(bed, planting=planting))
    turned = planting.joints == "interchangeable"
    shape = rafts[0].shape
    near: dict[KeepOut, None] = {}
    for raft in rafts if hazards else ():
        for hazard in hazards:
            loop = raft.on_raft(hazard.loop)
            x0, y0, x1, y1 = bounds(loop)
            reach, length, width = hazard.distance, float(shape.length), float(shape.width)
            if x1 > -reach and x0 < length + reach and y1 > -reach and y0 < width + reach:
                near[KeepOut(loop, reach)] = None
                if turned and shape.is_rectangle:
                    around = shifted(turned_half(loop), length - x0 - x1, width - y0 - y1)
                    near[KeepOut(around, reach)] = None
    part = Part(shape.loop, dict.fromkeys(_SIDES, limits.margin), limits.margin)
    if claims.over:
        return _Ground((part,), tuple(near), claims, number)
    return Region((part,), tuple(near))


_NO_PAIRS: Final = Apart(
    np.empty(0, dtype=np.int64),
    np.empty(0, dtype=np.int64),
    np.empty(0),
    np.empty((0, 2)),
    np.empty(0),
    np.empty((0, 2), dtype=np.int64),
)
