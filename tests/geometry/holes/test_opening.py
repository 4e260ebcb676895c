"""Opening up on odd outlines: the last shift into the middle."""

from fractions import Fraction

import numpy as np

from geometry.beds.outline import outline_loop
from geometry.holes.opening import centred
from geometry.holes.region import Part, Region
from geometry.model.outlines import Disc
from geometry.rafts.layout import Side
from geometry.units import Length

SIDES: tuple[Side, ...] = ("left", "right", "bottom", "top")


def _disc(margin: int) -> Region:
    loop = outline_loop(Disc(Length.of(1000)))
    return Region((Part(loop, dict.fromkeys(SIDES, Fraction(margin)), Fraction(margin)),), ())


def test_a_pattern_without_sites_stays_without() -> None:
    assert centred(_disc(60), np.empty((0, 2))).shape == (0, 2)


def test_a_pair_of_sites_moves_into_the_middle() -> None:
    moved = centred(_disc(60), np.array([[300.0, 480.0], [600.0, 480.0]]))

    assert np.allclose(moved.mean(axis=0), (500, 500), atol=0.1)
