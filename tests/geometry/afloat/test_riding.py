"""Planted rafts in the water, against sums done by hand and the weights growers reckon with."""

from math import pi, sqrt

import numpy as np
import pytest

from geometry.afloat.corners import plane_of
from geometry.afloat.floating import float_of, half_picked
from geometry.afloat.riding import (
    HEADS_ABOVE,
    USUAL_FOAM,
    USUAL_HEAD,
    USUAL_POT,
    Afloat,
    Planted,
    lift_of,
    ride,
)
from geometry.holes.sites import Holes
from geometry.model.curves import Arc, Loop, Point
from geometry.model.limits import Limits
from tests.builders import make_grid, make_holes, make_loop, make_shape

FOOT = 304.8
USUAL = Planted()


def _ride(
    length: float, width: float, columns: int, rows: int, *, hole: float = 1e-3,
    planted: Planted = USUAL, thickness: float = 50, density: float | None = None,
) -> Afloat:  # fmt: skip
    holes = make_grid(length, width, columns=columns, rows=rows, diameter=hole)
    found = ride(
        make_shape(length, width).loop, holes, [planted],
        thickness=thickness, density=density, celsius=20, soaked=100,
    )  # fmt: skip
    assert found is not None
    return found


# Heads of 0.2 kg, wet pots with plugs of 0.12 kg, foam of 50 mm and 32 kg/m3: sums by hand.
@pytest.mark.parametrize(
    ("length", "width", "columns", "rows", "weight"),
    [(4, 2, 6, 3, 6.9), (4, 2, 7, 4, 10.1), (8, 4, 12, 6, 27.8)],
)
def test_what_full_rafts_weigh(
    length: float, width: float, columns: int, rows: int, weight: float
) -> None:
    assert (USUAL_HEAD, USUAL_POT, USUAL_FOAM) == (0.2, 0.12, 32)

    found = _ride(length * FOOT, width * FOOT, columns, rows)

    assert found.harvest.lift == pytest.approx(weight, abs=0.06)


# Draft = (t rho + n m) / 1000 by hand; water of 20 degrees is 0.2 % lighter than that.
@pytest.mark.parametrize(
    ("thickness", "mass", "draft", "freeboard"),
    [(50, 0.25, 7.9, 42.1), (25, 0.45, 12.1, 12.9), (25, 1.0, 25.8, -0.8)],
)
def test_a_square_metre_of_25_sites(
    thickness: float, mass: float, draft: float, freeboard: float
) -> None:
    planted = Planted(pot=0.05, head=mass - 0.05, hangs=50)

    found = _ride(1000, 1000, 5, 5, planted=planted, thickness=thickness)

    assert found.harvest.floating.draft == pytest.approx(draft, abs=0.06)
    assert found.harvest.floating.freeboard == pytest.approx(freeboard, abs=0.06)
    assert found.harvest.floating.sinks is (freeboard < 0)
    assert found.immersion(found.harvest, 0) == pytest.approx(50 - freeboard, abs=0.06)


def test_holes_take_their_share_of_the_foam() -> None:
    # 25 holes of 50 mm take 4.9 % of a square metre.
    found = _ride(1000, 1000, 5, 5, hole=50)

    assert found.hole_share == pytest.approx(0.049, abs=0.0005)
    assert found.most == pytest.approx(
        _ride(1000, 1000, 5, 5).most * (1 - found.hole_share), rel=1e-6
    )


def test_old_foam_floats_as_the_load_on_foam_of_that_weight() -> None:
    found = _ride(1200, 600, 6, 3, density=25)

    heavy = _ride(1200, 600, 6, 3, density=100)
    assert found.waterlogged.floating == heavy.harvest.floating
    assert found.waterlogged.lift == pytest.approx(heavy.harvest.lift)


def test_one_half_picked_tilts_as_an_even_load_does() -> None:
    found = _ride(1200, 600, 6, 3, density=30, planted=Planted(pot=0.0, head=0.32))

    by_hand = half_picked(found.foam, 1200, 18 * 0.32, found.water, HEADS_ABOVE)
    # Plants stand in the middles of thirds: the mean of 100, 300, 500 is that of an even load.
    assert abs(found.along.slope) == pytest.approx(by_hand.slope)
    assert found.along.low == pytest.approx(by_hand.low)
    # Across, the middle row of three stays, in the middle.
    two_thirds = 12 * 0.32
    level = float_of(found.foam, two_thirds, found.water)
    assert found.across.low < level.freeboard < found.across.high
    assert found.tilt is found.across


def test_plugged_holes_carry_nothing_and_let_water_in() -> None:
    holes = make_grid(1200, 600, columns=6, rows=3)
    plugged = np.arange(18) % 2 == 0
    half = Holes(holes.xy, holes.diameters, holes.names, holes.pinned, None, plugged)

    found = ride(
        make_shape(1200, 600).loop, half, [USUAL],
        thickness=50, density=None, celsius=20, soaked=100,
    )  # fmt: skip

    assert found is not None
    assert found.sites == (9,)
    assert found.harvest.load == pytest.approx(9 * 0.32)
    assert found.hole_share == pytest.approx(18 * pi * 25**2 / (1200 * 600))


def test_a_raft_that_is_all_holes_does_not_float() -> None:
    assert (
        ride(
            make_shape(50, 50).loop, make_holes([(25, 25)], diameter=60), [USUAL],
            thickness=50, density=None, celsius=20, soaked=100,
        )
        is None
    )  # fmt: skip


def test_what_was_not_noted_is_assumed_and_said() -> None:
    noted = Planted(pot=0.1, head=0.3)

    assert _ride(600, 600, 2, 2).assumed == ("foam", "head", "pot")
    assert _ride(600, 600, 2, 2, planted=noted, density=30).assumed == ()
    assert _ride(600, 600, 2, 2, planted=Planted(pot=0.1)).is_noted("planting")
    assert not _ride(600, 600, 2, 2, planted=Planted(pot=0.1)).is_noted("harvest")


def test_the_middle_and_the_stiffness_of_outlines_that_have_formulas() -> None:
    # Any handbook of mechanics: a disc has r² / 4, a rectangle L² / 12, a triangle h² / 18.
    disc = plane_of(Loop((Arc(Point(300, 300), 300, 0.0, 2 * pi),)))
    assert disc.centre == pytest.approx((300, 300), abs=0.01)
    assert disc.stiff[0] ** 2 / 12 == pytest.approx(300**2 / 4, rel=1e-3)
    assert disc.reach[0] == pytest.approx((300, 300), rel=1e-3)

    box = plane_of(make_loop((50, 20), (1250, 20), (1250, 620), (50, 620)))
    assert box.stiff == pytest.approx((1200, 600))

    wedge = plane_of(make_loop((0, 0), (900, 0), (0, 600)))
    assert wedge.centre == pytest.approx((300, 200))
    assert wedge.stiff == pytest.approx((900 * sqrt(12 / 18), 600 * sqrt(12 / 18)))
    assert wedge.reach == (pytest.approx((300, 600)), pytest.approx((200, 400)))


def test_who_lifts_what() -> None:
    # 23 kg: the revised NIOSH lifting equation at its best posture (1994); 30 kg: from memory.
    limits = Limits()
    one, two = float(limits.lift_one), float(limits.lift_two)

    assert [lift_of(kg, one, two) for kg in (6.9, 23.0, 23.1, 27.8, 30.0, 30.1)] == [
        "one", "one", "two", "two", "two", "more",
    ]  # fmt: skip
