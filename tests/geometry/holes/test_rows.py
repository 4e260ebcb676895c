"""Row patterns on rectangles: exact counts, legal sites, the published and worked tables."""

import math
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.errors import TooManyError
from geometry.holes.row_pattern import RowPattern
from geometry.holes.rows import best_rows
from geometry.model.planting import Direction, Pattern

INCH = Fraction(254, 10)


def count(
    width: Fraction | int,
    height: Fraction | int,
    spacing: Fraction | int,
    pattern: Pattern = "best",
    direction: Direction = "best",
) -> int:
    found = best_rows(
        Fraction(width), Fraction(height), Fraction(spacing), pattern=pattern, direction=direction
    )
    return found[0].count if found else 0


def most_gaps(height: Fraction, squared_gap: Fraction) -> int:
    """Most gaps n with n^2 * gap^2 <= height^2, by bisection only."""
    low, high = 0, 1
    while high**2 * squared_gap <= height**2:
        high *= 2
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if middle**2 * squared_gap <= height**2 else (low, middle)
    return low


def staggered_by_the_book(w: Fraction, h: Fraction, d: Fraction) -> int:
    """Section 3 of the packing facts, item 3, word for word, for rows along w."""
    best = 0
    for k in range(1, int(w // d) + 2):
        cases = []
        if k >= 2 and (k - 1) * d <= w:
            cases.append((k - 1, w / (k - 1) / 2))
        if w >= (k - Fraction(1, 2)) * d:
            cases.append((k, w / (k - Fraction(1, 2)) / 2))
        elif (k - 1) * d <= w:
            cases.append((k, w - (k - 1) * d))
        if k == 1:
            cases.append((1, w))
        for short, offset in cases:
            near = max(Fraction(0), d**2 - offset**2)
            rows = most_gaps(h, max(d**2 / 4, near)) + 1
            if near <= h**2:
                rows = max(rows, 2)
            best = max(best, (rows + 1) // 2 * k + rows // 2 * short)
    return best


def mixed_by_the_book(w: Fraction, h: Fraction, d: Fraction) -> int:
    """Item 4 of the same section, joined with item 3: every k and every t, the largest s."""
    best = staggered_by_the_book(w, h, d)
    for k in range(2, int(w // d) + 2):
        near = max(Fraction(0), d**2 - (w / (k - 1) / 2) ** 2)
        for t in range(int(2 * h // d) + 2):
            squared = near if t == 1 else max(d**2 / 4, near)
            fitting = [s for s in range(int(h // d) + 1) if t**2 * squared <= (h - s * d) ** 2]
            if fitting:
                best = max(best, k * (t + fitting[-1] + 1) - (t + 1) // 2)
    return best


def square_by_the_book(w: Fraction, h: Fraction, d: Fraction) -> int:
    return int((w // d + 1) * (h // d + 1))


def hexagonal_by_the_book(w: Fraction, h: Fraction, d: Fraction) -> int:
    rows = most_gaps(h, d**2 * Fraction(3, 4)) + 1
    short = int((w - d / 2) // d) + 1 if w >= d / 2 else 0
    return int((rows + 1) // 2 * (w // d + 1) + rows // 2 * short)


BY_THE_BOOK = {
    "square": square_by_the_book,
    "hexagonal": hexagonal_by_the_book,
    "staggered": staggered_by_the_book,
    "mixed": mixed_by_the_book,
    "best": mixed_by_the_book,
}

lengths = st.one_of(
    st.fractions(0, 700, max_denominator=16),
    st.integers(0, 7000).map(lambda n: Fraction(n, 10)),
    st.integers(0, 11).map(lambda n: n * Fraction(125, 2)),
)
spacings = st.one_of(
    st.fractions(60, 400, max_denominator=16), st.sampled_from([Fraction(125), Fraction(125, 2)])
)
patterns = st.sampled_from(sorted(BY_THE_BOOK))


@settings(deadline=None)
@given(w=lengths, h=lengths, d=spacings, pattern=patterns)
def test_counts_are_those_of_the_book(
    w: Fraction, h: Fraction, d: Fraction, pattern: Pattern
) -> None:
    along = BY_THE_BOOK[pattern](w, h, d)
    across = BY_THE_BOOK[pattern](h, w, d)

    assert count(w, h, d, pattern, "along") == along
    assert count(w, h, d, pattern, "across") == across
    assert count(w, h, d, pattern) == max(along, across)


def least_distance(found: RowPattern) -> float:
    xy = found.sites().xy
    apart = np.hypot(*(xy[:, None, :] - xy[None, :, :]).transpose(2, 0, 1))
    np.fill_diagonal(apart, math.inf)
    return float(apart.min())


@settings(deadline=None)
@given(
    w=lengths,
    h=lengths,
    d=spacings,
    pattern=st.sampled_from(["square", "rectangular", "hexagonal", "staggered", "mixed", "best"]),
    wider=st.fractions(0, 200, max_denominator=8),
)
def test_every_pattern_is_legal_and_ordered(
    w: Fraction, h: Fraction, d: Fraction, pattern: Pattern, wider: Fraction
) -> None:
    found = best_rows(w, h, d, pattern=pattern, direction="best", row_spacing=d + wider)

    assert [one.count for one in found] == sorted((one.count for one in found), reverse=True)
    for one in found:
        sites = one.sites()
        assert len(sites) == one.count == sum(one.counts)
        assert least_distance(one) >= float(d) - 1e-6
        assert sites.xy.min() >= 0
        assert sites.xy[:, 0].max() <= float(w) + 1e-6
        assert sites.xy[:, 1].max() <= float(h) + 1e-6
        axis = 0 if one.direction == "along" else 1
        order = np.lexsort((sites.xy[:, axis], sites.rows))
        assert np.array_equal(order, np.arange(one.count))
        assert sorted(set(sites.rows.tolist())) == list(range(len(one.counts)))


@settings(deadline=None)
@given(w=lengths, h=lengths, d=spacings, pattern=patterns)
def test_swapping_the_sides_swaps_the_direction(
    w: Fraction, h: Fraction, d: Fraction, pattern: Pattern
) -> None:
    along = best_rows(w, h, d, pattern=pattern, direction="along")[0]
    across = best_rows(h, w, d, pattern=pattern, direction="across")[0]

    assert along.count == across.count
    assert np.array_equal(along.sites().xy, across.sites().xy[:, ::-1])


@settings(deadline=None)
@given(
    w=lengths,
    h=lengths,
    d=spacings,
    wider=st.fractions(0, 50, max_denominator=100),
    pattern=patterns,
)
def test_a_wider_spacing_never_holds_more(
    w: Fraction, h: Fraction, d: Fraction, wider: Fraction, pattern: Pattern
) -> None:
    assert count(w, h, d + wider, pattern) <= count(w, h, d, pattern)


@settings(deadline=None)
@given(
    w=lengths,
    h=lengths,
    d=spacings,
    pattern=patterns,
    direction=st.sampled_from(["along", "across"]),
)
def test_the_widest_spacing_is_the_threshold(
    w: Fraction, h: Fraction, d: Fraction, pattern: Pattern, direction: Direction
) -> None:
    """Closed forms of section 6 of the packing facts: the rows fit at the limit, not above it.

    At the limit nothing of the same family holds fewer; just above, this very row count is lost.
    """
    for found in best_rows(w, h, d, pattern=pattern, direction=direction):
        sides = (w, h) if direction == "along" else (h, w)
        widest = found.rows.widest(float(sides[0]), float(sides[1]))
        if found.count == 1:
            assert widest == math.inf
            continue
        assert widest >= float(d) * (1 - 1e-12)
        family = "staggered" if found.family == "staggered" else pattern
        below = Fraction(widest) * (1 - Fraction(1, 10**9))
        assert count(w, h, below, family, direction) >= found.count
        if pattern == found.family != "mixed" and found.family != "staggered":
            above = Fraction(widest) * (1 + Fraction(1, 10**9))
            assert count(w, h, above, found.family, direction) < found.count


@settings(deadline=None)
@given(w=lengths, h=lengths, d=spacings)
def test_the_widest_of_all_staggers_is_the_threshold(w: Fraction, h: Fraction, d: Fraction) -> None:
    """The count of a family falls just above the widest of its ties (section 6 again).

    With less height than a spacing a row may open into a flat zigzag, which is left out as long as
    its sites would stand on one line.
    """
    assume(h >= d)
    for family in ("staggered", "mixed"):
        most = count(w, h, d, family, "along")
        if most == 1:
            continue
        tied = [
            one
            for one in best_rows(w, h, d, pattern=family, direction="along")
            if one.count == most
        ]
        widest = max(one.rows.widest(float(w), float(h)) for one in tied)
        just_above = Fraction(widest) * (1 + Fraction(1, 10**6))
        assert count(w, h, just_above, family, "along") < most


TABLE = """
510 510 295 4 4 4 6 6
520 520 150 16 18 18 18 18
1000 500 100 66 63 66 67 68
1143 571.5 190.5 28 26 25 28 28
2340 1120 220 66 66 72 74 74
1100 500 130 36 43 40 45 45
900 86.6 100 10 10 11 18 18
900 86.7 100 10 19 11 19 19
0.9 0.6 0.1 70 67 72 72 73
"""


@pytest.mark.parametrize("line", TABLE.split("\n")[1:-1])
def test_the_worked_table(line: str) -> None:
    """Table of section 3 of the packing facts (recounted there as explicit points)."""
    w, h, d, *counts = (Fraction(word) for word in line.split())

    assert [
        count(w, h, d, "square"),
        count(w, h, d, "hexagonal", "along"),
        count(w, h, d, "hexagonal", "across"),
        count(w, h, d, "staggered"),
        count(w, h, d, "mixed"),
    ] == counts


def test_a_tenth_of_a_nanometre_decides() -> None:
    """Ten gaps of 100 sqrt(3)/2 are 866.02540378...: section 4 of the packing facts."""
    assert (
        len(
            best_rows(
                Fraction(0),
                Fraction("866.0254037"),
                Fraction(100),
                pattern="hexagonal",
                direction="along",
            )
        )
        == 1
    )
    rows = [
        len(
            best_rows(
                Fraction(100), Fraction(h), Fraction(100), pattern="hexagonal", direction="along"
            )[0].counts
        )
        for h in ("866.0254037", "866.0254038")
    ]

    assert rows == [10, 11]


@pytest.mark.parametrize("gaps", [1, 3, 6, 7, 10, 13])
@pytest.mark.parametrize(
    "spacing", [Fraction("7.5") * INCH, Fraction("47.625") * INCH, Fraction(1, 10)]
)
def test_exact_fits_keep_their_last_row(gaps: int, spacing: Fraction) -> None:
    assert count(gaps * spacing, 0, spacing) == gaps + 1
    assert count(gaps * spacing, gaps * spacing, spacing, "square") == (gaps + 1) ** 2
    nearly = gaps * spacing - Fraction(1, 10**12)
    assert count(nearly, 0, spacing) == gaps


def test_no_room_and_hardly_any_room() -> None:
    assert best_rows(Fraction(-1), Fraction(5), Fraction(1), pattern="best", direction="best") == ()
    assert count(0, 0, 200) == 1
    assert count(0, 400, 200) == count(400, 0, 200) == 3
    assert (
        best_rows(Fraction(400), Fraction(400), Fraction(100), pattern="rings", direction="best")
        == ()
    )


def test_rectangular_rows_keep_both_distances() -> None:
    found = best_rows(
        Fraction(1000),
        Fraction(610),
        Fraction(150),
        pattern="rectangular",
        direction="along",
        row_spacing=Fraction(200),
    )[0]

    assert found.counts == (7, 7, 7, 7)
    assert (found.pitch, found.row_gap) == (150, 200)


def test_on_equal_counts_the_easier_pattern_wins() -> None:
    """2 x 4 ft, 8 in: rows 16 x 40 in at 4 in margin; square 18 beats the staggers or ties."""
    found = best_rows(40 * INCH, 16 * INCH, 8 * INCH, pattern="best", direction="best")

    assert (found[0].family, found[0].count) == ("square", 18)
    ties = [one.family for one in found if one.count == found[0].count]
    ranks = ["square", "hexagonal", "staggered", "mixed"]
    assert all(ranks.index(a) <= ranks.index(b) for a, b in pairwise(ties))


def test_rows_filled_one_by_one_are_square_rows_here() -> None:
    assert count(1000, 500, 100, "rows") == count(1000, 500, 100, "square")


def test_more_sites_than_a_project_may_hold_are_refused() -> None:
    with pytest.raises(TooManyError, match="2\u202f000\u202f000"):
        count(10**6, 10**6, 1)
