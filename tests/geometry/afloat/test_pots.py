"""Pots in holes, against what growers drill and against the taper drawn out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.afloat.pots import Pot, immersion, saw_for, seat_of
from geometry.errors import GeometryError

INCH = 25.4
SAWS = [inches * INCH for inches in (1, 1.25, 1.375, 1.5, 1.75, 2, 2.125, 2.25, 2.5, 2.75, 3)]

# A pot sold as 2 in, and one sold as 3 in: the rims have these widths, the bodies are invented.
TWO_INCH = Pot(rim=2 * INCH, body=44.0, foot=32.0, depth=50.0)
THREE_INCH = Pot(rim=3 * INCH, body=63.0, foot=48.0, depth=75.0)


def test_saws_that_extension_advice_gives_for_two_pots() -> None:
    # 1 3/4 in for a 2 in pot, 2 1/2 in for a 3 in pot (retold extension advice).
    assert saw_for(TWO_INCH, SAWS) == pytest.approx(1.75 * INCH)
    assert saw_for(THREE_INCH, SAWS) == pytest.approx(2.5 * INCH)


def test_a_saw_as_wide_as_the_rim_lets_the_pot_through() -> None:
    assert seat_of(TWO_INCH, 2 * INCH).seat == "loose"
    assert seat_of(TWO_INCH, 2 * INCH + 0.01).seat == "falls through"
    # 2 in is 50.8 mm: a saw of 50 mm is another fit.
    assert seat_of(TWO_INCH, 50).lip == pytest.approx(0.4)


@pytest.mark.parametrize(
    ("hole", "seat"),
    [
        (31.9, "does not go in"),
        (32.0, "stands proud"),
        (42.0, "stands proud"),
        (43.0, "tight"),
        (44.0, "tight"),
        (44.4, "tight"),
        (44.5, "slip"),
        (45.9, "slip"),
        (46.0, "loose"),
        (52.0, "falls through"),
    ],
)
def test_every_fit_there_is(hole: float, seat: str) -> None:
    assert seat_of(TWO_INCH, hole).seat == seat


def test_a_plug_without_a_rim_holds_only_where_it_is_tight() -> None:
    plug = Pot(body=25, foot=22, depth=40)

    assert seat_of(plug, 25.2).seat == "tight"
    assert seat_of(plug, 25.6).seat == "falls through"
    assert saw_for(plug, [22, 25, 29]) == 25
    assert saw_for(plug, [19, 32]) is None


def test_wobble_makes_a_smaller_saw_the_right_one() -> None:
    assert saw_for(TWO_INCH, [43, 44, 45]) == 44
    assert saw_for(TWO_INCH, [43, 44, 45], allowance=1.0) == 43


@pytest.mark.parametrize(("freeboard", "under"), [(42.1, 7.9), (12.9, 37.1)])
def test_how_deep_a_pot_of_50_mm_hangs(freeboard: float, under: float) -> None:
    assert immersion(50, freeboard) == pytest.approx(under)


@pytest.mark.parametrize(
    "wrong",
    [
        {"body": 0, "depth": 50, "foot": 32},
        {"body": 44, "depth": 50, "foot": 46},
        {"body": 44, "depth": 50, "foot": 32, "rim": 40},
    ],
)
def test_pots_that_cannot_be_are_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(GeometryError):
        Pot(**wrong)


@given(st.floats(20, 80), st.floats(0.3, 1), st.floats(20, 120), st.floats(0.3, 1))
def test_where_a_taper_catches_it_is_as_wide_as_the_hole(
    body: float, foot: float, depth: float, share: float
) -> None:
    pot = Pot(body=body, foot=body * foot, depth=depth, rim=body + 6)
    hole = pot.foot + (pot.body - pot.foot) * share

    seated = seat_of(pot, hole)

    assert pot.width_at(seated.proud) == pytest.approx(hole, abs=1e-6)
    assert seated.seat in {"tight", "stands proud"}


def test_a_plug_in_a_collar_sits_in_both_holes_of_the_research_boards() -> None:
    # Rutgers University horticultural engineering, lettuce production: plugs in washer-like
    # collars, 32 mm holes at first and 38 mm at last. The sizes of the collar are invented.
    plug = Pot(body=25, foot=25, depth=40, rim=55, bore=24)

    assert [seat_of(plug, hole).seat for hole in (32, 38)] == ["slip", "slip"]
    assert seat_of(plug, 38).lip == 8.5
    # Pushed against one side of a hole of 41 mm, the collar lies 1 mm short of the other.
    assert seat_of(plug, 41).seat == "loose"
    assert seat_of(plug, 40).seat == "slip"
    assert seat_of(plug, 56).seat == "falls through"


def test_a_plug_narrower_than_the_hole_of_its_collar_falls_through_that() -> None:
    assert seat_of(Pot(body=25, foot=25, depth=40, rim=55, bore=25.5), 32).seat == "falls through"
