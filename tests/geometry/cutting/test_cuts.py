"""The ordered cuts: followed on a board they yield exactly the pieces of the plan."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.cutting.cuts import Cut, cuts
from geometry.cutting.plain import plain_cut_plan
from geometry.cutting.plan import CutSheet, Piece
from geometry.errors import GeometryError
from geometry.model.sheet import Cutting, Sheet
from geometry.units import ZERO, Length

KNIFE = Cutting()
BOARD = Sheet("board", Length(Fraction(1250)), Length(Fraction(600)))

Box = tuple[Fraction, Fraction, Fraction, Fraction]


def _piece(x: int, y: int, length: int, width: int) -> Piece:
    return Piece("R", Fraction(x), Fraction(y), Fraction(length), Fraction(width), turned=False)


def _follow(board: Sheet, ordered: tuple[Cut, ...]) -> set[Box]:
    """Cut a board as told, blade of no width: every cut must run across one whole part."""
    parts: set[Box] = {(Fraction(0), Fraction(0), board.length.exact, board.width.exact)}
    for cut in ordered:
        (x0, y0), (x1, y1) = cut.start, cut.end
        along = y0 == y1
        hit = next(
            part
            for part in parts
            if (along and part[1] < y0 < part[3] and part[0] <= x0 and x1 <= part[2])
            or (not along and part[0] < x0 < part[2] and part[1] <= y0 and y1 <= part[3])
        )
        parts.remove(hit)
        left, bottom, right, top = hit
        if along:
            parts |= {(left, bottom, right, y0), (left, y0, right, top)}
        else:
            parts |= {(left, bottom, x0, top), (x0, bottom, right, top)}
    return parts


def test_a_board_of_two_rafts_takes_three_cuts() -> None:
    sheet = CutSheet(BOARD, (_piece(0, 0, 581, 560), _piece(584, 0, 581, 560)), copies=1)

    ordered = cuts(sheet, Cutting(Length.of(3)))

    assert [cut.number for cut in ordered] == [1, 2, 3]
    assert [cut.measure for cut in ordered] == [560, 581, 581]
    assert [cut.start[0] for cut in ordered] == [0, 581, 1165]
    assert [cut.start[1] for cut in ordered] == [560, 0, 0]
    assert [cut.end[1] for cut in ordered] == [560, 560, 560]


def test_a_raft_as_large_as_the_board_takes_none() -> None:
    assert cuts(CutSheet(BOARD, (_piece(0, 0, 1250, 600),), copies=1), KNIFE) == ()


def test_trimming_comes_first_and_makes_the_edges_true() -> None:
    ordered = cuts(
        CutSheet(BOARD, (_piece(10, 10, 1230, 580),), copies=1), Cutting(trim=Length.of(10))
    )

    assert [cut.measure for cut in ordered] == [10, 10, 580, 1230]


def test_pieces_that_lie_like_a_pinwheel_are_refused() -> None:
    wheel = (
        _piece(0, 0, 400, 200),
        _piece(400, 0, 200, 400),
        _piece(200, 400, 400, 200),
        _piece(0, 200, 200, 400),
        _piece(200, 200, 200, 200),
    )
    square = Sheet("square", Length(Fraction(600)), Length(Fraction(600)))

    with pytest.raises(GeometryError, match="straight cuts"):
        cuts(CutSheet(square, wheel, copies=1), KNIFE)


@given(
    rafts=st.lists(
        st.tuples(st.integers(100, 1250), st.integers(100, 600), st.integers(1, 6)),
        min_size=1,
        max_size=4,
    ),
    trim=st.sampled_from([0, 5]),
)
def test_following_the_cuts_yields_the_pieces(rafts: list[tuple[int, int, int]], trim: int) -> None:
    needed = [
        (str(index), Fraction(length), Fraction(width), count)
        for index, (length, width, count) in enumerate(rafts)
    ]
    cutting = Cutting(ZERO, Length(Fraction(trim)))
    plan = plain_cut_plan(needed, (BOARD,), cutting)

    for sheet in plan.sheets:
        parts = _follow(sheet.sheet, cuts(sheet, cutting))
        boxes = {(p.x, p.y, p.x + p.length, p.y + p.width) for p in sheet.pieces}
        assert boxes <= parts
