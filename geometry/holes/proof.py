"""How far it is proved that a bed holds no more plants: said exactly, never more than is known."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from geometry.holes.joints import seam_margin
from geometry.holes.place import keep_outs, limits_of, near_raft
from geometry.holes.records import best_known_in_disc, best_known_in_square
from geometry.model.bed import Bed
from geometry.model.measure import full_circle
from geometry.model.planting import Direction, Pattern, Planting
from geometry.rafts.layout import RaftLayout

Kind = Literal["full", "rows", "shift", "open"]
"""What is proved: ``full``, the ceiling is reached; ``rows``, no rows of these families hold more;
``shift``, no shift of these lattices holds more in the directions tried; ``open``, only the
ceiling."""

_ROWS: Final[dict[Pattern, tuple[str, ...]]] = {
    "square": ("square",),
    "rows": ("square",),
    "rectangular": ("rectangular",),
    "hexagonal": ("hexagonal",),
    "staggered": ("staggered",),
    "mixed": ("square", "staggered", "mixed"),
    "best": ("square", "staggered", "mixed"),
    "rings": (),
}
"""The families that ``rows.py`` searches through for a pattern; staggered holds hexagonal."""

_LATTICES: Final[dict[Pattern, tuple[str, ...]]] = {
    "square": ("square",),
    "rows": ("rows",),
    "rectangular": ("rectangular",),
    "hexagonal": ("hexagonal",),
    "staggered": ("hexagonal",),
    "mixed": ("square", "hexagonal"),
    "best": ("square", "hexagonal"),
    "rings": (),
}
"""The rows whose best shift ``any_outline.py`` finds for a pattern; "rows" fill one by one."""


@dataclass(frozen=True, slots=True)
class Proof:
    """What is proved of the plants of one bed.

    ``ceiling`` is a bound on every arrangement that the bed's joints allow. ``families`` are the
    patterns that ``kind`` speaks of, in the ``direction`` that the grower fixed or the best.
    ``alike`` says that only rafts that are all alike were asked for. ``record`` is the most that
    anybody is known to have put into such a square or disc, no proof; None where no list tells.
    """

    kind: Kind
    ceiling: int
    families: tuple[str, ...] = ()
    direction: Direction = "best"
    alike: bool = False
    shape: Literal["", "square", "disc"] = ""
    record: int | None = None


def prove(
    bed: Bed, layout: RaftLayout, *, plants: int, in_pattern: int, ceiling: int | None
) -> Proof | None:
    """Tell what is proved of a bed; None without planting.

    ``in_pattern`` are the pattern's sites before holes were moved, added or left out by hand; what
    is known of the pattern is said only while there are as many plants.
    """
    planting = bed.planting
    if planting is None or ceiling is None:
        return None
    alike = planting.joints == "interchangeable" and len(layout.rafts) > 1
    shape, record = _record(bed, layout, planting)
    kind: Kind = "open"
    families: Sequence[str] = ()
    if plants >= ceiling:
        kind = "full"
    elif plants == in_pattern and not bed.zones and _apart(bed, layout, planting):
        found, margin = keep_outs(bed), limits_of(planting).margin
        plain = not any(
            near_raft(raft, found, margin) or not raft.shape.is_rectangle for raft in layout.rafts
        )
        families = (_ROWS if plain else _LATTICES)[planting.pattern]
        if families:
            kind = "rows" if plain else "shift"
    return Proof(kind, ceiling, tuple(families), planting.rows, alike, shape, record)


def _apart(bed: Bed, layout: RaftLayout, planting: Planting) -> bool:
    """Whether every raft is laid by itself: joints ask for no more than the edge margin gives."""
    if len(layout.rafts) < 2 or planting.joints == "separate":
        return True
    limits = limits_of(planting)
    return seam_margin(limits.spacing, bed.joint_gap.exact) <= limits.margin


def _record(
    bed: Bed, layout: RaftLayout, planting: Planting
) -> tuple[Literal["", "square", "disc"], int | None]:
    if len(layout.rafts) != 1 or keep_outs(bed) or bed.zones:
        return "", None
    limits, raft = limits_of(planting), layout.rafts[0].shape
    if raft.is_rectangle and raft.length == raft.width:
        side = raft.length - 2 * limits.margin
        return "square", best_known_in_square(side, limits.spacing)
    radius = full_circle(raft.loop)
    if radius is not None:
        return "disc", best_known_in_disc(Fraction(radius) - limits.margin, limits.spacing)
    return "", None
