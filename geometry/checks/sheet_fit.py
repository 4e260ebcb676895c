"""Is there a sheet for every raft?"""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from geometry.checks.finding import Finding
from geometry.cutting.plan import CutPlan
from geometry.model.sheet import Cutting, Sheet

Size = tuple[Fraction, Fraction]


def check_sheet_fit(
    cut: CutPlan, sizes: Mapping[str, Size], sheets: Sequence[Sheet], cutting: Cutting
) -> Iterator[Finding]:
    """Yield a finding for every size of raft that is left without a sheet.

    ``sizes`` gives length and width by raft design; the finding's raft is the first design of
    that size. A problem when the raft is larger than every sheet less its trim: the amount is the
    side that is too long, the limit the most that the nearest sheet gives, the subject that
    sheet. What a sheet gives is counted on the smallest board, less two trims. A question without
    numbers when the sheets on hand are used up. A project that lists no sheets has nothing to
    find.
    """
    if not sheets:
        return
    told: set[Size] = set()
    for design, _ in cut.unplaced:
        size = sizes[design]
        if size in told:
            continue
        told.add(size)
        over = [_over(size, sheet, cutting) for sheet in sheets]
        nearest = min(range(len(sheets)), key=lambda k: over[k][0] - over[k][1])
        amount, limit = over[nearest]
        too_large = amount > limit
        yield Finding(
            code="sheet-fit",
            severity="problem" if too_large else "question",
            bed="",
            raft=design,
            subject=sheets[nearest].name if too_large else "",
            amount_mm=float(amount) if too_large else None,
            limit_mm=float(limit) if too_large else None,
        )


def _over(size: Size, sheet: Sheet, cutting: Cutting) -> tuple[Fraction, Fraction]:
    """Give the side of a raft that a sheet lacks most, and what the sheet gives for it."""
    usable = tuple(side - 2 * cutting.trim.exact for side in sheet.least)
    ways = [size, size[::-1]] if cutting.turn else [size]
    worst = [max(zip(way, usable, strict=True), key=lambda pair: pair[0] - pair[1]) for way in ways]
    return min(worst, key=lambda pair: pair[0] - pair[1])
