"""The plain cut plan against published and hand-made cases, and against its own promises."""

from collections import Counter
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.cutting.cuts import cuts
from geometry.cutting.plain import plain_cut_plan
from geometry.cutting.plan import CutPlan
from geometry.model.sheet import Cutting, Sheet
from geometry.units import Length

FOOT = Fraction(3048, 10)

Needed = list[tuple[str, Fraction, Fraction, int]]


def _length(value: float | Fraction) -> Length:
    return Length(Fraction(value))


def _sheet(
    length: float | Fraction,
    width: float | Fraction,
    *,
    name: str = "board",
    price: int | None = None,
    quantity: int | None = None,
) -> Sheet:
    return Sheet(
        name,
        _length(length),
        _length(width),
        price=None if price is None else Fraction(price),
        quantity=quantity,
    )


def _cutting(kerf: float = 0, trim: float = 0, *, turn: bool = True) -> Cutting:
    return Cutting(_length(kerf), _length(trim), turn)


def _needed(*rafts: tuple[float, float, int]) -> Needed:
    return [
        (f"R{index}", Fraction(length), Fraction(width), count)
        for index, (length, width, count) in enumerate(rafts, start=1)
    ]


def _counted(plan: CutPlan) -> Counter[str]:
    return Counter(
        piece.design for cut in plan.sheets for _ in range(cut.copies) for piece in cut.pieces
    )


def test_four_school_rafts_come_out_of_two_boards() -> None:
    # Source: job map, invented user A (581 x 560 mm, two per 1250 x 600 board).
    plan = plain_cut_plan(_needed((581, 560, 4)), (_sheet(1250, 600),), _cutting(kerf=3))

    assert plan.sheet_count == 2
    assert [cut.copies for cut in plan.sheets] == [2]
    assert not plan.unplaced


def test_eight_quarter_sheets_fill_two_sheets_without_kerf() -> None:
    rafts = [("Q", 4 * FOOT, 2 * FOOT, 8)]

    plan = plain_cut_plan(rafts, (_sheet(8 * FOOT, 4 * FOOT),), _cutting())

    assert plan.sheet_count == 2


def test_kerf_takes_the_fourth_quarter_but_not_the_half() -> None:
    sheet = (_sheet(8 * FOOT, 4 * FOOT),)
    half_width = 2 * FOOT - Fraction(3, 2)

    quarters = plain_cut_plan([("Q", 4 * FOOT, 2 * FOOT, 4)], sheet, _cutting(kerf=3))
    halves = plain_cut_plan([("H", 8 * FOOT, half_width, 4)], sheet, _cutting(kerf=3))

    # 2 x (2 ft - 1.5 mm) and one kerf of 3 mm fill 4 ft exactly; the full length needs no kerf.
    assert quarters.sheet_count == 2
    assert halves.sheet_count == 2


def test_trim_is_lost_on_every_edge() -> None:
    exact = plain_cut_plan(_needed((1230, 580, 1)), (_sheet(1250, 600),), _cutting(trim=10))
    over = plain_cut_plan(_needed((1230.5, 580, 1)), (_sheet(1250, 600),), _cutting(trim=10))

    assert exact.sheet_count == 1
    assert exact.sheets[0].pieces[0].x == 10
    assert exact.sheets[0].pieces[0].y == 10
    assert over.sheet_count == 0
    assert over.unplaced == (("R1", 1),)


# Source: the reference cutting cases raft-cut-01, 08 and 04, their optimum proved by enumeration of
# all guillotine patterns and a covering integer program.
@pytest.mark.parametrize(
    ("length", "width", "rafts", "optimum"),
    [
        (2440, 1220, [(600, 600, 20)], 3),
        (1200, 600, [(390, 290, 30)], 5),
        (2440, 1220, [(900, 450, 20), (600, 400, 20)], 6),
    ],
)
def test_proved_optima_are_reached(
    length: int, width: int, rafts: list[tuple[float, float, int]], optimum: int
) -> None:
    plan = plain_cut_plan(_needed(*rafts), (_sheet(length, width),), _cutting(kerf=3))

    assert plan.sheet_count == optimum


def test_the_plain_plan_says_no_more_than_it_is() -> None:
    # Source: the reference cutting case raft-cut-10; its proved optimum is 11 sheets.
    rafts = _needed((450, 300, 16), (580, 280, 12), (350, 350, 12))

    plan = plain_cut_plan(rafts, (_sheet(1200, 600),), _cutting(kerf=3))

    assert 11 <= plan.sheet_count <= 13


def test_turning_a_raft_needs_leave() -> None:
    rafts, sheets = _needed((600, 1000, 2)), (_sheet(1250, 600),)

    turned = plain_cut_plan(rafts, sheets, _cutting())
    straight = plain_cut_plan(rafts, sheets, _cutting(turn=False))

    assert turned.sheet_count == 2
    assert all(piece.turned for cut in turned.sheets for piece in cut.pieces)
    assert turned.sheets[0].pieces[0].length == 1000
    assert turned.sheets[0].pieces[0].width == 600
    assert straight.unplaced == (("R1", 2),)


def test_without_turning_rows_may_still_run_across_the_sheet() -> None:
    # Two columns of 500 hold 5 pieces of 200 each; rows of full length would waste nothing either.
    plan = plain_cut_plan(_needed((500, 200, 10)), (_sheet(1000, 1000),), _cutting(turn=False))

    assert plan.sheet_count == 1
    assert not any(piece.turned for piece in plan.sheets[0].pieces)


def test_equal_rafts_of_other_designs_share_a_sheet() -> None:
    rafts = [("A", Fraction(600), Fraction(300), 1), ("B", Fraction(300), Fraction(600), 1)]

    plan = plain_cut_plan(rafts, (_sheet(600, 600),), _cutting())

    assert plan.sheet_count == 1
    assert {(piece.design, piece.turned) for piece in plan.sheets[0].pieces} == {
        ("A", False),
        ("B", True),
    }


