"""All checks in their fixed order: of one raft, of a joint, of a bed, of the cutting."""

from collections.abc import Iterator, Mapping, Sequence

from geometry.checks.edge import check_edge
from geometry.checks.finding import Finding
from geometry.checks.ground import Ground
from geometry.checks.hand_edits import check_hand_edits
from geometry.checks.joints import check_beside_itself, check_neighbours
from geometry.checks.measures import Measures, measure
from geometry.checks.obstacle import check_obstacles
from geometry.checks.raft_in_bed import RaftInBed
from geometry.checks.room import check_room
from geometry.checks.score_lines import check_score_lines
from geometry.checks.sheet_fit import Size, check_sheet_fit
from geometry.checks.skew import check_skew
from geometry.checks.spacing import check_spacing
from geometry.checks.unit_slip import check_sheet_units, check_units
from geometry.checks.web import check_web
from geometry.checks.zones import check_zones
from geometry.cutting.plan import CutPlan
from geometry.holes.claims import Claims
from geometry.model.bed import Bed
from geometry.model.planting import Blank
from geometry.model.sheet import Cutting, Sheet
from geometry.rafts.layout import ALL_WAYS, RaftLayout, Ways


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
    alike = here.beside_itself and is_alike(here.raft, there.raft)
    if here.rules.joints == "separate" or alike:
        return ()
    return tuple(check_neighbours(here, there))


def is_alike(one: RaftInBed, other: RaftInBed) -> bool:
    """Tell whether two rafts are drilled alike."""
    return one.shape == other.shape and one.holes == other.holes


def check_bed(
    bed: Bed,
    rafts: Sequence[RaftInBed],
    idle_blanks: Sequence[Blank] = (),
    zoned: tuple[RaftLayout, Sequence[Claims]] | None = None,
    ways: Ways = ALL_WAYS,
) -> tuple[Finding, ...]:
    """Find what is odd about a bed as a whole: numbers, skew, room, hand edits, zones.

    ``idle_blanks`` are the blanks that found no site on their raft; ``zoned`` is the layout of a
    bed with zones, and what its rafts are planted with; rafts can have neighbours in ``ways``.
    Whether rafts float free is ``check_raft_fit``, which depends on the layout alone.
    """
    names = {raft.name for raft in rafts}
    blanks = bed.planting.blanks if bed.planting else ()
    left_out = sum(blank.raft in names for blank in blanks) - len(idle_blanks)
    return (
        *check_units(bed),
        *check_skew(bed),
        *check_room(bed, rafts, ways, left_out=left_out),
        *check_hand_edits(bed, rafts, idle_blanks),
        *(check_zones(bed, *zoned, rafts) if zoned else ()),
    )


def check_cutting(
    cut: CutPlan, sizes: Mapping[str, Size], sheets: Sequence[Sheet], cutting: Cutting
) -> tuple[Finding, ...]:
    """Find what is wrong with the sheets; ``sizes`` gives length and width by raft design."""
    return (
        *check_sheet_units(sheets, cutting),
        *check_sheet_fit(cut, sizes, sheets, cutting),
        *check_score_lines(cut),
    )
