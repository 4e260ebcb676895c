"""The reciprocal law: exact on points that follow it, and through published points."""

from datetime import date
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.crops.table import find_crop
from geometry.growth.harvest import (
    TRIALS,
    Law,
    Weighed,
    law_through,
    own_points,
    trials_of,
)
from geometry.model.log import BatchGrown, Log
from geometry.model.run import Run


def _law(*points: tuple[float, float]) -> Law:
    found = law_through([Weighed(density, grams) for density, grams in points])
    assert isinstance(found, Law)
    return found


@settings(max_examples=25)
@given(
    st.floats(1e-4, 1e-1),
    st.floats(1e-5, 1e-2),
    st.lists(st.integers(1, 3000), min_size=2, max_size=8, unique=True),
)
def test_points_on_the_law_give_it_back(a: float, b: float, densities: list[int]) -> None:
    found = _law(*((density, 1 / (a + b * density)) for density in densities))
    assert found.b == pytest.approx(b, rel=1e-5)
    assert found.a == pytest.approx(a, rel=1e-5, abs=1e-6 * b * max(densities))
    assert (found.low, found.high) == (min(densities), max(densities))
    assert found.off < 1e-6
    middle = (found.low + found.high) / 2
    assert found.kg_at(middle) == pytest.approx(middle * found.grams_at(middle) / 1000)


def test_scattered_points_as_a_reference_library_fits_them() -> None:
    # The reference is numpy.polyfit of degree 1 on 1/w.
    points = [(10, 340.0), (13, 322.0), (17, 270.0), (17, 285.0), (25, 231.0)]
    found = _law(*points)
    b, a = np.polyfit([each for each, _ in points], [1 / grams for _, grams in points], 1)
    assert (found.a, found.b) == pytest.approx((a, b), rel=1e-12)
    worst = max(abs(found.grams_at(density) / grams - 1) for density, grams in points)
    assert found.off == pytest.approx(worst)


def test_the_croatian_heads() -> None:
    # Toth and others 2016, Acta Horticulturae 1142 (16): 321 g at 13 and 276 g at 17 plants/m².
    first, second = trials_of("Lettuce, head")
    assert [(each.density, each.grams) for each in first.points] == [(13, 321), (17, 276)]
    found = law_through(first.points)
    assert isinstance(found, Law)
    assert found.grams_at(13) == pytest.approx(321)
    assert found.grams_at(17) == pytest.approx(276)
    # By hand: b = (1/276 - 1/321) / 4, a = 1/321 - 13 b.
    assert found.b == pytest.approx((1 / 276 - 1 / 321) / 4)
    assert found.a == pytest.approx(1 / 321 - 13 * (1 / 276 - 1 / 321) / 4)
    assert found.grams_at(15) == pytest.approx(2 / (1 / 276 + 1 / 321))
    assert found.holds_at(13)
    assert found.holds_at(17)
    assert not found.holds_at(12.9)
    assert not found.holds_at(17.1)
    # 13 heads of 321 g are the 4.17 kg/m² that the abstract prints.
    assert first.points[0].kg_a_m2 == pytest.approx(4.17, abs=0.005)
    assert law_through(second.points) == "one density"


def test_what_was_published_of_pak_choi() -> None:
    # Gobilik and others 2021: 63/m², 82.1 g a plant, 5.1 kg/m².
    (trial,) = trials_of("pak choi")
    assert trial.points[0].grams == 82.1
    assert trial.points[0].kg_a_m2 == pytest.approx(5.1, abs=0.08)
    assert law_through(trial.points) == "one density"


def test_every_trial_has_a_source_and_names_crops_of_the_table() -> None:
    for trial in TRIALS:
        assert trial.source
        assert all(find_crop(crop) is not None for crop in trial.crops)
        assert all(point.grams > 0 and point.density > 0 for point in trial.points)


def test_points_that_give_no_law_say_why() -> None:
    assert law_through([]) == "one density"
    assert law_through([Weighed(20, 200)]) == "one density"
    assert law_through([Weighed(20, 200), Weighed(20, 220)]) == "one density"
    assert law_through([Weighed(10, 200), Weighed(20, 200)]) == "no smaller where closer"
    assert law_through([Weighed(10, 200), Weighed(20, 240)]) == "no smaller where closer"
    # Less than half the mass at twice the density: less came off the square metre.
    assert law_through([Weighed(10, 300), Weighed(20, 100)]) == "no end"
    assert law_through([Weighed(43, 150, most=250), Weighed(20, 300)]) == "one density"


def test_the_growers_own_batches() -> None:
    def batch(run: str, **noted: object) -> BatchGrown:
        return BatchGrown(run, date(2026, 3, 2), **noted)  # type: ignore[arg-type]

    log = Log(
        batches=(
            batch("weekly", picked=50, grams=Fraction(10_000), per_m2=Fraction(25)),
            batch("weekly", picked=40, grams=Fraction(10_000), per_m2=Fraction(16),
                  picked_on=date(2026, 4, 13)),
            batch("weekly", picked=40, per_m2=Fraction(16)),
            batch("weekly", picked=0, grams=Fraction(1), per_m2=Fraction(16)),
            batch("herbs", picked=40, grams=Fraction(10), per_m2=Fraction(16)),
        )
    )  # fmt: skip
    runs = (Run("weekly", crop="Lettuce, head"), Run("herbs", crop="basil"))
    found = own_points(log, runs, "lettuce, head")
    assert found == (
        Weighed(25, 200, day=date(2026, 3, 2)),
        Weighed(16, 250, day=date(2026, 4, 13)),
    )
    law = law_through(found)
    assert isinstance(law, Law)
    assert law.grams_at(20) == pytest.approx(1 / (0.004 + 0.001 * 4 / 9))
    assert own_points(log, (), "") == ()
