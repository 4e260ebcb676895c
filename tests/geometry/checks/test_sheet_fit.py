"""A sheet for every raft."""

from fractions import Fraction

from geometry.checks.check_all import check_cutting
from geometry.checks.finding import Finding
from geometry.cutting.plain import plain_cut_plan
from geometry.model.sheet import Cutting, Sheet
from geometry.units import ZERO, Length

_MM = Length.of
BOARD = Sheet("board", _MM(1250), _MM(600))

Needed = list[tuple[str, Fraction, Fraction, int]]


def _found(
    needed: Needed, *sheets: Sheet, trim: Length = ZERO, turn: bool = True
) -> tuple[Finding, ...]:
    cutting = Cutting(ZERO, trim, turn)
    cut = plain_cut_plan(needed, sheets, cutting)
    sizes = {name: (length, width) for name, length, width, _ in needed}
    return check_cutting(cut, sizes, sheets, cutting)


def test_rafts_that_all_have_a_sheet_find_nothing() -> None:
    assert not _found([("A", Fraction(581), Fraction(560), 4)], BOARD)


def test_a_raft_larger_than_every_sheet_is_told_with_the_side_that_lacks() -> None:
    large = Sheet("large", _MM(2400), _MM(600))

    (finding,) = _found([("A", Fraction(1200), Fraction(610), 4)], BOARD, large)

    assert finding == Finding(
        code="sheet-fit",
        severity="problem",
        bed="",
        raft="A",
        subject="board",
        amount_mm=610.0,
        limit_mm=600.0,
    )


def test_trim_and_a_raft_that_may_not_turn_count() -> None:
    (trimmed,) = _found([("A", Fraction(1245), Fraction(560), 1)], BOARD, trim=_MM(10))
    (straight,) = _found([("A", Fraction(560), Fraction(1200), 1)], BOARD, turn=False)

    assert (trimmed.amount_mm, trimmed.limit_mm) == (1245, 1230)
    assert (straight.amount_mm, straight.limit_mm) == (1200, 600)


def test_used_up_sheets_are_a_question() -> None:
    offcut = Sheet("offcut", _MM(600), _MM(600), quantity=1)

    (finding,) = _found([("A", Fraction(581), Fraction(560), 4)], offcut)

    assert (finding.severity, finding.raft, finding.subject) == ("question", "A", "")
    assert finding.amount_mm is None


def test_designs_of_one_size_are_told_of_once() -> None:
    needed = [(name, Fraction(1300), Fraction(560), 1) for name in ("A", "B", "C")]
    needed.append(("D", Fraction(1400), Fraction(560), 1))

    assert [finding.raft for finding in _found(needed, BOARD)] == ["A", "D"]


def test_a_project_without_sheets_has_nothing_to_find() -> None:
    assert not _found([("A", Fraction(581), Fraction(560), 4)])
