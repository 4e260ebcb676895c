"""Do the rims of pots touch each other, reach over the raft's edge, or lie on an obstacle?

A rim, or the collar of a plug, is wider than its hole, and where two of them meet both pots tip.
One finding tells of all that is alike on a raft: the worst, and how many more there are.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from geometry.checks.check_holes import CheckedHoles, Design
from geometry.checks.finding import Code, Cure, Finding, SetLength, Severity
from geometry.checks.pots import place_of
from geometry.checks.raft_in_bed import RaftInBed
from geometry.checks.rules import Hazard
from geometry.checks.surroundings import Surroundings
from geometry.holes.pairs import Floats, Indices, near_between, near_pairs
from geometry.model.bed import Bed
from geometry.model.measure import gauge_of
from geometry.model.planting import Planting
from geometry.units import TOLERANCE_MM
from geometry.watch import look_up


@dataclass(frozen=True, slots=True, eq=False)
class _Worst:
    """The worst of ``count`` overlaps: its one or two holes, what is there and what is wanted."""

    holes: tuple[int, ...]
    amount: float
    limit: float
    count: int

    @classmethod
    def of(cls, holes: tuple[Indices, ...], amounts: Floats, limits: Floats) -> "_Worst | None":
        short = limits - amounts
        over = short > TOLERANCE_MM
        if not over.any():
            return None
        worst = int(np.argmax(short))
        return cls(
            tuple(int(each[worst]) for each in holes),
            float(amounts[worst]),
            float(limits[worst]),
            int(over.sum()),
        )


@dataclass(frozen=True, slots=True, eq=False)
class _Kind:
    """What the rims on one kind of raft do by themselves.

    ``near`` are the holes whose rims come near enough to the edge to meet one of another raft,
    ``over`` those whose rims reach over it. ``raft`` keeps shape and holes alive, whose identities
    are the key.
    """

    raft: RaftInBed
    widths: Floats
    pair: _Worst | None
    edge: _Worst | None
    near: Indices
    over: Indices


@dataclass(frozen=True, slots=True, eq=False)
class CheckedRims:
    """What was found about the rims of one bed, and what the next check can take over."""

    findings: tuple[Finding, ...] = ()
    checked: CheckedHoles | None = None
    kinds: Mapping[Design, _Kind] = field(default_factory=dict)


NO_RIMS: Final = CheckedRims()


def check_rims(
    around: Surroundings, checked: CheckedHoles | None, before: CheckedRims = NO_RIMS
) -> CheckedRims:
    """Look at the rims of a bed whose rafts lie as in ``checked``.

    Rafts that were looked at ``before``, in the same surroundings, are taken over.
    """
    if checked is not None and before.checked is checked:
        return before
    widths = tuple((pot.rim.mm or pot.collar.mm) if pot else 0.0 for pot in around.pots)
    if checked is None or not any(widths):
        return NO_RIMS
    kinds: dict[Design, _Kind] = {}
    firsts: list[tuple[RaftInBed, _Kind]] = []
    for raft in checked.rafts:
        key = id(raft.shape), id(raft.holes)
        if key not in kinds:
            look_up()
            kinds[key] = before.kinds.get(key) or _look_at(raft, np.array(widths))
            firsts.append((raft, kinds[key]))
    teller = _Teller(around.bed, around.plantings, widths)
    findings = (
        *(finding for raft, kind in firsts for finding in teller.on_raft(raft, kind)),
        *teller.across_joints(checked.rafts, kinds),
        *(
            finding
            for number, hazard in enumerate(checked.hazards)
            for finding in teller.at_hazard(number, hazard, checked, kinds)
        ),
    )
    return CheckedRims(findings, checked, kinds)


def _look_at(raft: RaftInBed, by_planting: Floats) -> _Kind:
    holes = raft.holes
    widths = by_planting[holes.numbers]
    # A tolerance less, so that rims that just touch never come up.
    first, second = near_pairs(holes.xy, float(by_planting.max()) - TOLERANCE_MM)
    both = (widths[first] > 0) & (widths[second] > 0)
    first, second = first[both], second[both]
    apart = holes.xy[first] - holes.xy[second]
    pair = _Worst.of(
        (first, second), np.hypot(apart[:, 0], apart[:, 1]), (widths[first] + widths[second]) / 2
    )
    edge = gauge_of(raft.shape.loop).signed_distance(holes.xy)
    rimmed = np.flatnonzero(widths > 0)
    reach = widths[rimmed] / 2
    at_edge = _Worst.of((rimmed,), edge[rimmed], reach)
    return _Kind(
        raft,
        widths,
        pair,
        at_edge,
        rimmed[edge[rimmed] < float(by_planting.max())],
        rimmed[edge[rimmed] < reach - TOLERANCE_MM],
    )


@dataclass(frozen=True, slots=True)
class _Teller:
    """Makes findings of what was seen, each with the rule that keeps it from happening.

    ``widths`` are the rims in mm of each planting, 0 where it has none.
    """

    bed: Bed
    plantings: Sequence[Planting]
    widths: tuple[float, ...]

    def on_raft(self, raft: RaftInBed, kind: _Kind) -> Iterator[Finding]:
        numbers = raft.holes.numbers
        if kind.pair is not None:
            one, other = kind.pair.holes
            yield self._tell(
                "rims",
                "problem",
                kind.pair,
                raft=raft.name,
                holes=(raft.holes.names[one], raft.holes.names[other]),
                place=_middle(raft, one, raft, other),
                cure=self._cure(
                    (int(numbers[one]), int(numbers[other])), "spacing", lambda width: width
                ),
            )
        if kind.edge is not None:
            (hole,) = kind.edge.holes
            yield self._tell(
                "rim-edge",
                "question",
                kind.edge,
                raft=raft.name,
                holes=(raft.holes.names[hole],),
                place=raft.place(hole),
                cure=self._margin(int(numbers[hole])),
            )

    def across_joints(
        self, rafts: Sequence[RaftInBed], kinds: Mapping[Design, _Kind]
    ) -> Iterator[Finding]:
        """Two rims of two rafts can only meet where one of them reaches over its raft's edge."""
        seen = [kinds[id(raft.shape), id(raft.holes)] for raft in rafts]
        if len(rafts) < 2 or not any(len(kind.over) for kind in seen):
            return
        look_up()
        here = _Gathered.of(rafts, seen, [kind.over for kind in seen])
        there = _Gathered.of(rafts, seen, [kind.near for kind in seen])
        first, second = near_between(here.places, there.places, max(self.widths) - TOLERANCE_MM)
        # Two rims that reach over their edges meet each other both ways: told once.
        apart = here.rafts[first] != there.rafts[second]
        first, second = first[apart], second[apart]
        ids = np.sort(np.stack([here.ids[first], there.ids[second]]), axis=0)
        _, once = np.unique(ids, axis=1, return_index=True)
        first, second = first[once], second[once]
        gap = np.hypot(*(here.places[first] - there.places[second]).T)
        limits = (here.widths[first] + there.widths[second]) / 2
        worst = _Worst.of((first, second), gap, limits)
        if worst is None:
            return
        over, met = worst.holes
        ends = sorted([here.at(over), there.at(met)])
        (one, hole), (other, next_hole) = ((rafts[raft], hole) for raft, hole in ends)
        raft, number = here.at(over)
        yield self._tell(
            "rims",
            "problem",
            worst,
            holes=tuple(f"{rafts[at].name} {rafts[at].holes.names[hole]}" for at, hole in ends),
            place=_middle(one, hole, other, next_hole),
            cure=self._margin(int(rafts[raft].holes.numbers[number])),
        )

    def at_hazard(
        self, number: int, hazard: Hazard, checked: CheckedHoles, kinds: Mapping[Design, _Kind]
    ) -> Iterator[Finding]:
        """A rim on an obstacle that comes up through the water."""
        box = np.array(hazard.box) + max(self.widths) / 2 * np.array([-1, -1, 1, 1])
        boxes = checked.boxes
        near = (boxes[:, :2] < box[2:]).all(axis=1) & (boxes[:, 2:] > box[:2]).all(axis=1)
        for index in np.flatnonzero(near).tolist():
            raft = checked.rafts[index]
            widths = kinds[id(raft.shape), id(raft.holes)].widths
            places = raft.in_bed(raft.holes.xy)
            within = ((places > box[:2]) & (places < box[2:])).all(axis=1) & (widths > 0)
            holes = np.flatnonzero(within)
            if not len(holes):
                continue
            away = -hazard.gauge.signed_distance(places[holes])
            worst = _Worst.of((holes,), away, widths[holes] / 2)
            if worst is None:
                continue
            (hole,) = worst.holes
            clearance = max(
                (width - planting.hole_diameter.mm) / 2
                for width, planting in zip(self.widths, self.plantings, strict=True)
            )
            field = f"obstacles.{number}.clearance"
            yield self._tell(
                "rim-obstacle",
                "question",
                worst,
                raft=raft.name,
                holes=(raft.holes.names[hole],),
                subject=hazard.name,
                place=raft.place(hole),
                cure=SetLength(field, clearance) if clearance > hazard.clearance else None,
            )

    def _margin(self, number: int) -> Cure | None:
        return self._cure((number,), "edge_margin", lambda width: width / 2)

    def _cure(
        self, numbers: Sequence[int], rule: str, wanted: Callable[[float], float]
    ) -> Cure | None:
        """The first rule that falls short; none where all hold and a hole was put there by hand."""
        for number in sorted(set(numbers)):
            least = wanted(self.widths[number])
            if getattr(self.plantings[number], rule).mm < least - TOLERANCE_MM:
                return SetLength(f"{place_of(number)}.{rule}", least)
        return None

    def _tell(
        self,
        code: Code,
        severity: Severity,
        worst: _Worst,
        *,
        holes: tuple[str, ...],
        place: tuple[float, float],
        cure: Cure | None,
        raft: str = "",
        subject: str = "",
    ) -> Finding:
        return Finding(
            code=code,
            severity=severity,
            bed=self.bed.name,
            raft=raft,
            holes=holes,
            subject=subject,
            place=place,
            amount_mm=worst.amount,
            limit_mm=worst.limit,
            cure=cure,
            more=worst.count - 1,
        )


