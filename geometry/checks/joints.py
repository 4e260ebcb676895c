"""Does the spacing hold between plants of two rafts that lie side by side?"""

from collections.abc import Iterator, Sequence

import numpy as np

from geometry.checks.beside import images
from geometry.checks.finding import Finding
from geometry.checks.ground import Ground
from geometry.checks.raft_in_bed import RaftInBed
from geometry.checks.rules import Rules
from geometry.checks.told import unlike_crops
from geometry.holes.pairs import Floats, near_between, near_pairs
from geometry.holes.sites import Coordinates
from geometry.units import TOLERANCE_MM


def check_neighbours(here: Ground, there: Ground) -> Iterator[Finding]:
    """Yield a finding for every pair of plants of two rafts, as they lie, nearer than the spacing.

    The joint gap is part of the distance.
    """
    one, other = here.raft, there.raft
    theirs = one.on_raft(other.in_bed(other.holes.xy))
    rules = here.rules
    first, second = near_between(one.holes.xy, theirs, rules.widest - TOLERANCE_MM)
    least = (rules.spacings(one.holes)[first] + rules.spacings(other.holes)[second]) / 2
    gaps = _gaps(one.holes.xy[first], theirs[second])
    close = gaps < least - TOLERANCE_MM
    first, second, least, gaps = first[close], second[close], least[close], gaps[close]
    if not len(first):
        return
    first_moves = one.holes.pinned[first] & ~other.holes.pinned[second]
    ours = other.on_raft(one.in_bed(one.holes.xy))
    away = here.apart(first, theirs[second], least)
    back = there.apart(second, ours[first], least)
    middles = one.in_bed((one.holes.xy[first] + theirs[second]) / 2).tolist()
    for k, (i, j, gap, limit, (x, y)) in enumerate(
        zip(first.tolist(), second.tolist(), gaps.tolist(), least.tolist(), middles, strict=True)
    ):
        yield Finding(
            code="joint",
            severity="problem",
            bed=one.bed,
            raft=one.name,
            holes=(f"{one.name} {one.holes.names[i]}", f"{other.name} {other.holes.names[j]}"),
            place=(x, y),
            amount_mm=gap,
            limit_mm=limit,
            cure=away[k] if first_moves[k] else back[k],
            crops=unlike_crops(rules, int(one.holes.numbers[i]), int(other.holes.numbers[j])),
        )


def check_beside_itself(ground: Ground) -> Iterator[Finding]:
    """Yield a finding for every pair of plants that come too near where rafts of one kind meet.

    The raft is laid beside itself wherever a neighbour can lie, straight and turned half round; the
    findings of a turned neighbour have the subject "turned". The place is that of the first hole.
    A raft that need not be fit for that has nothing to find.
    """
    if not ground.beside_itself:
        return
    raft, rules = ground.raft, ground.rules
    copies = images(raft, rules, rules.widest - TOLERANCE_MM)
    hole, image = near_between(raft.holes.xy, copies.xy, rules.widest - TOLERANCE_MM)
    spacings = rules.spacings(raft.holes)
    limits = (spacings[hole] + spacings[copies.source[image]]) / 2
    close = _gaps(raft.holes.xy[hole], copies.xy[image]) < limits - TOLERANCE_MM
    hole, image, limits = hole[close], image[close], limits[close]
    if not len(hole):
        return
    turned, source = copies.turned[image], copies.source[image]
    first, second = np.minimum(hole, source), np.maximum(hole, source)
    pinned = raft.holes.pinned
    movers = np.where(pinned[first] & ~pinned[second], first, second)
    gaps = _gaps(raft.holes.xy[hole], copies.xy[image])
    # Each pair comes up once from either hole, and may do so at several joints: the nearest counts,
    # seen from the hole that is to move.
    order = np.lexsort((hole != movers, gaps.round(6), turned, second, first))
    keys = np.column_stack([first, second, turned])[order]
    kept = order[np.append(True, (keys[1:] != keys[:-1]).any(axis=1))]
    gaps, first, second, turned = gaps[kept], first[kept], second[kept], turned[kept]
    limits = limits[kept]
    # A hole that meets its own turned image gains twice what it moves.
    least = np.where(first == second, (gaps + limits) / 2, limits)
    cures = ground.apart(movers[kept], copies.xy[image[kept]], least)
    names = raft.holes.names
    for i, j, is_turned, gap, limit, cure in zip(
        first.tolist(),
        second.tolist(),
        turned.tolist(),
        gaps.tolist(),
        limits.tolist(),
        cures,
        strict=True,
    ):
        yield Finding(
            code="joint",
            severity="problem",
            bed=raft.bed,
            raft=raft.name,
            holes=(f"{raft.name} {names[i]}", f"{raft.name} {names[j]}"),
            subject="turned" if is_turned else "",
            place=raft.place(i),
            amount_mm=gap,
            limit_mm=limit,
            cure=cure,
            crops=unlike_crops(rules, int(raft.holes.numbers[i]), int(raft.holes.numbers[j])),
        )


def close_across(rafts: Sequence[RaftInBed], rules: Rules) -> set[tuple[int, int]]:
    """Find the pairs of rafts, by their places in the list, that have plants too near each other.

    One search over all holes of a bed, for when every raft is new.
    """
    counts = [len(raft.holes) for raft in rafts]
    owner = np.repeat(np.arange(len(rafts)), counts)
    if not len(owner):
        return set()
    xy = np.concatenate([raft.in_bed(raft.holes.xy) for raft in rafts])
    first, second = near_pairs(xy, rules.widest - TOLERANCE_MM)
    apart = owner[first] != owner[second]
    if rules.zones:
        spacings = np.concatenate([rules.spacings(raft.holes) for raft in rafts])
        least = (spacings[first] + spacings[second]) / 2
        apart &= _gaps(xy[first], xy[second]) < least - TOLERANCE_MM
    return set(zip(owner[first[apart]].tolist(), owner[second[apart]].tolist(), strict=True))


def _gaps(here: Coordinates, there: Coordinates) -> Floats:
    gaps: Floats = np.hypot(*(here - there).T)
    return gaps
