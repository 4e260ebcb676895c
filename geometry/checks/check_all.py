"""All checks in their fixed order: of one raft, of a joint."""

from collections.abc import Iterator

from geometry.checks.edge import check_edge
from geometry.checks.finding import Finding
from geometry.checks.ground import Ground
from geometry.checks.joints import check_beside_itself, check_neighbours
from geometry.checks.measures import Measures, measure
from geometry.checks.obstacle import check_obstacles
from geometry.checks.spacing import check_spacing
from geometry.checks.web import check_web


def check_raft(ground: Ground, measures: Measures | None = None) -> tuple[Finding, ...]:
    """Find what is wrong with the holes of one raft: spacing, web, edge, obstacles.

    A raft that must be fit to lie beside any of its kind is laid beside itself as well.
    ``measures`` saves the measuring where rafts share a design.
    """
    raft = ground.raft
    found = measures or measure(raft.shape, raft.holes, ground.rules)
    return (*_on_the_raft(ground, found), *check_obstacles(ground), *check_beside_itself(ground))


def _on_the_raft(ground: Ground, measures: Measures) -> Iterator[Finding]:
    if not measures.sound:
        yield from check_spacing(ground, measures)
        yield from check_web(ground, measures)
        yield from check_edge(ground, measures)


def check_joint(here: Ground, there: Ground) -> tuple[Finding, ...]:
    """Find plants of two rafts, as they lie, that are too near each other.

    Nothing is looked for where joints are kept separately, nor between two rafts of one kind that
    are fit to lie beside any of their kind: those are laid beside themselves.
    """
    alike = here.raft.shape == there.raft.shape
    if here.rules.joints == "separate" or (here.beside_itself and alike):
        return ()
    return tuple(check_neighbours(here, there))