@dataclass(frozen=True, slots=True, eq=False)
class _Gathered:
    """Some holes of every raft in one row: places in the bed, rim widths, rafts, holes, and ids."""

    places: Floats
    widths: Floats
    rafts: Indices
    holes: Indices
    ids: Indices

    @classmethod
    def of(
        cls, rafts: Sequence[RaftInBed], kinds: Sequence[_Kind], chosen: Sequence[Indices]
    ) -> "_Gathered":
        parts = list(zip(rafts, kinds, chosen, strict=True))
        numbers = np.repeat(np.arange(len(rafts)), [len(holes) for holes in chosen])
        starts = np.cumsum([0, *(len(raft.holes) for raft in rafts)])[:-1]
        holes = np.concatenate(chosen)
        return cls(
            np.concatenate([raft.in_bed(raft.holes.xy[holes]) for raft, _, holes in parts]),
            np.concatenate([kind.widths[holes] for _, kind, holes in parts]),
            numbers,
            holes,
            starts[numbers] + holes,
        )

    def at(self, index: int) -> tuple[int, int]:
        """Return raft and hole."""
        return int(self.rafts[index]), int(self.holes[index])


def _middle(raft: RaftInBed, hole: int, other: RaftInBed, second: int) -> tuple[float, float]:
    (x, y), (far_x, far_y) = raft.place(hole), other.place(second)
    return (x + far_x) / 2, (y + far_y) / 2
