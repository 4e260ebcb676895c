"""What is told about zones, and what the pair rule says of holes that were moved by hand."""

from dataclasses import replace

import pytest

from geometry.checks.finding import DropFromZone, Finding, SetLength
from geometry.model.bed import Bed, Split
from geometry.model.outlines import Disc, Polygon, Rectangle
from geometry.model.planting import JointRule, Pin, Planting
from geometry.model.project import Project
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import make_plan
from geometry.units import Length


def mm(value: float) -> Length:
    return Length.of(value)


BASIL = ZoneRules(crop="basil", spacing=mm(100), hole_diameter=mm(40))
DISC = Zone("herbs", BASIL, Disc(mm(300)), centre=(mm(300), mm(290)))


def bed_of(*zones: Zone, pins: tuple[Pin, ...] = (), joints: JointRule = "bed-wide") -> Bed:
    planting = Planting(
        mm(200), mm(50), crop="lettuce", pattern="square", edge_margin=mm(60), web=mm(25),
        joints=joints, pins=pins,
    )  # fmt: skip
    outline = Rectangle(mm(2360), mm(580))
    return Bed("Bench", outline, mm(10), mm(5), (), Split(4, 1), planting, zones)


def found(bed: Bed) -> tuple[Finding, ...]:
    return make_plan(Project("test", beds=(bed,))).beds[0].findings


def test_zones_that_hold_plants_bring_no_finding() -> None:
    assert found(bed_of(DISC, Zone("rest", BASIL, rafts=("R3", "R4")))) == ()


def test_a_zone_on_no_raft_is_told_and_can_be_removed() -> None:
    (finding,) = found(bed_of(replace(DISC, centre=(mm(300), mm(2000)))))

    assert (finding.code, finding.subject) == ("zone-outside", "herbs")
    assert finding.place == (300, 2000)
    assert finding.cure == DropFromZone("herbs")


def test_a_raft_that_is_not_there_is_told_by_name() -> None:
    (finding,) = found(bed_of(Zone("herbs", BASIL, rafts=("R1", "R9"))))

    assert (finding.code, finding.raft) == ("zone-outside", "R9")
    assert finding.cure == DropFromZone("herbs", "R9")


@pytest.mark.parametrize(
    "zones",
    [
        (replace(DISC, shape=Disc(mm(20)), rules=replace(BASIL, edge_margin=mm(500))),),
        (DISC, Zone("all of it", BASIL, rafts=("R1",))),
    ],
)
def test_a_zone_without_a_hole_is_told(zones: tuple[Zone, ...]) -> None:
    (finding,) = found(bed_of(*zones))

    assert (finding.code, finding.severity) == ("zone-empty", "problem")
    assert finding.subject == "herbs"


def test_a_part_zone_fixes_a_raft_that_may_change_places() -> None:
    (finding,) = found(bed_of(DISC, joints="interchangeable"))

    assert (finding.code, finding.severity, finding.raft) == ("zone-fixed", "note", "R1")
    assert found(bed_of(Zone("herbs", BASIL, rafts=("R1",)), joints="interchangeable")) == ()


def test_a_zone_that_cannot_be_drawn_stops_the_bed() -> None:
    crossed = Polygon(((mm(0), mm(0)), (mm(9), mm(9)), (mm(9), mm(0)), (mm(0), mm(9))))

    (finding,) = found(bed_of(replace(DISC, shape=crossed)))

    assert (finding.code, finding.subject) == ("bed-shape", "herbs")


def test_a_pin_too_near_another_crop_is_held_to_the_mean_and_both_are_named() -> None:
    # R3 is basil, R4 lettuce: across the joint they keep (100 + 200) / 2 = 150 mm.
    zone = Zone("herbs", BASIL, rafts=("R3",))
    plan = make_plan(Project("test", beds=(bed_of(zone),))).beds[0]
    basil = plan.rafts[2].design.holes.xy
    x, y = max(basil.tolist())
    lettuce = plan.rafts[2].x + x + 149 - plan.rafts[3].x
    pin = Pin("R4", Length.rounded(lettuce), Length.rounded(y))

    joints = [each for each in found(bed_of(zone, pins=(pin,))) if each.code == "joint"]

    assert joints
    assert joints[0].crops == ("basil", "lettuce")
    assert joints[0].limit_mm == pytest.approx(150)
    assert joints[0].amount_mm == pytest.approx(149, abs=0.01)
    further = replace(pin, x=Length.rounded(lettuce + 1.001))
    assert not [each for each in found(bed_of(zone, pins=(further,))) if each.code == "joint"]


def test_unlike_rafts_that_may_change_places_are_measured_against_each_other() -> None:
    zone = Zone("herbs", BASIL, rafts=("R2",))
    plan = make_plan(Project("test", beds=(bed_of(zone, joints="interchangeable"),))).beds[0]
    x, y = max(plan.rafts[0].design.holes.xy.tolist())
    pin = Pin("R1", mm(550), Length.rounded(y), (Length.rounded(x), Length.rounded(y)))

    told = found(bed_of(zone, pins=(pin,), joints="interchangeable"))

    across = [each for each in told if each.code == "joint" and each.crops]
    assert across
    assert {hole.split()[0] for each in across for hole in each.holes} == {"R1", "R2"}


def test_a_pin_in_a_zone_has_the_crop_and_the_hole_of_the_zone() -> None:
    zone = Zone("herbs", BASIL, Rectangle(mm(586), mm(300)), corner=(mm(0), mm(0)))
    pin = Pin("R1", mm(5), mm(5))
    plan = make_plan(Project("test", beds=(bed_of(zone, pins=(pin,)),))).beds[0]
    holes = plan.rafts[0].design.holes

    at = holes.names.index("P1")
    assert holes.diameters[at] == 40
    assert holes.numbers[at] == 1


def test_a_number_of_a_zone_that_looks_typed_in_inches_is_asked_about_and_cured() -> None:
    zone = replace(DISC, rules=replace(BASIL, spacing=mm(6)))
    project = Project("test", beds=(bed_of(zone),))
    plan = make_plan(project)
    (finding,) = [each for each in plan.findings if each.code == "unit-slip"]

    assert (finding.subject, finding.cure) == (
        "zones.0.spacing",
        SetLength("zones.0.spacing", 152.4),
    )


def test_changing_one_zone_gives_the_plan_that_is_made_from_nothing() -> None:
    strip = Zone("strip", BASIL, Rectangle(mm(300), mm(900)), corner=(mm(900), mm(-50)))
    steps = [
        bed_of(),
        bed_of(DISC),
        bed_of(DISC, strip),
        bed_of(replace(DISC, name="mint"), strip),
        bed_of(replace(DISC, rules=replace(BASIL, crop="mint")), strip),
        bed_of(strip),
    ]
    previous = None
    for bed in steps:
        project = Project("test", beds=(bed,))
        previous = make_plan(project, previous)
        assert previous == make_plan(project)
