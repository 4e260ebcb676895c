"""The crop table against the published figures it quotes."""

from fractions import Fraction

import pytest

from geometry.crops.table import CROPS, Crop, find_crop
from geometry.units import MM_PER


@pytest.mark.parametrize("crop", CROPS, ids=lambda crop: crop.name)
def test_every_row_names_its_source_and_says_what_we_chose(crop: Crop) -> None:
    assert crop.source
    assert crop.spacing.exact > 0
    if crop.spacing_range:
        low, high = crop.spacing_range
        assert low.exact <= crop.spacing.exact <= high.exact
        assert bool(crop.chosen) == (low != high)
    for pair in (crop.density_per_m2, crop.days):
        assert pair is None or pair[0] <= pair[1]


@pytest.mark.parametrize("crop", CROPS, ids=lambda crop: crop.name)
def test_a_spacing_chosen_from_a_density_is_the_square_grid_of_it(crop: Crop) -> None:
    if "square grid" in crop.chosen and crop.density_per_m2:
        per_m2 = float(10**6 / crop.spacing.exact**2)
        assert per_m2 == pytest.approx(crop.density_per_m2[0], rel=0.03)


@pytest.mark.parametrize(
    ("name", "along", "across", "feet"),
    [
        # 36 holes in 4 x 4 ft (Shuler and others, Proc. Fla. State Hort. Soc.)
        ("lettuce, head, 8 in", 6, 6, (4, 4)),
        # 32 heads on 4 x 8 ft (UF/IFAS news, 24 November 1998)
        ("lettuce, head, 12 in", 8, 4, (8, 4)),
    ],
)
def test_a_spacing_read_off_a_board_fills_that_board_exactly(
    name: str, along: int, across: int, feet: tuple[int, int]
) -> None:
    crop = find_crop(name)
    assert crop is not None
    assert crop.spacing.exact == Fraction(feet[0], along) * MM_PER["ft"]
    assert crop.spacing.exact == Fraction(feet[1], across) * MM_PER["ft"]


@pytest.mark.parametrize(
    ("name", "holes"),
    # Rutgers Horticultural Engineering, Lettuce Production: a board of 2 x 4 ft.
    [("lettuce, first 10 days afloat", (10, 6)), ("lettuce, last 14 days afloat", (7, 3))],
)
def test_the_rutgers_boards_keep_the_spacing(name: str, holes: tuple[int, int]) -> None:
    crop = find_crop(name)
    assert crop is not None
    pitches = 4 * MM_PER["ft"] / holes[0], 2 * MM_PER["ft"] / holes[1]
    assert 0 <= min(pitches) - crop.spacing.exact < 2


def test_crops_are_found_whatever_the_capitals() -> None:
    assert find_crop(" Lettuce, HEAD ") is CROPS[0]
    assert find_crop("tobacco") is None
    assert len({crop.name.casefold() for crop in CROPS}) == len(CROPS)
