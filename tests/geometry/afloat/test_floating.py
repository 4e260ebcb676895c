"""Rafts against Archimedes, published tables and a tilt worked out by pressure on slices."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.afloat.floating import (
    Foam,
    float_of,
    half_picked,
    most_load,
    tilt_of,
    waterlogged,
)
from geometry.afloat.water import WARMEST_C, water_density
from geometry.errors import GeometryError

M2 = 1e6
WATER_20 = 998.2

# The densities of water in the CRC Handbook of Chemistry and Physics, read in a copy of the list.
PUBLISHED_DENSITIES = {
    0: 999.8395,
    4: 999.9720,
    10: 999.7026,
    15: 999.1026,
    20: 998.2071,
    22: 997.7735,
    25: 997.0479,
    30: 995.6502,
}


@pytest.mark.parametrize(("celsius", "density"), PUBLISHED_DENSITIES.items())
def test_water_is_as_heavy_as_the_tables_say(celsius: float, density: float) -> None:
    assert water_density(celsius) == pytest.approx(density, abs=0.006)


@pytest.mark.parametrize("celsius", [-0.01, WARMEST_C + 0.01, float("nan")])
def test_ice_and_boiling_water_are_refused(celsius: float) -> None:
    with pytest.raises(GeometryError, match="temperature"):
        water_density(celsius)


# 25 plants a square metre of 200 g with 50 g of plug, holes left out of account.
@pytest.mark.parametrize(
    ("thickness", "density", "bare", "loaded", "awash"),
    [
        (25, 25, 0.6, 6.9, 24.3),
        (38, 25, 1.0, 7.2, 37.0),
        (50, 25, 1.3, 7.5, 48.7),
        (50, 100, 5.0, 11.3, 44.9),
    ],
)
def test_drafts_worked_out_by_hand(
    thickness: float, density: float, bare: float, loaded: float, awash: float
) -> None:
    foam = Foam(M2, thickness, density)

    assert float_of(foam, 0, WATER_20).draft == pytest.approx(bare, abs=0.05)
    assert float_of(foam, 6.25, WATER_20).draft == pytest.approx(loaded, abs=0.06)
    assert most_load(foam, WATER_20) == pytest.approx(awash, abs=0.06)


@pytest.mark.parametrize(
    ("thickness", "mass", "draft", "freeboard"),
    [(50, 0.25, 7.9, 42.1), (25, 0.45, 12.1, 12.9), (25, 1.0, 25.8, -0.8)],
)
def test_the_formula_of_the_handbook_for_a_square_metre_of_25_sites(
    thickness: float, mass: float, draft: float, freeboard: float
) -> None:
    # (t rho + n m) / 1000 with water of 1000 kg/m3 and foam of 32 kg/m3.
    at_rest = float_of(Foam(M2, thickness, 32), 25 * mass, 1000)

    assert at_rest.draft == pytest.approx(draft, abs=0.06)
    assert at_rest.freeboard == pytest.approx(freeboard, abs=0.06)
    assert at_rest.sinks is (freeboard < 0)


def test_holes_let_a_raft_down_by_the_share_of_foam_they_take() -> None:
    share = 25 * np.pi * 25**2 / M2
    assert share == pytest.approx(0.049, abs=0.0005)
    whole, drilled = Foam(M2, 50, 0), Foam(M2 * (1 - share), 50, 0)

    assert float_of(drilled, 6.25, 1000).draft == pytest.approx(
        float_of(whole, 6.25, 1000).draft / (1 - share)
    )


def test_waterlogged_foam_floats_as_foam_of_that_weight() -> None:
    dry = Foam(M2, 50, 25)

    soaked = waterlogged(dry, 100, WATER_20)

    assert float_of(soaked, 6.25, WATER_20) == float_of(Foam(M2, 50, 100), 6.25, WATER_20)
    assert waterlogged(Foam(M2, 50, 120), 100, WATER_20).soaked == 0


@given(
    st.floats(0.1, 4).map(lambda area: area * M2),
    st.floats(15, 100),
    st.floats(15, 60),
    st.floats(0, 0.95),
)
def test_what_is_pushed_aside_weighs_what_floats(
    area: float, thickness: float, density: float, share: float
) -> None:
    foam = Foam(area, thickness, density)
    load = share * most_load(foam, WATER_20)

    at_rest = float_of(foam, load, WATER_20)

    pushed_aside = at_rest.draft * area / 1e9 * WATER_20
    assert pushed_aside == pytest.approx(foam.mass(WATER_20) + load)
    assert not at_rest.sinks
    assert float_of(foam, most_load(foam, WATER_20), WATER_20).freeboard == pytest.approx(
        0, abs=1e-9
    )


@given(
    st.floats(400, 2500),
    st.floats(30, 60),
    st.floats(0.05, 0.5),
    st.floats(0.01, 0.2),
    st.floats(0, 150),
)
def test_a_tilted_raft_is_in_balance_slice_by_slice(
    length: float, thickness: float, share: float, aside: float, height: float
) -> None:
    width = 600.0
    foam = Foam(length * width, thickness, 30)
    load, offset = share * most_load(foam, WATER_20), aside * length

    tilt = tilt_of(foam, length, load, offset, WATER_20, height=height)

    if not tilt.steady or tilt.is_wet or tilt.high > thickness or tilt.angle > 3:
        return
    # The foam under water, cut into slices, pushes up; both masses push down where the tilt has
    # moved them to.
    slices = (np.arange(20_000) + 0.5) / 20_000 * length - length / 2
    slope = tilt.slope / 1000
    level = float_of(foam, load, WATER_20).draft
    under = level + slope * slices
    lift = under * width * length / 20_000 / 1e9 * WATER_20
    dry = foam.mass(WATER_20)
    # Places along the water: a point z above the lower face moves down the slope by slope * z.
    turning = (lift * (slices + slope * (under / 2 - level))).sum()
    resting = dry * slope * (thickness / 2 - level)
    resting += load * (offset + slope * (thickness + height - level))
    assert lift.sum() == pytest.approx(dry + load, rel=1e-9)
    assert turning == pytest.approx(resting, rel=2e-2, abs=1e-6)


def test_half_the_harvest_tilts_a_raft_to_the_side_that_is_left() -> None:
    # 1200 x 600 x 50 mm with 18 heads of 320 g: half of them 300 mm off the middle.
    foam = Foam(1200 * 600, 50, 30)

    tilt = half_picked(foam, 1200, 18 * 0.32, WATER_20)

    # By hand: d = (1.08 + 2.88) kg / (998.2 x 0.72 m2) = 5.51 mm,
    # I / V = 1200^2 / (12 x 5.51) = 21.8 m,
    # slope = 2.88 x 300 / (3.96 x 21.8 m) = 10.0 mm/m, which is 6 mm at each end.
    assert tilt.slope == pytest.approx(10.0, abs=0.1)
    assert tilt.low == pytest.approx(50 - 5.51 - 6.0, abs=0.1)
    assert not tilt.is_wet


def test_a_narrow_raft_under_tall_plants_tips_over() -> None:
    foam = Foam(100 * 600, 50, 30)

    assert not tilt_of(foam, 100, 1.5, 0, WATER_20, height=400).steady
