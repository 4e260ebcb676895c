"""The one door to the holes: lay a bed's pattern on all of its rafts."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property, partial
from itertools import product
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.beds.outline import obstacle_loop
from geometry.errors import GeometryError, TooManyError
from geometry.holes.any_outline import lay_on_any_outline, opened_first
from geometry.holes.interchange import Raft, best_interchangeable, legal_among_its_like
from geometry.holes.joints import seam_margin
from geometry.holes.rectangle import place_on_rectangle
from geometry.holes.region import KeepOut, Part, Region, region_of
from geometry.holes.rows import MOST_SITES
from geometry.holes.sites import Coordinates, KeptExact, Placement, Sites
from geometry.holes.through_joints import PlainSplit, patterns_through_joints
from geometry.holes.turned_alike import laid_alike, lattices_turned_alike
from geometry.model.bed import Bed
from geometry.model.measure import bounds, distance, shifted, turned_half
from geometry.model.planting import Planting
from geometry.rafts.layout import (
    RaftLayout,
    RaftPlace,
    RaftShape,
    Side,
    Ways,
    joint_sides,
    neighbour_ways,
)
from geometry.tongue import number, tr
from geometry.watch import look_up, part

_ALL_SIDES: Final[frozenset[Side]] = frozenset({"left", "right", "bottom", "top"})
_TIGHT: Final[tuple[frozenset[Side], ...]] = (
    frozenset({"left", "right"}),
    frozenset({"bottom", "top"}),
    _ALL_SIDES,
)
"""Sides at which interchangeable rafts are also tried with no more than the edge margin."""
_NOTHING: Final = Fraction(0)
_BED_WIDE_SITES: Final = 300
_BED_WIDE_RAFTS: Final = 8
"""Up to so many sites and rafts one lattice is also tried across all joints of a bed."""


@dataclass(frozen=True, slots=True)
class Limits:
    """The distances that hold for one planting, exact: between centres, and centre to edge."""

    spacing: Fraction
    row_spacing: Fraction | None
    margin: Fraction
    radius: Fraction


@dataclass(frozen=True, slots=True)
class Tried:
    """One pattern that was tried for a bed: its name, direction and plants.

    ``pitch_mm`` and ``row_gap_mm`` are what the pattern uses after it was spread.
    """

    pattern: str
    direction: str
    plants: int
    pitch_mm: float
    row_gap_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class BedPattern:
    """The pattern of a bed: sites for each raft in the layout's order, and what was tried.

    Rafts that are laid alike share one ``Sites`` value. ``tried`` has the winner first. ``kept``
    are the sites that rounding left in their exact places, ``remedy`` the field of the bed and its
    length in mm with which it would leave none, ``exact`` the pattern before rounding (None for one
    that was not rounded). In a bed with zones ``tried`` has what the first planting with plants got
    and ``by_planting`` that of every planting, None for one without plants.
    """

    sites: tuple[Sites, ...]
    tried: tuple[Tried, ...]
    kept: tuple[KeptExact, ...] = ()
    remedy: tuple[str, float] | None = None
    exact: "BedPattern | None" = None
    by_planting: tuple[Tried | None, ...] = ()


def limits_of(planting: Planting) -> Limits:
    """Return the effective distances: spacing and web, edge margin and web, all hold at once."""
    radius = planting.hole_diameter.exact / 2
    spacing = max(planting.spacing.exact, planting.hole_diameter.exact + planting.web.exact)
    row_spacing = None
    if planting.pattern == "rectangular" and planting.row_spacing is not None:
        row_spacing = max(planting.row_spacing.exact, spacing)
    return Limits(
        spacing, row_spacing, max(planting.edge_margin.exact, planting.web.exact + radius), radius
    )


def least_apart(one: Planting, other: Planting) -> Fraction:
    """Return the least distance of two plants on a raft, each of its own planting.

    The mean of the spacings; where hole sizes and webs ask for more, that much: half of each hole
    and the larger of the two webs.
    """
    mean = (one.spacing.exact + other.spacing.exact) / 2
    radii = (one.hole_diameter.exact + other.hole_diameter.exact) / 2
    return max(mean, radii + max(one.web.exact, other.web.exact))


def keep_outs(bed: Bed) -> tuple[KeepOut, ...]:
    """Return the bed's obstacles with the distance that a hole's centre keeps from each."""
    if bed.planting is None:
        return ()
    radius = bed.planting.hole_diameter.mm / 2
    return tuple(
        KeepOut(obstacle_loop(obstacle), obstacle.clearance.mm + radius)
        for obstacle in bed.obstacles
    )


def keep_outs_on(bed: Bed, layout: RaftLayout, raft: RaftPlace) -> tuple[KeepOut, ...]:
    """Return what the holes of a raft keep away from, in raft coordinates.

    A raft that may change places keeps away from the obstacles of every place of its kind.
    """
    if bed.planting is None or not bed.obstacles:
        return ()
    return _Work.of(bed, bed.planting, layout).group(raft).keep_outs


def near_raft(
    raft: RaftPlace, keep_outs: Iterable[KeepOut], margin: Fraction = _NOTHING
) -> tuple[KeepOut, ...]:
    """Return those of a bed's keep-outs that reach a raft, in raft coordinates.

    With the ``margin`` in mm that centres keep from every edge, only those that forbid a centre
    something: what lies in a corner, or reaches no further than the margin, is in nobody's way.
    """
    right, top = float(raft.shape.length - margin), float(raft.shape.width - margin)
    left = bottom = float(margin)
    near: list[KeepOut] = []
    for keep_out in keep_outs:
        loop = raft.on_raft(keep_out.loop)
        x0, y0, x1, y1 = bounds(loop)
        across, along = max(left - x1, x0 - right), max(bottom - y1, y0 - top)
        if min(across, along) > 0:
            corner = (left if x1 < left else right), (bottom if y1 < bottom else top)
            away = float(distance(np.array([corner]), loop)[0])
        else:
            away = max(across, along)
        if away < keep_out.distance:
            near.append(KeepOut(loop, keep_out.distance))
    return tuple(near)


def place_holes(
    bed: Bed,
    layout: RaftLayout,
    among: Sequence[RaftPlace] | None = None,
    *,
    opens: bool = True,
) -> BedPattern:
    """Lay the bed's pattern on all its rafts: the most holes that the rules allow.

    Hand edits and zones are not looked at here. A bed without planting gets no sites. With
    ``among``, all rafts of the bed, those of the layout are only some of them and the others hold
    another crop: at every joint the holes then keep half their spacing, which is right beside any.
    Without ``opens`` as many sites are laid, yet on odd outlines they are not opened up, and what
    cannot win is not looked at: for counting.
    """
    if bed.planting is None or not layout.rafts:
        return BedPattern(tuple(NO_SITES for _ in layout.rafts), ())
    work = _Work.of(bed, bed.planting, layout, among, opens=opens)
    candidates = list(work.raft_by_raft())
    if bed.planting.joints == "bed-wide" and len(layout.rafts) > 1 and among is None:
        for through in work.through_joints():
            look_up()
            candidates.append(through)
        candidates += work.lattice_through_joints(candidates)
    candidates.sort(key=lambda candidate: -candidate.tried.plants)
    if opens:
        most = candidates[0].tried.plants if candidates else 0
        candidates = [each.opened() if each.tried.plants == most else each for each in candidates]
    candidates = _fewest_designs_first(candidates)
    best: dict[tuple[str, str], Tried] = {}
    for candidate in candidates:
        best.setdefault((candidate.tried.pattern, candidate.tried.direction), candidate.tried)
    if not candidates:
        return BedPattern(tuple(NO_SITES for _ in layout.rafts), ())
    return BedPattern(candidates[0].sites(), tuple(best.values()))


def free_region(bed: Bed, layout: RaftLayout, raft: RaftPlace) -> Region:
    """Where the centres on one raft may lie, whatever their pattern, in raft coordinates.

    ``interchangeable`` keeps the seam margin at joints, which is safe beside any neighbour.
    ``bed-wide`` leaves joints out: the plants of the other rafts are to be kept away from.
    """
    if bed.planting is None:
        raise GeometryError(tr("“{name}” is not planted yet; plant the bed first.", name=bed.name))
    work = _Work.of(bed, bed.planting, layout)
    group = work.group(raft)
    if bed.planting.joints != "interchangeable":
        group = _Group(group.shape, frozenset(), group.keep_outs)
    return work.region(group)


NO_SITES: Final = Sites(np.empty((0, 2)), np.empty(0, dtype=np.int64))


@dataclass(frozen=True, slots=True, eq=False)
class _Candidate:
    tried: Tried
    sites: Callable[[], tuple[Sites, ...]]
    opening: "Callable[[], _Candidate] | None" = None

    def opened(self) -> "_Candidate":
        return self if self.opening is None else self.opening()


@dataclass(frozen=True, slots=True)
class _Group:
    """Rafts that are laid alike: same shape, same margins, same things to keep away from."""

    shape: RaftShape
    joints: frozenset[Side]
    keep_outs: tuple[KeepOut, ...]


@dataclass(frozen=True, eq=False)
class _Work:
    bed: Bed
    planting: Planting
    limits: Limits
    layout: RaftLayout
    keep_outs: tuple[KeepOut, ...]
    among: Sequence[RaftPlace] | None = None
    opens: bool = True

    @classmethod
    def of(
        cls,
        bed: Bed,
        planting: Planting,
        layout: RaftLayout,
        among: Sequence[RaftPlace] | None = None,
        *,
        opens: bool = True,
    ) -> "_Work":
        limits, rafts = limits_of(planting), layout.rafts if among is None else among
        in_the_way = tuple(
            each
            for each in keep_outs(bed)
            if any(near_raft(raft, (each,), limits.margin) for raft in rafts)
        )
        return cls(bed, planting, limits, layout, in_the_way, among, opens)

    @property
    def _places(self) -> Sequence[RaftPlace]:
        return self.layout.rafts if self.among is None else self.among

    @cached_property
    def _ways(self) -> Ways:
        return neighbour_ways(self._places)

    @property
    def joint_gap(self) -> Fraction:
        return self.bed.joint_gap.exact

    def raft_by_raft(self) -> Iterable[_Candidate]:
        """Each kind of raft gets its own best; then each pattern by itself, to be compared."""
        groups = [self.group(raft) for raft in self.layout.rafts]
        count: dict[_Group, int] = defaultdict(int)
        for group in groups:
            count[group] += 1
        placed: dict[_Group, tuple[Placement, ...]] = {}
        for index, group in enumerate(count):
            with part(index / len(count), (index + 1) / len(count)):
                placed[group] = self._placements(group)
        total: dict[tuple[str, str], int] = defaultdict(int)
        laid: dict[tuple[str, str], int] = defaultdict(int)
        sample: dict[tuple[str, str], Placement] = {}
        for group, placements in placed.items():
            for placement in placements:
                key = placement.pattern, placement.direction
                total[key] += count[group] * len(placement)
                laid[key] += 1
                sample.setdefault(key, placement)
        winners = {group: placements[0] for group, placements in placed.items() if placements}
        if not winners:
            return
        largest = max(winners, key=lambda group: count[group] * len(winners[group]))

        def won(by_group: Mapping[_Group, Placement]) -> _Candidate:
            plants = sum(len(placed) * count[group] for group, placed in by_group.items())
            return _Candidate(
                tried_as(by_group[largest], plants),
                lambda: tuple(by_group[g].sites if g in by_group else NO_SITES for g in groups),
                lambda: won({group: placed.opened() for group, placed in by_group.items()}),
            )

        yield won(winners)
        for key, plants in total.items():
            if key == (winners[largest].pattern, winners[largest].direction):
                continue
            if laid[key] < len(winners):  # tried on some kinds of raft only: no fair comparison
                continue
            by_group = {
                group: next((p for p in placements if (p.pattern, p.direction) == key), None)
                for group, placements in placed.items()
            }
            yield _Candidate(
                tried_as(sample[key], plants),
                lambda by_group=by_group: tuple(  # type: ignore[misc]  # bound now, not later
                    p.opened().sites if (p := by_group[g]) else NO_SITES for g in groups
                ),
            )

    def through_joints(self) -> Iterable[_Candidate]:
        """Patterns through the joints of a plain split, less what obstacles take away."""
        split = PlainSplit.of(self.layout.rafts, self.limits.margin)
        if split is None:
            return
        for through in patterns_through_joints(
            split,
            spacing=self.limits.spacing,
            row_spacing=self.limits.row_spacing,
            pattern=self.planting.pattern,
            direction=self.planting.rows,
            spread=self.planting.spread,
        ):
            plants, lay = through.plants, through.lay
            if self.keep_outs:
                sites = self._kept_of(lay())
                plants, lay = sum(map(len, sites)), partial(_same, sites)
            yield _Candidate(
                Tried(
                    through.pattern,
                    through.direction,
                    plants,
                    through.pitch_mm,
                    through.row_gap_mm,
                ),
                lay,
            )

    def _kept_of(self, sites: Sequence[Sites]) -> tuple[Sites, ...]:
        """The sites of each raft that no obstacle forbids."""
        kept: list[Sites] = []
        for raft, own in zip(self.layout.rafts, sites, strict=True):
            near = near_raft(raft, self.keep_outs, self.limits.margin)
            if near:
                allowed = Region((Part(raft.shape.loop, self._margins(())),), near).allows(own.xy)
                _, ranks = np.unique(own.rows[allowed], return_inverse=True)
                kept.append(Sites(own.xy[allowed], ranks.astype(np.int64)))
            else:
                kept.append(own)
        return tuple(kept)

    def lattice_through_joints(self, found: Sequence[_Candidate]) -> Iterable[_Candidate]:
        """One lattice over all rafts at once, shifted to lose the fewest holes at the joints."""
        most = max((candidate.tried.plants for candidate in found), default=0)
        if not 0 < most <= _BED_WIDE_SITES or len(self.layout.rafts) > _BED_WIDE_RAFTS:
            return
        if not self.keep_outs and PlainSplit.of(self.layout.rafts, self.limits.margin):
            return
        region = region_of(
            [Part(raft.loop_in_bed, self._margins(())) for raft in self.layout.rafts],
            self.keep_outs,
        )
        turned = any(raft.turned for raft in self.layout.rafts)
        placements = list(self._on_region(region, None if self.opens or turned else most))
        if turned:
            placements = list(opened_first(placements)) if self.opens else placements
            placements += lattices_turned_alike(
                region,
                self.layout,
                spacing=float(self.limits.spacing),
                row_spacing=None
                if self.limits.row_spacing is None
                else float(self.limits.row_spacing),
                pattern=self.planting.pattern,
                direction=self.planting.rows,
                spread=self.planting.spread and self.opens,
            )
        for placement in placements:
            shared = partial(self._shared_out, placement)
            opening = partial(self._opened_in_bed, placement)
            yield _Candidate(tried_as(placement, len(placement)), shared, opening)
            for sites in self._laid_alike(shared(), region) if turned else ():
                plants = sum(map(len, sites))
                yield _Candidate(tried_as(placement, plants), partial(_same, sites))

    def _opened_in_bed(self, placement: Placement) -> _Candidate:
        wider = placement.opened()
        return _Candidate(tried_as(wider, len(wider)), partial(self._shared_out, wider))

    def _laid_alike(self, sites: tuple[Sites, ...], region: Region) -> Iterable[tuple[Sites, ...]]:
        return laid_alike(self.layout, sites, region, float(self.limits.spacing))

    def _shared_out(self, placement: Placement) -> tuple[Sites, ...]:
        """Give every site of a bed-wide placement to the raft it lies on."""
        xy, rows = placement.sites.xy, placement.sites.rows
        made: list[Sites] = []
        left = np.ones(len(xy), dtype=np.bool_)
        for raft in self.layout.rafts:
            part = Part(raft.loop_in_bed, self._margins(()))
            mine = left & Region((part,), ()).allows(xy)
            left &= ~mine
            made.append(_on_raft(raft, xy[mine], rows[mine]))
        return tuple(made)

    def group(self, raft: RaftPlace) -> _Group:
        joints = raft.own_joints
        if self.planting.joints == "separate":
            joints = frozenset()
        elif self.planting.joints == "interchangeable" and len(self._places) > 1:
            joints = joint_sides(self._ways) if raft.shape.is_rectangle else joints
        return _Group(raft.shape, joints, self._keep_outs_of(raft))

    def _keep_outs_of(self, raft: RaftPlace) -> tuple[KeepOut, ...]:
        """What the raft's holes keep away from, in raft coordinates.

        An interchangeable raft may lie in any place of its kind, turned or not, so it keeps away
        from what is found in any of them.
        """
        if not self.keep_outs:
            return ()
        if self.planting.joints != "interchangeable":
            return near_raft(raft, self.keep_outs, self.limits.margin)
        length, width = float(raft.shape.length), float(raft.shape.width)
        found: dict[KeepOut, None] = {}
        for other in self._places:
            if other.shape is raft.shape:
                for keep_out in near_raft(other, self.keep_outs, self.limits.margin):
                    found[keep_out] = None
                    if raft.shape.is_rectangle:
                        x0, y0, x1, y1 = bounds(keep_out.loop)
                        half = turned_half(keep_out.loop)
                        turned = shifted(half, length - x0 - x1, width - y0 - y1)
                        found[KeepOut(turned, keep_out.distance)] = None
        return tuple(found)

    def _margins(self, joints: Iterable[Side]) -> dict[Side, Fraction]:
        seam = max(self.limits.margin, seam_margin(self.limits.spacing, self.joint_gap))
        sides = set(joints)
        return {side: seam if side in sides else self.limits.margin for side in _ALL_SIDES}

    def _placements(self, group: _Group) -> tuple[Placement, ...]:
        if not group.shape.is_rectangle:
            return best_first(self._on_region(self.region(group), None if self.opens else 0))
        if self.planting.joints == "interchangeable" and group.joints:
            found = self._interchangeable(group)
        else:
            found = self._on_rectangle(group, self._margins(group.joints), group.joints)
        if not group.keep_outs:
            return best_first(found)
        region = self.region(group)
        kept = [kept_in(placement, region) for placement in found]
        most = None if self.opens else max(map(len, kept), default=0)
        return best_first([*kept, *self._on_region(region, most)])

    def _interchangeable(self, group: _Group) -> list[Placement]:
        """Seam margins at all joints are safe; less may do for a pattern that is then proved."""
        found = self._on_rectangle(group, self._margins(group.joints), group.joints)
        if len({raft.shape for raft in self.layout.rafts}) > 1 or self.among is not None:
            return found
        raft = Raft(
            float(group.shape.length),
            float(group.shape.width),
            float(self.limits.margin),
            float(self.joint_gap),
            float(self.limits.spacing),
            self._ways,
        )
        most: dict[tuple[str, str], int] = {}
        for placement in found:
            most[placement.pattern, placement.direction] = len(placement)
        # What is opened up may no longer be legal where the same rows, close together, are.
        spreads = (True, False) if self.planting.spread else (False,)
        for tight, spread in product(_TIGHT, spreads):
            margins = self._margins(group.joints - tight)
            for placement in self._on_rectangle(group, margins, group.joints, spread=spread):
                key = placement.pattern, placement.direction
                if len(placement) <= most.get(key, 0):
                    continue
                xy = legal_among_its_like(raft, placement.sites.xy)
                if xy is not None:
                    found.append(replace(placement, sites=Sites(xy, placement.sites.rows)))
                    most[key] = len(placement)
        better = best_interchangeable(
            raft,
            pattern=self.planting.pattern,
            direction=self.planting.rows,
            spread=self.planting.spread,
            more_than=max(most.values(), default=0),
        )
        return found if better is None else [*found, better]

    def _on_rectangle(
        self,
        group: _Group,
        margins: dict[Side, Fraction],
        joints: frozenset[Side],
        *,
        spread: bool | None = None,
    ) -> list[Placement]:
        return list(
            place_on_rectangle(
                group.shape.length,
                group.shape.width,
                margins=margins,
                joints=joints,
                joint_gap=self.joint_gap,
                spacing=self.limits.spacing,
                row_spacing=self.limits.row_spacing,
                pattern=self.planting.pattern,
                direction=self.planting.rows,
                spread=self.planting.spread if spread is None else spread,
            )
        )

    def region(self, group: _Group) -> Region:
        part = Part(group.shape.loop, self._margins(group.joints), self.limits.margin)
        return region_of([part], group.keep_outs)

    def _on_region(self, region: Region, more_than: int | None) -> tuple[Placement, ...]:
        return lay_on_region(region, self.planting, self.limits, more_than)


def lay_on_region(
    region: Region, planting: Planting, limits: Limits, more_than: int | None = None
) -> tuple[Placement, ...]:
    """Lay the patterns of a planting on any region, the first of them ready to be opened.

    With ``more_than`` only the best that holds more than so many sites matters.

    Raises:
        TooManyError: More sites than a bed may have.
    """
    left, bottom, right, top = region.bounds() or (0.0, 0.0, 0.0, 0.0)
    if (right - left) * (top - bottom) > 2 * MOST_SITES * float(limits.spacing) ** 2:
        raise TooManyError(
            tr(
                "More than {most_sites} sites fit into one bed; give a wider spacing.",
                most_sites=number(MOST_SITES, 0),
            )
        )
    row_spacing = limits.row_spacing
    return lay_on_any_outline(
        region,
        spacing=float(limits.spacing),
        row_spacing=None if row_spacing is None else float(row_spacing),
        pattern=planting.pattern,
        direction=planting.rows,
        spread=planting.spread,
        more_than=more_than,
    )


def _fewest_designs_first(candidates: Sequence[_Candidate]) -> list[_Candidate]:
    """Of candidates with the most plants, put those first that need the fewest kinds of raft."""
    most = max((candidate.tried.plants for candidate in candidates), default=0)
    best = [candidate for candidate in candidates if candidate.tried.plants == most]
    if len(best) > 1:
        laid = [replace(each, sites=partial(_same, each.sites())) for each in best]
        best = sorted(laid, key=lambda each: len(set(map(id, each.sites()))))
    return [*best, *candidates[len(best) :]]


def _same(sites: tuple[Sites, ...]) -> tuple[Sites, ...]:
    return sites


def kept_in(placement: Placement, region: Region) -> Placement:
    """Leave out the sites that the region does not allow."""
    allowed = region.allows(placement.sites.xy)
    sites = Sites(placement.sites.xy[allowed], placement.sites.rows[allowed])
    return Placement(
        sites, placement.pattern, placement.direction, placement.pitch_mm, placement.row_gap_mm
    )


def _on_raft(raft: RaftPlace, xy: Coordinates, rows: NDArray[np.int64]) -> Sites:
    """Sites of a bed as the sites of one raft, in its own coordinates, rows counted from 0."""
    own = xy - np.array([float(raft.x), float(raft.y)])
    if raft.turned:
        own = np.array([float(raft.shape.length), float(raft.shape.width)]) - own
        own, rows = own[::-1], -rows[::-1]
    _, ranks = np.unique(rows, return_inverse=True)
    return Sites(own, ranks.astype(np.int64))


def best_first(placements: Iterable[Placement]) -> tuple[Placement, ...]:
    """Sort by count, the given order deciding between equals; one for each pattern and way."""
    best: dict[tuple[str, str], Placement] = {}
    for placement in sorted(placements, key=lambda placement: -len(placement)):
        best.setdefault((placement.pattern, placement.direction), placement)
    return tuple(best.values())


def tried_as(placement: Placement, plants: int) -> Tried:
    """Tell of a placement as of one pattern that was tried."""
    return Tried(
        placement.pattern,
        placement.direction,
        plants,
        placement.pitch_mm,
        placement.row_gap_mm,
    )
