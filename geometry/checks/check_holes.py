"""The holes of one bed, raft by raft and joint by joint, checked anew only where they changed."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from geometry.checks.check_all import check_joint, check_raft, is_alike
from geometry.checks.finding import Finding
from geometry.checks.ground import Ground
from geometry.checks.joints import close_across
from geometry.checks.measures import Measures, measure_all
from geometry.checks.obstacle import check_obstacles
from geometry.checks.raft_in_bed import RaftInBed
from geometry.checks.rules import Hazard, Rules
from geometry.holes.pairs import Floats
from geometry.watch import look_up

_FEW: Final = 32
"""Up to so many changed rafts are looked at one by one; more are quicker all together."""

Design = tuple[int, int]
"""Identities of a shape and its holes; a good key only while a raft that has them is held."""

Joint = tuple[int, int]
"""The places of two rafts in the list of rafts, the lower first."""


@dataclass(frozen=True, slots=True, eq=False)
class CheckedHoles:
    """What was found about the holes of one bed, and what the next check can take over.

    ``least_web_mm`` is the least foam found on any raft, None without holes.
    """

    findings: tuple[Finding, ...]
    least_web_mm: float | None
    rafts: tuple[RaftInBed, ...]
    rules: Rules
    hazards: tuple[Hazard, ...]
    boxes: Floats
    measures: Mapping[Design, Measures]
    by_raft: Mapping[int, tuple[Finding, ...]]
    by_joint: Mapping[Joint, tuple[Finding, ...]]


def check_holes(
    rafts: Sequence[RaftInBed],
    rules: Rules,
    hazards: tuple[Hazard, ...] = (),
    previous: CheckedHoles | None = None,
) -> CheckedHoles:
    """Check the holes of a bed, raft by raft and then joint by joint.

    With ``previous``, only rafts that changed and what lies near them are looked at again; the
    findings are the same. Rafts that are fit to lie beside any of their kind are told of once, at
    the first of the kind, since they are drilled alike. A single raft has no joints.
    """
    if len(rafts) == 1:
        rules = replace(rules, joints="separate")
    if previous and (previous.rules, previous.hazards) != (rules, hazards):
        previous = None
    changed = _changed(rafts, rules, previous)
    bed = _Bed.of(tuple(rafts), rules, hazards, previous, changed)
    if previous is None or changed is None:
        touched, joints = set(range(len(rafts))), bed.close_joints()
        by_raft, by_joint = {}, {}
    else:
        around = {k: bed.around(k, previous) for k in changed}
        touched = set(changed).union(*around.values())
        joints = {(min(k, n), max(k, n)) for k in changed for n in around[k]}
        joints |= {joint for joint in previous.by_joint if not touched.isdisjoint(joint)}
        by_raft = {k: found for k, found in previous.by_raft.items() if k not in touched}
        by_joint = {
            joint: found for joint, found in previous.by_joint.items() if joint not in joints
        }
    by_raft |= {k: found for k in touched if (found := bed.check(k))}
    by_joint |= {joint: found for joint in joints if (found := bed.check_joint(*joint))}
    told = [*(by_raft[k] for k in sorted(by_raft)), *(by_joint[j] for j in sorted(by_joint))]
    return CheckedHoles(
        tuple(finding for part in told for finding in part),
        bed.least_web(),
        bed.rafts,
        rules,
        hazards,
        bed.boxes,
        bed.measures,
        by_raft,
        by_joint,
    )


def _changed(
    rafts: Sequence[RaftInBed], rules: Rules, previous: CheckedHoles | None
) -> list[int] | None:
    """List the rafts that are not as they were; None when all are better looked at again."""
    if previous is None or len(previous.rafts) != len(rafts):
        return None
    pairs = zip(rafts, previous.rafts, strict=True)
    changed = [k for k, (now, then) in enumerate(pairs) if now is not then and now != then]
    if len(changed) > _FEW or (changed and rules.joints == "interchangeable"):
        return None
    return changed


@dataclass(frozen=True, slots=True, eq=False)
class _Bed:
    """The rafts of a bed with their boxes and designs; ``firsts`` are the first of each design."""

    rafts: tuple[RaftInBed, ...]
    rules: Rules
    hazards: tuple[Hazard, ...]
    boxes: Floats
    hazard_boxes: Floats
    measures: dict[Design, Measures]
    firsts: frozenset[int]

    @classmethod
    def of(
        cls,
        rafts: tuple[RaftInBed, ...],
        rules: Rules,
        hazards: tuple[Hazard, ...],
        previous: CheckedHoles | None,
        changed: Iterable[int] | None,
    ) -> "_Bed":
        known = previous.measures if previous else {}
        designs = [_design(raft) for raft in rafts]
        first = dict(zip(reversed(designs), range(len(rafts) - 1, -1, -1), strict=True))
        fresh = [design for design in first if design not in known]
        found = measure_all([(rafts[first[d]].shape, rafts[first[d]].holes) for d in fresh], rules)
        by_design = {**known, **dict(zip(fresh, found, strict=True))}
        measures = {design: by_design[design] for design in first}
        if previous is None or changed is None:
            boxes = np.array([_box(raft) for raft in rafts]).reshape(-1, 4)
        else:
            boxes = previous.boxes.copy()
            for k in changed:
                boxes[k] = _box(rafts[k])
        hazard_boxes = np.array([hazard.box for hazard in hazards]).reshape(-1, 4)
        return cls(rafts, rules, hazards, boxes, hazard_boxes, measures, frozenset(first.values()))

    def near(self, box: Floats) -> list[int]:
        """The rafts that come nearer to a box than the spacing."""
        return np.flatnonzero(_apart(self.boxes, box) < self.rules.widest).tolist()

    def around(self, k: int, previous: CheckedHoles) -> set[int]:
        """The other rafts whose findings may be others because of what changed on a raft.

        A cure looks for places up to the spacing away from a hole, and they keep the spacing to
        the holes around: what changed more than two spacings from a raft is nothing to it.
        """
        if self.rules.joints == "separate":
            return set()
        now, then = self.rafts[k], previous.rafts[k]
        boxes = _differing(now, then) or (self.boxes[k], previous.boxes[k])
        room = self.rules.widest * np.array([-1, -1, 1, 1])
        return {n for box in boxes for n in self.near(box + room)} - {k}

    def close_joints(self) -> set[Joint]:
        """The pairs of rafts, of the whole bed, with plants too near each other."""
        one_kind = len({_design(raft) for raft in self.rafts}) == 1
        if self.rules.joints == "separate" or (one_kind and self._is_alike(0)):
            return set()
        return close_across(self.rafts, self.rules)

    def check(self, k: int) -> tuple[Finding, ...]:
        look_up()
        measures = self.measures[_design(self.rafts[k])]
        hazards = self._hazards_near(k)
        told_already = self._is_alike(k) and k not in self.firsts
        if not hazards and (told_already or (measures.sound and not self._is_alike(k))):
            return ()
        ground = self._ground(k, hazards)
        return tuple(check_obstacles(ground)) if told_already else check_raft(ground, measures)

    def _is_alike(self, k: int) -> bool:
        return self.rules.joints == "interchangeable" and self.rafts[k].shape.is_rectangle

    def check_joint(self, here: int, there: int) -> tuple[Finding, ...]:
        look_up()
        bare = (Ground(self.rafts[k], self.rules) for k in (here, there))
        if not check_joint(*bare):
            return ()
        return check_joint(
            self._ground(here, self._hazards_near(here)),
            self._ground(there, self._hazards_near(there)),
        )

    def _ground(self, k: int, hazards: tuple[Hazard, ...]) -> Ground:
        raft = self.rafts[k]
        alone = Ground(raft, self.rules, hazards)
        if self.rules.joints == "separate":
            return alone
        beside = (self.rafts[n] for n in self.near(self.boxes[k]) if n != k)
        others = tuple(n for n in beside if not (alone.beside_itself and is_alike(n, raft)))
        return replace(alone, neighbours=others)

    def _hazards_near(self, k: int) -> tuple[Hazard, ...]:
        if not self.hazards:
            return ()
        widest = float(self.rafts[k].holes.diameters.max(initial=0.0))
        apart = _apart(self.hazard_boxes, self.boxes[k])
        return tuple(
            hazard
            for hazard, gap in zip(self.hazards, apart.tolist(), strict=True)
            if gap < hazard.clearance + widest
        )

    def least_web(self) -> float | None:
        least = min((found.least_web for found in self.measures.values()), default=np.inf)
        return None if least == np.inf else least


def _design(raft: RaftInBed) -> Design:
    return id(raft.shape), id(raft.holes)


def _box(raft: RaftInBed) -> tuple[float, float, float, float]:
    """The box of a raft, and of holes placed by hand beyond its edge."""
    right, top = raft.x + float(raft.shape.length), raft.y + float(raft.shape.width)
    pinned = raft.in_bed(raft.holes.xy[raft.holes.pinned])
    if not len(pinned):
        return raft.x, raft.y, right, top
    (low_x, low_y), (high_x, high_y) = pinned.min(axis=0).tolist(), pinned.max(axis=0).tolist()
    return min(raft.x, low_x), min(raft.y, low_y), max(right, high_x), max(top, high_y)


def _differing(now: RaftInBed, then: RaftInBed) -> tuple[Floats, ...]:
    """The box, in the bed, of the holes that differ; none where more than some holes does."""
    one, other = now.holes, then.holes
    if replace(now, holes=other) != then or one.names != other.names:
        return ()
    differ = (
        (one.xy != other.xy).any(axis=1)
        | (one.diameters != other.diameters)
        | (one.pinned != other.pinned)
        | (one.numbers != other.numbers)
    )
    places = np.vstack([now.in_bed(one.xy[differ]), now.in_bed(other.xy[differ])])
    return (np.append(places.min(axis=0), places.max(axis=0)),) if len(places) else ()


def _apart(boxes: Floats, box: Floats) -> Floats:
    """Distance from a box to each of many; zero where they overlap."""
    beside = np.maximum(boxes[:, :2] - box[2:], box[:2] - boxes[:, 2:]).clip(min=0)
    apart: Floats = np.hypot(beside[:, 0], beside[:, 1])
    return apart