def test_pieces_left_over_end_the_rows_that_stand() -> None:
    plan = plain_cut_plan(_needed((800, 500, 1), (390, 300, 1)), (_sheet(1200, 500),), _cutting(3))

    assert plan.sheet_count == 1


def test_quantities_on_hand_are_kept() -> None:
    offcut = _sheet(700, 700, name="offcut", quantity=1)

    few = plain_cut_plan(_needed((600, 600, 3)), (offcut,), _cutting())
    more = plain_cut_plan(_needed((600, 600, 3)), (offcut, _sheet(1250, 600)), _cutting())

    assert few.sheet_count == 1
    assert few.unplaced == (("R1", 2),)
    assert sorted((cut.sheet.name, cut.copies) for cut in more.sheets) == [
        ("board", 1),
        ("offcut", 1),
    ]


def test_the_cheapest_sheet_per_raft_area_is_cut_first() -> None:
    dear = _sheet(1250, 600, name="dear", price=30)
    cheap = _sheet(620, 600, name="cheap", price=10)

    plan = plain_cut_plan(_needed((600, 600, 4)), (dear, cheap), _cutting())

    assert [(cut.sheet.name, cut.copies) for cut in plan.sheets] == [("cheap", 4)]


def test_without_prices_few_sheets_are_cut() -> None:
    large, small = _sheet(1250, 600, name="large"), _sheet(620, 600, name="small")

    plan = plain_cut_plan(_needed((600, 600, 5)), (small, large), _cutting())

    assert [(cut.sheet.name, cut.copies) for cut in plan.sheets] == [("large", 2), ("small", 1)]


def test_a_raft_that_only_one_sheet_holds_is_not_robbed_of_it() -> None:
    long_one = _sheet(2500, 300, name="long", quantity=1)
    wide = _sheet(700, 700, name="wide")

    plan = plain_cut_plan(_needed((290, 290, 8), (2400, 100, 1)), (long_one, wide), _cutting())

    assert not plan.unplaced


def test_no_sheets_place_nothing_and_no_rafts_need_none() -> None:
    assert plain_cut_plan(_needed((600, 600, 3)), (), _cutting()).unplaced == (("R1", 3),)
    assert plain_cut_plan([], (_sheet(1250, 600),), _cutting()) == CutPlan(bound=Fraction(0))


def test_thousands_of_equal_rafts_are_counted_not_drawn_one_by_one() -> None:
    rafts = [("Q", 4 * FOOT, 2 * FOOT, 3400)]

    plan = plain_cut_plan(rafts, (_sheet(8 * FOOT, 4 * FOOT),), _cutting())

    assert plan.sheet_count == 850
    assert len(plan.sheets) == 1


_sides = st.integers(50, 1300)
_rafts = st.lists(st.tuples(_sides, _sides, st.integers(1, 5)), min_size=1, max_size=5)


@given(
    rafts=_rafts,
    kerf=st.sampled_from([0, 0.5, 3]),
    trim=st.sampled_from([0, 10]),
    turn=st.booleans(),
)
def test_every_raft_is_cut_once_apart_from_the_others_by_straight_cuts(
    rafts: list[tuple[float, float, int]], kerf: float, trim: float, turn: bool
) -> None:
    needed = _needed(*rafts)
    sheets = (_sheet(1250, 600), _sheet(2440, 1220, name="large", quantity=2))

    plan = plain_cut_plan(needed, sheets, _cutting(kerf, trim, turn=turn))

    cut, missing = _counted(plan), Counter(dict(plan.unplaced))
    assert cut + missing == Counter({name: count for name, _, _, count in needed})
    assert plan.sheet_count <= cut.total()
    sizes = {name: (length, width) for name, length, width, _ in needed}
    for sheet in plan.sheets:
        for piece in sheet.pieces:
            size = sizes[piece.design]
            assert (piece.length, piece.width) == (size[::-1] if piece.turned else size)
            assert turn or not piece.turned
            assert piece.x >= trim
            assert piece.y >= trim
            assert piece.x + piece.length <= sheet.sheet.length.exact - Fraction(trim)
            assert piece.y + piece.width <= sheet.sheet.width.exact - Fraction(trim)
        for one, other in combinations(sheet.pieces, 2):
            beside = max(one.x - other.x - other.length, other.x - one.x - one.length)
            above = max(one.y - other.y - other.width, other.y - one.y - one.width)
            assert max(beside, above) >= Fraction(kerf)
        assert len(cuts(sheet, _cutting(kerf, trim, turn=turn))) <= 4 + 3 * len(sheet.pieces)


def test_rafts_with_a_denominator_each_are_cut_within_the_tolerance() -> None:
    """Rafts of odd outlines have such sides: a unit that suits them all is beyond any float."""
    needed = [
        (
            f"R{n}",
            Fraction(500) + Fraction(n, 9001 + 2 * n),
            Fraction(300) - Fraction(1, 9000 + n),
            1,
        )
        for n in range(1, 91)
    ]
    sheets = [
        _sheet(1250, 600, price=14),
        _sheet(2500, 1250, name="large", price=50),
    ]

    cutting = _cutting(3)
    plan = plain_cut_plan(needed, sheets, cutting)

    assert _counted(plan) == {design: 1 for design, *_ in needed}
    exact = {design: {length, width} for design, length, width, _ in needed}
    for cut in plan.sheets:
        for piece in cut.pieces:
            for side in (piece.length, piece.width):
                assert min(abs(side - own) for own in exact[piece.design]) < Fraction(1, 10**6)
        assert cuts(cut, cutting)
