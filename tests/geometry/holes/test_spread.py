"""Opened rows: legal, as wide as they go, even at walls and joints."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.holes.rectangle import place_on_rectangle
from geometry.holes.rows import best_rows
from geometry.holes.sites import Coordinates, Placement
from geometry.model.planting import Direction, Pattern
from geometry.rafts.layout import Side

INCH = 25.4
SIDES: tuple[Side, ...] = ("left", "right", "bottom", "top")


def least_distance(xy: Coordinates, other: Coordinates | None = None) -> float:
    other_xy = xy if other is None else other
    apart = np.hypot(*(xy[:, None, :] - other_xy[None, :, :]).transpose(2, 0, 1))
    if other is None:
        np.fill_diagonal(apart, math.inf)
    return float(apart.min())


def place(
    length: Fraction | float,
    width: Fraction | float,
    *,
    margin: Fraction | float = 0,
    seam: Fraction | float | None = None,
    joints: tuple[Side, ...] = (),
    gap: Fraction | float = 0,
    spacing: Fraction | float = 200,
    row_spacing: Fraction | None = None,
    pattern: Pattern = "square",
    direction: Direction = "best",
    spread: bool = True,
) -> tuple[Placement, ...]:
    at_joint = margin if seam is None else seam
    return place_on_rectangle(
        Fraction(length),
        Fraction(width),
        margins={side: Fraction(at_joint if side in joints else margin) for side in SIDES},
        joints=frozenset(joints),
        joint_gap=Fraction(gap),
        spacing=Fraction(spacing),
        row_spacing=row_spacing,
        pattern=pattern,
        direction=direction,
        spread=spread,
    )


def margins_of(xy: Coordinates, length: float, width: float) -> tuple[float, float, float, float]:
    (x0, y0), (x1, y1) = xy.min(axis=0), xy.max(axis=0)
    return float(x0), float(length - x1), float(y0), float(width - y1)


lengths = st.one_of(st.integers(300, 1500), st.sampled_from([400, 500, 600, 1200]))
patterns = st.sampled_from(["square", "rectangular", "hexagonal", "staggered", "mixed", "best"])
margins = st.integers(0, 120)
joint_sets = st.sets(st.sampled_from(SIDES)).map(lambda sides: tuple(sorted(sides)))


@settings(deadline=None)
@given(
    length=lengths,
    width=lengths,
    margin=margins,
    joints=joint_sets,
    gap=st.integers(0, 20),
    spacing=st.integers(90, 320),
    wider=st.integers(0, 100),
    pattern=patterns,
    spread=st.booleans(),
)
def test_opened_rows_are_legal(
    length: int,
    width: int,
    margin: int,
    joints: tuple[Side, ...],
    gap: int,
    spacing: int,
    wider: int,
    pattern: Pattern,
    spread: bool,
) -> None:
    """Spacing in the raft and to equal neighbours, laid as they are or turned half round."""
    seam = max(Fraction(margin), Fraction(spacing - gap, 2))
    placed = place(
        length,
        width,
        margin=margin,
        seam=seam,
        joints=joints,
        gap=gap,
        spacing=spacing,
        row_spacing=Fraction(spacing + wider),
        pattern=pattern,
        spread=spread,
    )

    for one in placed:
        xy = one.sites.xy
        sides = margins_of(xy, length, width)
        for side, left in zip(SIDES, sides, strict=True):
            assert left >= float(seam if side in joints else margin) - 1e-6
        assert least_distance(xy) >= spacing - 1e-6
        turned = np.array([length, width]) - xy
        for side, shift in (("right", (length + gap, 0)), ("top", (0, width + gap))):
            opposite = "left" if side == "right" else "bottom"
            if side in joints and opposite in joints and len(xy) > 1:
                for neighbour in (xy, turned):
                    apart = least_distance(xy, neighbour + np.array(shift))
                    assert apart >= spacing - 1e-6


@settings(deadline=None)
@given(
    length=lengths,
    width=lengths,
    margin=margins,
    seam=st.integers(0, 60),
    joints=joint_sets,
    gap=st.integers(0, 20),
    spacing=st.integers(90, 320),
    pattern=patterns,
)
def test_rows_that_fit_only_with_narrow_seams_keep_count_and_spacing(
    length: int,
    width: int,
    margin: int,
    seam: int,
    joints: tuple[Side, ...],
    gap: int,
    spacing: int,
    pattern: Pattern,
) -> None:
    def at(side: Side) -> int:
        return seam if side in joints else margin

    exact = best_rows(
        Fraction(length - at("left") - at("right")),
        Fraction(width - at("bottom") - at("top")),
        Fraction(spacing),
        pattern=pattern,
        direction="best",
    )
    placed = place(
        length,
        width,
        margin=margin,
        seam=seam,
        joints=joints,
        gap=gap,
        spacing=spacing,
        pattern=pattern,
    )

    assert [len(one) for one in placed] == [one.count for one in exact]
    for one in placed:
        assert least_distance(one.sites.xy) >= spacing - 1e-6
        for side, left in zip(SIDES, margins_of(one.sites.xy, length, width), strict=True):
            assert left >= at(side) - 1e-6


@settings(deadline=None)
@given(
    length=lengths,
    width=lengths,
    margin=margins,
    spacing=st.integers(90, 320),
    pattern=patterns,
)
def test_between_walls_the_least_distance_is_the_widest_there_is(
    length: int, width: int, margin: int, spacing: int, pattern: Pattern
) -> None:
    """The widest spacing is proved on exact counts in test_rows."""
    placed = place(length, width, margin=margin, spacing=spacing, pattern=pattern)
    exact = best_rows(
        Fraction(length - 2 * margin),
        Fraction(width - 2 * margin),
        Fraction(spacing),
        pattern=pattern,
        direction="best",
    )
    for one, rows in zip(placed, exact, strict=True):
        sides = length - 2 * margin, width - 2 * margin
        widest = rows.rows.widest(*(sides if rows.direction == "along" else sides[::-1]))
        if rows.family == "hexagonal" and rows.rows.straight:
            widest *= math.sqrt(3)  # a column without its shifted sites
        left, right, bottom, top = margins_of(one.sites.xy, length, width)
        assert least_distance(one.sites.xy) == pytest.approx(widest, abs=1e-6)
        if rows.rows.short != rows.rows.long or rows.rows.staggered == 0:
            assert left == pytest.approx(right)
            assert bottom == pytest.approx(top)


@settings(deadline=None)
@given(
    length=lengths,
    width=lengths,
    margin=st.integers(30, 120),
    joints=joint_sets,
    spacing=st.integers(90, 320),
    pattern=st.sampled_from(["square", "rectangular", "staggered", "mixed"]),
)
def test_margins_stay_within_half_a_pitch(
    length: int,
    width: int,
    margin: int,
    joints: tuple[Side, ...],
    spacing: int,
    pattern: Pattern,
) -> None:
    seam = max(Fraction(margin), Fraction(spacing - 5, 2))
    placed = place(
        length,
        width,
        margin=margin,
        seam=seam,
        joints=joints,
        gap=5,
        spacing=spacing,
        pattern=pattern,
    )
    for one in placed:
        if one.pattern == "hexagonal" or len(one) == 1 or len(set(one.sites.rows.tolist())) == 1:
            continue
        pitches = (one.pitch_mm, one.row_gap_mm)
        least = least_distance(one.sites.xy)
        x_pitch, y_pitch = pitches if one.direction == "along" else pitches[::-1]
        found = margins_of(one.sites.xy, length, width)
        for side, left, pitch in zip(
            SIDES, found, (x_pitch, x_pitch, y_pitch, y_pitch), strict=True
        ):
            columns = len(
                np.unique(one.sites.xy[:, 0 if side in {"left", "right"} else 1].round(6))
            )
            if columns > 1:
                most = max(pitch / 2, (least - 5) / 2) if side in joints else pitch / 2
                assert left <= max(most, float(seam if side in joints else margin)) + 1e-6


def columns(placed: Placement) -> list[float]:
    found: list[float] = np.unique(placed.sites.xy[:, 0].round(6)).tolist()
    return found


def test_three_holes_on_581_mm_stand_at_sixths() -> None:
    """Formula 2 of section 8 of the job map: p 193.67, e 96.83, the other axis being tighter."""
    found = place(581, 560, margin=60, spacing=180, pattern="rectangular")[0]
    tight = place(581, 500, margin=60, spacing=190)[0]

    assert columns(tight) == pytest.approx([96.8333333, 290.5, 484.1666667])
    assert tight.pitch_mm == pytest.approx(193.6667, abs=1e-4)
    assert least_distance(tight.sites.xy) == pytest.approx(190)
    assert len(found) == 9


def test_the_least_distance_comes_before_the_margins() -> None:
    found = place(581, 560, margin=60, spacing=200)[0]

    assert margins_of(found.sites.xy, 581, 560) == pytest.approx((70.5, 70.5, 60, 60))
    assert found.pitch_mm == pytest.approx(220)
    assert found.row_gap_mm == pytest.approx(220)


@pytest.mark.parametrize(
    ("pitch", "gap", "margin"),
    [(200, 6, 97), (Fraction(8) * Fraction(254, 10), Fraction(127, 10), 3.75 * INCH)],
)
def test_a_split_bed_is_even_across_its_joints(
    pitch: Fraction, gap: Fraction, margin: float
) -> None:
    """Formula 3 of section 8 of the job map: e = (p - g) / 2."""
    length = 4 * pitch - gap
    found = place(
        length,
        2 * pitch,
        margin=60,
        seam=Fraction(pitch - gap) / 2,
        joints=("left", "right"),
        gap=gap,
        spacing=pitch,
    )[0]

    assert columns(found)[0] == pytest.approx(margin)
    assert np.diff(columns(found)) == pytest.approx([float(pitch)] * 3)


def test_a_wide_pitch_leaves_half_of_it_at_a_joint() -> None:
    """Length 1174, gap 6, 5 columns: p = (L + g) / N = 236; 200 are asked for and kept up y."""
    found = place(1174, 300, margin=50, seam=97, joints=("left", "right"), gap=6, spacing=200)[0]

    assert columns(found) == pytest.approx([115, 351, 587, 823, 1059])


def test_the_edge_margin_holds_at_a_joint_too() -> None:
    found = place(1000, 400, margin=130, joints=("left", "right"), gap=0, spacing=200)[0]

    assert columns(found) == pytest.approx([130, 376.6666667, 623.3333333, 870], abs=1e-3)


def test_a_raft_at_the_end_of_a_row_is_even_at_its_joint() -> None:
    """One wall, one joint: L = p / 2 + (N - 1) p + (p - g) / 2 gives p = (L + g / 2) / N."""
    found = place(797, 300, margin=50, seam=97, joints=("right",), gap=6, spacing=200)[0]

    assert columns(found) == pytest.approx([100, 300, 500, 700])


def test_a_single_row_or_column_stands_in_the_middle() -> None:
    row = place(900, 150, margin=60, spacing=200)[0]
    column = place(150, 900, margin=60, seam=97, joints=("top",), gap=6, spacing=200)[0]

    assert row.sites.xy[:, 1].tolist() == [75] * 4
    assert column.sites.xy[:, 0].tolist() == [75] * 4
    assert place(150, 150, margin=60)[0].sites.xy.tolist() == [[75, 75]]


def test_hexagonal_rows_stay_equilateral() -> None:
    found = place(1000, 700, margin=50, spacing=170, pattern="hexagonal", direction="along")[0]

    assert found.row_gap_mm == pytest.approx(found.pitch_mm * math.sqrt(3) / 2)
    assert found.pitch_mm > 170


def test_rectangular_rows_open_in_proportion() -> None:
    found = place(
        1030,
        700,
        margin=50,
        spacing=150,
        row_spacing=Fraction(240),
        pattern="rectangular",
        direction="along",
    )[0]

    assert len(found) == 21
    assert (found.pitch_mm, found.row_gap_mm) == pytest.approx((155, 248))
    assert margins_of(found.sites.xy, 1030, 700) == pytest.approx((50, 50, 102, 102))


def test_without_spreading_the_block_keeps_its_distances_in_the_middle() -> None:
    found = place(1000, 700, margin=50, spacing=170, spread=False)[0]

    assert found.pitch_mm == found.row_gap_mm == 170
    assert margins_of(found.sites.xy, 1000, 700) == pytest.approx((75, 75, 95, 95))


def test_without_spreading_unlike_margins_shift_the_block() -> None:
    found = place(1000, 500, margin=50, seam=100, joints=("left",), spacing=170, spread=False)[0]

    assert margins_of(found.sites.xy, 1000, 500)[:2] == pytest.approx((100, 50))


def test_a_raft_without_room_has_no_pattern() -> None:
    assert place(100, 1000, margin=60) == ()
