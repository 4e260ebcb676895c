"""Findings about holes of one raft, told alike by every check."""

from collections.abc import Iterator, Sequence

import numpy as np

from geometry.checks.finding import Code, Cure, Finding
from geometry.checks.ground import Ground, least_on_raft
from geometry.checks.rules import Rules
from geometry.holes.pairs import Floats, Indices


def tell_pairs(
    ground: Ground, code: Code, *, pairs: tuple[Indices, Indices], amounts: Floats, limits: Floats
) -> Iterator[Finding]:
    """Tell of pairs of holes; a pinned hole moves, else the later one."""
    first, second = pairs
    if not len(first):
        return
    raft, holes, rules = ground.raft, ground.raft.holes, ground.rules
    first_moves = holes.pinned[first] & ~holes.pinned[second]
    movers, others = np.where(first_moves, (first, second), (second, first))
    least = least_on_raft(rules, holes, first, second)
    cures = ground.apart(movers, holes.xy[others], least)
    middles = raft.in_bed((holes.xy[first] + holes.xy[second]) / 2).tolist()
    for one, other, (x, y), amount, limit, cure in zip(
        first.tolist(),
        second.tolist(),
        middles,
        amounts.tolist(),
        limits.tolist(),
        cures,
        strict=True,
    ):
        yield Finding(
            code=code,
            severity="problem",
            bed=raft.bed,
            raft=raft.name,
            holes=(holes.names[one], holes.names[other]),
            place=(x, y),
            amount_mm=amount,
            limit_mm=limit,
            cure=cure,
            crops=unlike_crops(rules, int(holes.numbers[one]), int(holes.numbers[other])),
        )


def unlike_crops(rules: Rules, one: int, other: int) -> tuple[str, ...]:
    """Name the crops of two plantings where they differ; nothing for two plants of one planting."""
    return () if one == other else (rules.crop_of(one), rules.crop_of(other))


def tell_holes(
    ground: Ground,
    code: Code,
    *,
    holes: Indices,
    amounts: Floats,
    limits: Floats,
    cures: Sequence[Cure],
    subject: str = "",
) -> Iterator[Finding]:
    """Tell of single holes, each in its place."""
    raft = ground.raft
    places = raft.in_bed(raft.holes.xy[holes]).tolist()
    for hole, (x, y), amount, limit, cure in zip(
        holes.tolist(), places, amounts.tolist(), limits.tolist(), cures, strict=True
    ):
        yield Finding(
            code=code,
            severity="problem",
            bed=raft.bed,
            raft=raft.name,
            holes=(raft.holes.names[hole],),
            subject=subject,
            place=(x, y),
            amount_mm=amount,
            limit_mm=limit,
            cure=cure,
        )
