"""A workshop that follows a cut plan with a saw and tells what comes out: no planner's help."""

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations

from geometry.cutting.cuts import Cut, order_cuts
from geometry.cutting.plan import CutPlan, CutSheet
from geometry.model.sheet import Cutting, Sheet
from geometry.units import Length

Box = tuple[Fraction, Fraction, Fraction, Fraction]
Needed = list[tuple[str, Fraction, Fraction, int]]


def length(value: float | Fraction) -> Length:
    return Length(Fraction(value))


def board(
    long: float | Fraction,
    wide: float | Fraction,
    *,
    name: str = "board",
    price: int | None = None,
    quantity: int | None = None,
    tolerance: float = 0,
    offcut: bool = False,
) -> Sheet:
    return Sheet(
        name,
        length(long),
        length(wide),
        price=None if price is None else Fraction(price),
        quantity=quantity,
        tolerance=length(tolerance),
        offcut=offcut,
    )


def rafts(*wanted: tuple[float, float, int]) -> Needed:
    return [
        (f"R{number}", Fraction(long), Fraction(wide), count)
        for number, (long, wide, count) in enumerate(wanted, start=1)
    ]


def counted(plan: CutPlan) -> Counter[str]:
    return Counter(
        piece.design for cut in plan.sheets for _ in range(cut.copies) for piece in cut.pieces
    )


def sawn(
    size: tuple[Fraction, Fraction],
    ordered: Sequence[Cut],
    kerf: Fraction,
    first: tuple[Fraction, Fraction],
) -> set[Box]:
    """Saw a board as told. Every cut must run from edge to edge of one part in hand.

    A trimming cut lies where the first piece begins, at ``first``: the blade then runs on its
    other side.
    """
    parts: set[Box] = {(Fraction(0), Fraction(0), *size)}
    for cut in ordered:
        along = cut.start[1] == cut.end[1]
        assert along != (cut.start[0] == cut.end[0])
        at = cut.start[1] if along else cut.start[0]
        ends = (cut.start[0], cut.end[0]) if along else (cut.start[1], cut.end[1])
        axis = 1 if along else 0
        hit = [
            part
            for part in parts
            if part[axis] < at <= part[axis + 2]
            and part[1 - axis] == ends[0]
            and part[3 - axis] == min(ends[1], size[1 - axis])
        ]
        assert len(hit) == 1, (cut, parts)
        part = hit[0]
        parts.remove(part)
        is_trim = at == first[axis]
        assert cut.measure == at - part[axis]
        low, high = (at - kerf, at) if is_trim else (at, at + kerf)
        for start, end in ((part[axis], low), (high, part[axis + 2])):
            if start < end:
                parts.add(
                    (part[0], start, part[2], end) if along else (start, part[1], end, part[3])
                )
    return parts


def inspect(cut_sheet: CutSheet, cutting: Cutting) -> None:
    """Check one sheet: its pieces lie apart on the smallest board, and sawing yields them."""
    sheet, pieces = cut_sheet.sheet, cut_sheet.pieces
    kerf, trim = cutting.kerf.exact, cutting.trim.exact
    least = (
        sheet.length.exact - sheet.tolerance.exact,
        sheet.width.exact - sheet.tolerance.exact,
    )
    assert pieces
    assert cut_sheet.copies > 0
    boxes = [(p.x, p.y, p.x + p.length, p.y + p.width) for p in pieces]
    for left, bottom, right, top in boxes:
        assert trim <= left < right <= least[0] - trim
        assert trim <= bottom < top <= least[1] - trim
    for one, other in combinations(boxes, 2):
        beside = max(one[0] - other[2], other[0] - one[2])
        above = max(one[1] - other[3], other[1] - one[3])
        assert max(beside, above) >= kerf
    order = order_cuts(cut_sheet, cutting)
    assert [cut.number for cut in order.cuts] == list(range(1, len(order.cuts) + 1))
    for size in {least, (sheet.length.exact, sheet.width.exact)}:
        parts = sawn(size, order.cuts, kerf, (min(b[0] for b in boxes), min(b[1] for b in boxes)))
        assert set(boxes) <= parts
        rest = parts - set(boxes)
        for offcut in order.offcuts:
            left, bottom = offcut.x, offcut.y
            right, top = left + offcut.length, bottom + offcut.width
            assert any(
                part[0] <= left and part[1] <= bottom and right <= part[2] and top <= part[3]
                for part in rest
            )
    for one, other in combinations(order.offcuts, 2):
        assert (
            one.x + one.length <= other.x
            or other.x + other.length <= one.x
            or one.y + one.width <= other.y
            or other.y + other.width <= one.y
        )
    area = sum(((r - left) * (t - b) for left, b, r, t in boxes), Fraction(0))
    assert area + cut_sheet.waste_area == sheet.length.exact * sheet.width.exact
    assert sum((one.area for one in order.offcuts), Fraction(0)) <= cut_sheet.waste_area


def inspect_all(plan: CutPlan, needed: Needed, sheets: Sequence[Sheet], cutting: Cutting) -> None:
    """Check a whole plan: every raft once, no more sheets than there are, every sheet sound."""
    wanted = Counter({name: count for name, _, _, count in needed if count})
    assert counted(plan) + Counter(dict(plan.unplaced)) == wanted
    sizes = {name: (long, wide) for name, long, wide, _ in needed}
    for cut_sheet in plan.sheets:
        inspect(cut_sheet, cutting)
        for piece in cut_sheet.pieces:
            size = sizes[piece.design]
            assert (piece.length, piece.width) == (size[::-1] if piece.turned else size)
            assert cutting.turn or not piece.turned
    for sheet in sheets:
        used = sum(cut.copies for cut in plan.sheets if cut.sheet is sheet)
        assert sheet.on_hand is None or used <= sheet.on_hand
