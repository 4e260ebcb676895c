"""What sources say, against the figures as they stand in them, and where they do not agree."""

from fractions import Fraction

import pytest

from geometry.crops.facts import (
    FACTS,
    KINDS,
    STANDING_WORDS,
    Fact,
    apart,
    facts_of,
    square_grid,
    square_spacing,
    unlike,
)
from geometry.crops.table import CROPS


@pytest.mark.parametrize("fact", FACTS, ids=lambda fact: f"{fact.kind}-{fact.topic}")
def test_every_figure_has_its_kind_its_source_and_says_how_far_it_can_be_trusted(
    fact: Fact,
) -> None:
    assert fact.source
    assert fact.kind in KINDS
    assert 0 < fact.low <= fact.high
    assert STANDING_WORDS[fact.standing]


def test_every_row_of_the_table_has_a_kind_of_which_something_is_published() -> None:
    assert all(facts_of(crop.kind) for crop in CROPS)


def figures(kind: str, topic: str, source: str) -> list[tuple[float, float]]:
    found = [fact for fact in facts_of(kind) if fact.topic == topic and source in fact.source]
    return [(float(fact.low), float(fact.high)) for fact in found]


def test_figures_as_they_are_published() -> None:
    # FAO Fisheries and Aquaculture Technical Paper 589, appendix 1.
    assert figures("basil", "spacing", "FAO") == [(150, 250)]
    assert figures("cabbage", "density", "FAO") == [(4, 8)]
    assert figures("lettuce", "days", "FAO Fisheries") == [(24, 32)]
    # Rutgers Horticultural Engineering, Lettuce Production: 81, then 28 per m².
    assert figures("lettuce", "density", "Rutgers") == [(81, 81), (28, 28)]
    # Hernandez and others 2017 (abstract): 14 days nursery, 4 to 6 weeks afloat, 150 to 250 g.
    assert figures("lettuce", "nursery", "Hernandez") == [(14, 14)]
    assert figures("lettuce", "days", "Hernandez") == [(28, 42)]
    assert figures("lettuce", "grams", "Hernandez") == [(150, 250)]


@pytest.mark.parametrize(
    ("source", "per_m2"),
    # The densities stand beside these boards in the same documents, or follow by arithmetic.
    [("Shuler", 24.2), ("UF/IFAS", 10.8), ("Ako", 16.1)],
)
def test_a_density_reckoned_from_a_board_is_its_holes_over_its_area(
    source: str, per_m2: float
) -> None:
    [(low, high)] = figures("lettuce", "density", source)
    assert low == high == pytest.approx(per_m2, abs=0.05)


def test_spacing_and_density_of_the_fao_do_not_follow_from_each_other() -> None:
    # A square grid of 18 cm has 30.9 plants per m², of 30 cm 11.1; 20 to 25 is 20.0 to 22.4 cm.
    assert square_grid(Fraction(180), Fraction(300)) == pytest.approx((11.11, 30.86), abs=0.01)
    assert square_spacing(20, 25) == pytest.approx((200, 223.6), abs=0.1)
    told = {(one.kind, one.source[:10]) for one, _ in unlike(FACTS)}
    assert {("lettuce", "Somerville"), ("basil", "Somerville"), ("cabbage", "Somerville")} <= told
    # 8 in on a board of 36 holes, and 6 in for 43 per m², do follow.
    assert not any(source.startswith(("Shuler", "Hernandez", "Resh")) for _, source in told)


def test_sources_that_have_no_value_in_common_are_told() -> None:
    days = apart(facts_of("lettuce", "days"))
    told = {(one.source[:6], other.source[:6]) for one, other in days}

    assert ("Somerv", "UF/IFA") in told  # 24 to 32 days against 40 to 60
    assert ("Aqu@te", "UF/IFA") not in told  # 35 to 42 against 40 to 60: 40 to 42 in common
    assert not apart(facts_of("okra"))
