"""Holes picked by what they have in common."""

from dataclasses import replace

from geometry.model.planting import Pin
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import BedPlan, make_plan
from geometry.units import Length
from layout_gui.project import picking
from tests.layout_gui.panels.desk import make_bench, make_project


def zoned() -> BedPlan:
    """Two rafts: the second is planted with smaller holes of another crop, one hole is pinned."""
    bed = make_bench()
    assert bed.planting is not None
    rules = ZoneRules(crop="basil", hole_diameter=Length.of(32))
    pins = (Pin("R1", Length.of(300), Length.of(20)),)
    bed = replace(
        bed, zones=(Zone("herbs", rules, rafts=("R2",)),), planting=replace(bed.planting, pins=pins)
    )
    return make_plan(make_project(bed)).beds[0]


def of(plan: BedPlan, raft: str) -> picking.Names:
    return picking.all_holes(plan, [raft])


def test_holes_of_a_size_a_crop_or_a_design() -> None:
    plan = zoned()
    one = frozenset({("R1", "A1")})
    other = frozenset({("R2", "A1")})

    for pick in (picking.same_size, picking.same_crop, picking.same_design):
        assert pick(plan, one) == of(plan, "R1")
        assert pick(plan, other) == of(plan, "R2")
        assert pick(plan, one | other) == picking.all_holes(plan)
        assert pick(plan, frozenset()) == frozenset()


def test_rafts_of_one_design_go_together() -> None:
    plan = make_plan(make_project()).beds[0]
    alike = [raft.design.name for raft in plan.rafts]
    found = picking.same_design(plan, frozenset({("R1", "A1")}))

    assert len({name for name, _ in found}) == alike.count(alike[0])


def test_inverting_twice_is_nothing() -> None:
    plan = zoned()
    chosen = frozenset({("R1", "A1"), ("R2", "A1")})
    turned = picking.inverted(plan, chosen)

    assert not turned & chosen
    assert len(turned) == plan.plants - 2
    assert picking.inverted(plan, turned) == chosen


def test_the_pinned_of_all_or_of_the_chosen() -> None:
    plan = zoned()
    (pinned,) = picking.pinned(plan, frozenset())

    assert pinned[0] == "R1"
    assert picking.pinned(plan, frozenset({("R2", "A1"), pinned})) == {pinned}
    assert picking.pinned(plan, of(plan, "R2")) == frozenset()
