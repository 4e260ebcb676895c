"""How the plan sees the pots of each planting."""

from dataclasses import replace

import pytest

from geometry.checks.in_water import BedInWater
from geometry.model.allowances import Allowances
from geometry.model.bed import Bed
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.pot import Pot
from geometry.model.project import Project
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import make_plan
from geometry.units import Length


def of(text: float | str) -> Length:
    return Length.of(text)


TWO_INCH = Pot("small", of("1 3/4 in"), of(50), of(32), of("2 in"), of(2))
THREE_INCH = Pot("large", of("2 7/16 in"), of(75), of(48), of("3 in"), of(2))


def potted(**changes: object) -> Project:
    planting = Planting(of(200), of("1 3/4 in"), edge_margin=of(60), pot="small")
    bed = Bed("Bed", Rectangle(of(1000), of(600)), planting=replace(planting, **changes))
    return Project("Pots", beds=(bed,), pots=(TWO_INCH, THREE_INCH))


def water(project: Project) -> BedInWater:
    return make_plan(project).waters[0]


def test_each_planting_has_the_seat_of_its_own_pot() -> None:
    project = potted()
    rules = ZoneRules(pot="large", hole_diameter=of("2 1/2 in"))
    bare = ZoneRules(pot="")
    zones = (Zone("z", rules, rafts=("R1",)), Zone("bare", bare, rafts=("R1",)))
    project = replace(project, beds=(replace(project.beds[0], zones=zones),))

    small, large, none = water(project).seats

    assert small is not None
    assert large is not None
    assert (small.seat, large.seat) == ("tight", "slip")
    assert small.lip == pytest.approx(3.175)
    assert none is None


def test_the_wobble_of_the_saw_counts_for_the_seat() -> None:
    project = replace(potted(), allowances=Allowances(wobble=of(1)))

    (seat,) = water(project).seats

    assert seat is not None
    assert seat.seat == "slip"
    assert seat.play == pytest.approx(1)


def test_a_bed_without_planting_or_pot_has_no_seats() -> None:
    project = potted(pot="")
    bare = replace(project, beds=(replace(project.beds[0], planting=None),))

    assert water(project).seats == (None,)
    assert water(bare).seats == ()
