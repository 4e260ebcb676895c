"""A raft must not break along its long side."""

from fractions import Fraction

from geometry.checks.score_lines import check_score_lines
from geometry.cutting.plain import plain_cut_plan
from geometry.model.sheet import Cutting, Score, Sheet
from geometry.units import ZERO, Length

ACROSS, ALONG = Score(across=Length.of("16 in")), Score(along=Length.of(300))


def _sheet(score: Score | None, long: int = 1200, wide: int = 1200) -> Sheet:
    return Sheet("scored", Length.of(long), Length.of(wide), score=score)


def _found(sheet: Sheet, long: int, wide: int, *, turn: bool) -> list[tuple[str, float | None]]:
    needed = [("A", Fraction(long), Fraction(wide), 1)]
    cut = plain_cut_plan(needed, (sheet,), Cutting(ZERO, ZERO, turn))
    return [(finding.subject, finding.amount_mm) for finding in check_score_lines(cut)]


def test_a_line_along_the_long_side_is_told_with_its_place() -> None:
    assert _found(_sheet(ACROSS), 500, 900, turn=False) == [("scored", 406.4)]
    assert _found(_sheet(ALONG), 900, 500, turn=False) == [("scored", 300.0)]


def test_lines_the_short_way_are_how_it_should_be() -> None:
    assert _found(_sheet(ACROSS), 900, 500, turn=False) == []
    assert _found(_sheet(ALONG), 500, 900, turn=False) == []


def test_turning_avoids_the_line() -> None:
    assert _found(_sheet(ACROSS), 500, 900, turn=True) == []


def test_a_raft_between_two_lines_is_whole() -> None:
    assert _found(_sheet(ACROSS), 400, 900, turn=False) == []


def test_a_square_raft_has_no_long_side_and_plain_boards_no_scores() -> None:
    assert _found(_sheet(ACROSS), 700, 700, turn=False) == []
    assert _found(_sheet(None), 500, 900, turn=False) == []


def test_an_edge_on_the_line_is_no_break() -> None:
    sheet = _sheet(Score(across=Length.of(500)))

    assert _found(sheet, 500, 900, turn=False) == []
    assert _found(sheet, 501, 900, turn=False) == [("scored", 500.0)]
