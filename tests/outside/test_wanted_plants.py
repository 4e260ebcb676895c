"""Spacing solved from a count or a density, against the job map.

Check values: job map H1 (4 x 4 ft with 36 plants is 24.2 per m2), formula 4 (staggered rows on a
bounded raft) and formula 5 (60, 28, 21, 18 sites on 2 x 4 ft), worked by hand there.
"""

from fractions import Fraction

import pytest

from geometry.compare.want import find_spacing
from geometry.model.bed import Bed
from geometry.model.outlines import Rectangle
from geometry.model.planting import Direction, Pattern, Planting
from geometry.model.wanted import parse_wanted, plants_wanted
from geometry.units import Length

INCH = Fraction(254, 10)
FOOT = 12 * INCH


def board(
    length_ft: int, width_ft: int, *, pattern: Pattern, rows: Direction = "best", margin: Fraction
) -> Bed:
    planting = Planting(
        Length(6 * INCH),
        Length(2 * INCH),
        pattern=pattern,
        rows=rows,
        edge_margin=Length(margin * INCH),
        joints="separate",
    )
    return Bed(
        "board", Rectangle(Length(length_ft * FOOT), Length(width_ft * FOOT)), planting=planting
    )


@pytest.mark.parametrize("typed", ["24.2/m2", "2.25 per sq ft", "36"])
def test_h1_four_by_four_feet_with_36_plants(typed: str) -> None:
    bed = board(4, 4, pattern="square", margin=Fraction(4))
    found = find_spacing(bed, parse_wanted(typed), "in")

    assert plants_wanted(parse_wanted(typed), float(16 * FOOT**2)) == 36
    assert found is not None
    assert found.counted.plants == 36
    assert found.spacing == 8 * INCH
    assert found.counted.plants / float(16 * FOOT**2) * 1e6 == pytest.approx(24.2, abs=0.05)


@pytest.mark.parametrize(
    ("margin", "pattern", "rows", "sites"),
    [
        *((margin, "square", "best", 18) for margin in (4, 3, 2)),
        *((margin, "hexagonal", "along", sites) for margin, sites in ((4, 17), (3, 17), (2, 18))),
        *((margin, "hexagonal", "across", sites) for margin, sites in ((4, 15), (3, 18), (2, 21))),
    ],
)
def test_formula_4_solved_the_other_way_round(
    margin: int, pattern: Pattern, rows: Direction, sites: int
) -> None:
    """What 8 in holds is reached at 8 in or wider; one site more is not."""
    bed = board(4, 2, pattern=pattern, rows=rows, margin=Fraction(margin))
    found, more = (find_spacing(bed, count, "in") for count in (sites, sites + 1))

    assert found is not None
    assert more is not None
    assert (found.spacing or 0) >= 8 * INCH > (more.spacing or 0)


@pytest.mark.parametrize(
    ("sites", "density"), [(60, "80.7"), (28, "37.7"), (21, "28.3"), (18, "24.2")]
)
def test_formula_5_densities_ask_for_their_sites(sites: int, density: str) -> None:
    area = float(8 * FOOT**2)
    asked = plants_wanted(parse_wanted(f"{density}/m2"), area)

    # The densities are rounded to a tenth, so one of them asks for a plant more than it has.
    assert asked in {sites, sites + 1}
    assert plants_wanted(parse_wanted(f"{float(density) - 0.05}/m2"), area) == sites
