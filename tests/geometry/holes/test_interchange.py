from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.holes.interchange import Raft, best_interchangeable, legal_among_its_like
from geometry.holes.joints import lies_beside_any_neighbour
from geometry.holes.place import place_holes
from geometry.model.bed import Bed, Split
from geometry.model.outlines import Rectangle
from geometry.model.planting import Pattern, Planting
from geometry.rafts.layout import ALL_WAYS
from geometry.rafts.split import lay_rafts
from geometry.units import Length

IN_A_ROW = ((-1, 0), (1, 0))
IN_A_COLUMN = ((0, -1), (0, 1))
SPLITS = {ALL_WAYS: Split(2, 2), IN_A_ROW: Split(3, 1), IN_A_COLUMN: Split(1, 3)}


def legal(raft: Raft, xy: np.ndarray) -> bool:
    return lies_beside_any_neighbour(
        xy,
        length=raft.length,
        width=raft.width,
        joint_gap=raft.joint_gap,
        spacing=raft.spacing,
        ways=raft.ways,
    )


def within(raft: Raft, xy: np.ndarray) -> np.ndarray:
    far = np.array([raft.length, raft.width]) - raft.margin
    return ((xy >= raft.margin - 1e-6) & (xy <= far + 1e-6)).all(axis=1)


def least_gap(xy: np.ndarray) -> float:
    gaps = np.hypot(*(xy[:, None] - xy[None]).transpose(2, 0, 1))
    np.fill_diagonal(gaps, np.inf)
    return float(gaps.min(initial=np.inf))


rafts = st.builds(
    Raft,
    st.integers(120, 520).map(float),
    st.integers(120, 420).map(float),
    st.sampled_from([3.0, 10.0, 20.0, 30.0, 40.0]),
    st.sampled_from([0.0, 5.0, 10.0]),
    st.just(100.0),
    st.sampled_from([ALL_WAYS, IN_A_ROW, IN_A_COLUMN]),
)


def on_a_fine_grid(raft: Raft, steps: int) -> int:
    """The most sites of any common lattice, at any shift of a grid, legal among its like."""
    most = 0
    spacing = raft.spacing
    reach = int(2 * max(raft.length, raft.width) / spacing) + 3
    numbers = np.array(list(product(range(-reach, reach), repeat=2)))
    cells = [((spacing, 0.0), (0.0, spacing))]
    for pitch in (spacing, 1.2 * spacing, 2**0.5 * spacing, 3**0.5 * spacing):
        gap = (spacing**2 - pitch**2 / 4) ** 0.5
        cells += [((pitch, 0.0), (pitch / 2, gap)), ((0.0, pitch), (gap, pitch / 2))]
    for cell in cells:
        points = numbers @ np.array(cell)
        for shift in product(range(steps), repeat=2):
            xy = points + np.array(shift) / steps @ np.array(cell)
            own = xy[within(raft, xy)]
            if len(own) > most and legal(raft, own):
                most = len(own)
    return most


def bed_of(raft: Raft, *, pattern: Pattern = "best", spread: bool = False) -> Bed:
    """A bed in which the raft has neighbours in just its own ways."""
    split, gap = SPLITS[raft.ways], Length.of(raft.joint_gap)
    sides = (
        Length(count * Length.of(side).exact + (count - 1) * gap.exact)
        for count, side in ((split.along, raft.length), (split.across, raft.width))
    )
    return Bed(
        "B",
        Rectangle(*sides),
        joint_gap=gap,
        rafts=split,
        planting=Planting(
            Length.of(raft.spacing),
            Length.of(5),
            pattern=pattern,
            edge_margin=Length.of(raft.margin),
            joints="interchangeable",
            spread=spread,
        ),
    )


@settings(max_examples=10, deadline=None)
@given(rafts)
def test_no_lattice_on_a_fine_grid_of_shifts_holds_more(raft: Raft) -> None:
    bed = bed_of(raft)
    sites = place_holes(bed, lay_rafts(bed)).sites[0]
    assert legal(raft, sites.xy)
    assert len(sites) >= on_a_fine_grid(raft, 6)


@settings(max_examples=40, deadline=None)
@given(rafts, st.sampled_from(["hexagonal", "staggered", "mixed", "best"]), st.booleans())
def test_what_is_found_is_legal_keeps_its_distances_and_holds_more(
    raft: Raft, pattern: Pattern, spread: bool
) -> None:
    for more_than in (0, 4, 9):
        found = best_interchangeable(
            raft, pattern=pattern, direction="best", spread=spread, more_than=more_than
        )
        if found is None:
            continue
        assert len(found) > more_than
        assert within(raft, found.sites.xy).all()
        assert least_gap(found.sites.xy) >= raft.spacing - 1e-6
        assert legal(raft, found.sites.xy)


@settings(max_examples=60, deadline=None)
@given(
    rafts,
    st.lists(
        st.tuples(st.integers(0, 30), st.integers(0, 20)), min_size=1, max_size=5, unique=True
    ),
)
def test_a_legal_place_is_found_wherever_a_ruler_finds_one(
    raft: Raft, places: list[tuple[int, int]]
) -> None:
    xy = 10.0 * np.array(places, dtype=float)
    found = legal_among_its_like(raft, xy)
    if found is not None:
        assert within(raft, found).all()
        assert legal(raft, found)
        assert np.allclose(found - found[0], xy - xy[0])
        return
    own = xy - xy.min(axis=0) + raft.margin
    free = np.array([raft.length, raft.width]) - 2 * raft.margin - (own - raft.margin).max(axis=0)
    if free.min() < 0:
        return
    for x, y in product(np.linspace(0, free[0], 9), np.linspace(0, free[1], 9)):
        assert not legal(raft, own + np.array([x, y]))


def test_rafts_in_a_row_keep_half_a_spacing_at_their_ends_only() -> None:
    """520 x 180: 5 columns between seams; 2 rows in 140 mm, 1 in 80 between seams (by hand)."""
    raft = Raft(520.0, 180.0, 20.0, 0.0, 100.0)
    counts = [
        len(place_holes(bed, lay_rafts(bed)).sites[0])
        for bed in (
            bed_of(replace(raft, ways=IN_A_ROW), pattern="square"),
            bed_of(raft, pattern="square"),
        )
    ]
    assert counts == [10, 5]


def test_rows_that_run_on_through_all_rafts_need_no_seam() -> None:
    """Four columns 60 apart and four rows 80 apart: every 240 and 320 the board begins anew.

    3-4-5: neighbours across are exactly 100 apart. With half the spacing at each joint a raft of
    240 x 320 holds 3 x 3 at most (140 / 100, 220 / 100 and whatever stagger), here it holds 8.
    """
    raft = Raft(240.0, 320.0, 20.0, 0.0, 100.0)
    found = best_interchangeable(
        raft, pattern="staggered", direction="best", spread=False, more_than=0
    )
    assert found is not None
    assert len(found) >= 8
    assert legal(raft, found.sites.xy)


@pytest.mark.parametrize("spread", [False, True])
def test_opening_up_loses_nothing(spread: bool) -> None:
    bed = bed_of(Raft(600.0, 380.0, 20.0, 5.0, 100.0), spread=spread)
    pattern = place_holes(bed, lay_rafts(bed))
    assert pattern.tried[0].plants == 4 * len(pattern.sites[0])
    assert len(pattern.sites[0]) == len(
        place_holes(bed_of(Raft(600.0, 380.0, 20.0, 5.0, 100.0)), lay_rafts(bed)).sites[0]
    )
