"""Counting finds what laying finds, and takes less time over it."""

from dataclasses import replace
from fractions import Fraction

import pytest

from geometry.compare.counting import BedCounter
from geometry.holes.zones import lay_holes
from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.outlines import Disc, LShape, Rectangle
from geometry.model.planting import Planting
from geometry.model.zone import Zone, ZoneRules
from geometry.rafts.split import lay_rafts
from geometry.units import ZERO, Length


def mm(*sizes: float) -> list[Length]:
    return [Length.of(size) for size in sizes]


SPACING = 163
PLANTING = Planting(
    spacing=Length.of(180), hole_diameter=Length.of(50), edge_margin=Length.of(60), pattern="best"
)
PIPE = Obstacle("pipe", Disc(Length.of(60)), Spot(Length.of(300), Length.of(200)))
CORNER = Zone(
    "corner", ZoneRules(spacing=Length.of(120)), Rectangle(*mm(360, 400)), corner=(ZERO, ZERO)
)
BEDS = {
    "a disc in quarters": Bed("b", Disc(Length.of(900)), rafts=Split(2, 2)),
    "an L": Bed("b", LShape(*mm(1300, 900, 600, 400)), obstacles=(PIPE,), rafts=Split(2, 1)),
    "rafts around a pipe": Bed(
        "b", Rectangle(*mm(1200, 600)), obstacles=(PIPE,), rafts=Split(2, 1)
    ),
    "two crops": Bed("b", Rectangle(*mm(1200, 600)), zones=(CORNER,), rafts=Split(2, 1)),
    "two crops around a pipe": Bed(
        "b", Rectangle(*mm(900, 600)), zones=(CORNER,), obstacles=(PIPE,)
    ),
}


@pytest.mark.parametrize("name", BEDS)
def test_as_many_are_counted_as_are_laid(name: str) -> None:
    bed = replace(BEDS[name], planting=PLANTING)
    counted = BedCounter(bed, PLANTING).at("spacing", Fraction(SPACING))

    planted = replace(bed, planting=replace(PLANTING, spacing=Length.of(SPACING)))
    laid = lay_holes(planted, lay_rafts(planted))

    assert counted == sum(map(len, laid.sites)) > 0
