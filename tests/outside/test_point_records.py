"""Row counts against the best known arrangements in a square and a 1:2 rectangle.

E. Specht's public record list (data/points-in-square.csv): the largest least distance m_N of N
points in a unit square, proved optimal up to N = 30 and for N = 36.
"""

import csv
from fractions import Fraction
from pathlib import Path

from geometry.holes.rows import best_rows

DATA = Path(__file__).parent / "data"

MET_BY_ROWS = [2, 4, 5, 6, 9, 12, 16, 18, 20, 25, 27, 30, 36, 39, 42, 52, 56, 99]
"""Where rows reach the record (section 2 of the project's packing facts)."""


def records() -> dict[int, Fraction]:
    with (DATA / "points-in-square.csv").open(encoding="utf-8", newline="") as file:
        return {int(row["n"]): Fraction(row["m_n"]) for row in csv.DictReader(file) if row["m_n"]}


def rows_at(spacing: Fraction) -> int:
    side = Fraction(1)
    return best_rows(side, side, spacing, pattern="best", direction="best")[0].count


def test_rows_never_beat_a_record() -> None:
    """Just above m_N no arrangement at all holds N points."""
    for n, distance in records().items():
        assert rows_at(distance * (1 + Fraction(1, 10**15))) < n


def test_rows_reach_the_records_that_are_rows() -> None:
    """Just below m_N; a few records hold a point more than they are listed for."""
    reached = [
        n for n, distance in records().items() if rows_at(distance * (1 - Fraction(1, 10**15))) >= n
    ]

    assert reached == MET_BY_ROWS


def test_rows_never_beat_a_record_in_a_rectangle() -> None:
    """Specht's circles in a rectangle of aspect 1:2 (data/points-in-rectangle.csv)."""
    with (DATA / "points-in-rectangle.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))

    for row in rows:
        sides = Fraction(row["centre_width"]), Fraction(row["centre_height"])
        spacing = Fraction(row["spacing"]) * (1 + Fraction(1, 10**12))
        found = best_rows(*sides, spacing, pattern="best", direction="best")
        assert found[0].count < int(row["n"])


def test_the_proved_part_is_what_it_says() -> None:
    with (DATA / "points-in-square.csv").open(encoding="utf-8", newline="") as file:
        proved = [int(row["n"]) for row in csv.DictReader(file) if row["status"].startswith("pro")]

    assert proved == [*range(2, 31), 36]
