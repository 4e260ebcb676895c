"""Oler's bound against the cases in which it is known to be met.

H. Groemer, Math. Z. 73 (1960) 285-294, N. Oler, Acta Math. 105 (1961) 19-48, and J. H. Folkman,
R. L. Graham, Canad. Math. Bull. 12 (1969) 745-752: the bound is met exactly when the hull of the
points splits into equilateral triangles of side d with all their corners in the set.
"""

import csv
import math
from fractions import Fraction
from pathlib import Path

import pytest

from geometry.holes.ceiling import oler, oler_rectangle

DATA = Path(__file__).parent / "data"


@pytest.mark.parametrize("n", range(1, 12))
@pytest.mark.parametrize("d", [1.0, 7.5 * 25.4, 200.0, 1 / 3])
def test_triangles_hexagons_and_rhombs_are_full(n: int, d: float) -> None:
    triangle = math.sqrt(3) / 4 * d**2

    assert oler(n**2 * triangle, 3 * n * d, d) == (n + 1) * (n + 2) // 2
    assert oler(6 * n**2 * triangle, 6 * n * d, d) == 3 * n**2 + 3 * n + 1
    for k in range(1, 6):
        assert oler(2 * n * k * triangle, 2 * (n + k) * d, d) == (n + 1) * (k + 1)


@pytest.mark.parametrize("n", range(12))
def test_a_line_of_points_is_full(n: int) -> None:
    assert oler_rectangle(Fraction(n), Fraction(0), Fraction(1)) == n + 1
    assert oler_rectangle(n + Fraction(999, 1000), Fraction(0), Fraction(1)) == n + 1


def records(name: str) -> list[tuple[int, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return [(int(row["n"]), row["m_n"]) for row in csv.DictReader(file) if row["m_n"]]


def test_no_record_in_a_square_beats_the_ceiling() -> None:
    """Records of E. Specht (data/points-in-square.csv); full at N = 2, 4 and 9 only.

    The record is rounded down by one unit in its last place, so that N points are sure to fit.
    """
    full = []
    for n, text in records("points-in-square.csv"):
        spacing = Fraction(text) - Fraction(1, 10**19)
        bound = oler_rectangle(Fraction(1), Fraction(1), spacing)
        assert bound >= n
        if bound == n:
            full.append(n)

    assert full == [2, 4, 9]


def test_no_record_in_a_disc_beats_the_ceiling() -> None:
    """Records of E. Specht (data/points-in-circle.csv), unit disc; full at N = 7 only."""
    full = [
        n
        for n, text in records("points-in-circle.csv")
        if oler(math.pi, 2 * math.pi, float(text)) == n
    ]
    beaten = [
        n
        for n, text in records("points-in-circle.csv")
        if oler(math.pi, 2 * math.pi, float(text)) < n
    ]

    assert full == [7]
    assert beaten == []
