"""Arranging: what school geometry says of reflections and turns, on holes of real plans."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.model.planting import Pin
from geometry.model.project import Project
from geometry.plan import BedPlan, make_plan
from geometry.units import Length
from layout_gui.project import arrange, edits
from layout_gui.project.arrange import Group, Place, group_of
from tests.layout_gui.panels.desk import make_bench, make_project

Names = list[tuple[str, str]]

few = settings(max_examples=12, deadline=None)

ONE_RAFT: Names = [("R1", name) for name in ("A1", "A3", "B2", "C1")]


def planned(project: Project) -> BedPlan:
    return make_plan(project).beds[0]


def bench(**rules: object) -> Project:
    bed = make_bench()
    assert bed.planting is not None
    return make_project(replace(bed, planting=replace(bed.planting, **rules)))  # type: ignore[arg-type]


def with_pins(*places: tuple[str, str], raft: str = "R1") -> Project:
    """A bed whose raft has pins only at the given exact places, beside its pattern."""
    pins = tuple(Pin(raft, Length.of(x), Length.of(y)) for x, y in places)
    return bench(pins=pins)


def group(project: Project, names: Names) -> Group:
    return group_of(project, planned(project), names)


def whereabouts(project: Project, raft: str = "R1") -> list[tuple[float, float]]:
    """The places of all holes of a raft, sorted: what is drilled, whatever the holes are called."""
    placed = next(each for each in planned(project).rafts if each.name == raft)
    return sorted((round(x, 6), round(y, 6)) for x, y in placed.design.holes.xy.tolist())


def pins(project: Project) -> dict[tuple[Fraction, Fraction], Pin]:
    planting = project.beds[0].planting
    assert planting is not None
    return {(pin.x.exact, pin.y.exact): pin for pin in planting.pins}


def any_places(least: int = 3) -> st.SearchStrategy[list[Place]]:
    number = st.fractions(-2000, 2000, max_denominator=640)
    return st.lists(st.tuples(number, number), min_size=least, max_size=9, unique=True)


@st.composite
def groups(draw: st.DrawFn, least: int = 3) -> Group:
    """Holes at any places, as the orders on places see them."""
    places = draw(any_places(least))
    project = bench()
    names = tuple(("R1", f"P{number}") for number in range(len(places)))
    radii = tuple(draw(st.fractions(5, 40, max_denominator=4)) for _ in places)
    middle = Fraction(290), Fraction(280)
    return Group(project, PLAN, names, tuple(places), radii, (middle,) * len(places))


PLAN = planned(bench())
axes = st.sampled_from(["along", "across"])
edges = st.sampled_from(["low", "middle", "high"])


def again(group: Group, places: list[Place]) -> Group:
    return replace(group, places=tuple(places))


@few
@given(groups(2), axes, edges)
def test_aligning_twice_is_aligning_once_and_moves_nothing_across(
    group: Group, axis: arrange.Axis, edge: arrange.Edge
) -> None:
    index = ("along", "across").index(axis)
    once = arrange.aligned(group, axis, edge)

    assert len({place[index] for place in once}) == 1
    assert [p[1 - index] for p in once] == [p[1 - index] for p in group.places]
    assert arrange.aligned(again(group, once), axis, edge) == once
    values = [place[index] for place in group.places]
    assert min(values) <= once[0][index] <= max(values)


@few
@given(groups(), axes, st.sampled_from(["raft", "selection"]))
def test_mirroring_twice_is_nothing_and_distances_stay(
    group: Group, axis: arrange.Axis, about: str
) -> None:
    assert about in ("raft", "selection")
    once = arrange.mirrored(group, axis, about)  # type: ignore[arg-type]

    assert tuple(arrange.mirrored(again(group, once), axis, about)) == group.places  # type: ignore[arg-type]
    assert squares(once) == squares(group.places)
    if about == "selection":
        assert again(group, once).middle == group.middle


def squares(places: object) -> list[Fraction]:
    assert isinstance(places, (list, tuple))
    return [(a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2 for a in places for b in places]


@few
@given(groups(), st.integers(-8, 8))
def test_quarter_turns_are_exact_and_four_of_them_are_nothing(group: Group, quarters: int) -> None:
    centre = group.middle
    turned = arrange.turned(group, Fraction(90 * quarters), centre)

    assert squares(turned) == squares(group.places)
    back = arrange.turned(again(group, turned), Fraction(-90 * quarters), centre)
    assert tuple(back) == group.places
    assert tuple(arrange.turned(group, Fraction(360))) == group.places


@few
@given(groups(), st.fractions(-720, 720, max_denominator=60))
def test_any_turn_keeps_distances_and_undoes_itself(group: Group, degrees: Fraction) -> None:
    centre = group.middle
    turned = arrange.turned(group, degrees, centre)
    back = arrange.turned(again(group, turned), -degrees, centre)

    for (x, y), (to_x, to_y), (home_x, home_y) in zip(group.places, turned, back, strict=True):
        here = hypot(x - centre[0], y - centre[1])
        assert hypot(to_x - centre[0], to_y - centre[1]) == pytest.approx(here, abs=1e-7)
        assert (float(home_x), float(home_y)) == pytest.approx((float(x), float(y)), abs=1e-7)


@few
@given(groups(), axes, st.sampled_from(["centres", "gaps"]))
def test_spreading_keeps_the_ends_and_makes_equal_steps_or_gaps(
    group: Group, axis: arrange.Axis, by: str
) -> None:
    index = ("along", "across").index(axis)
    values = [place[index] for place in group.places]
    if min(abs(a - b) for n, a in enumerate(values) for b in values[:n]) <= Fraction(1, 100):
        return  # holes in one line have a test of their own
    spread = arrange.distributed(group, axis, by)  # type: ignore[arg-type]

    order = sorted(range(len(group)), key=lambda at: values[at])
    assert spread[order[0]] == group.places[order[0]]
    assert spread[order[-1]] == group.places[order[-1]]
    rims = group.radii if by == "gaps" else (Fraction(0),) * len(group)
    gaps = {spread[b][index] - rims[b] - spread[a][index] - rims[a] for a, b in pairwise(order)}
    assert len(gaps) == 1
    if by == "centres":
        assert arrange.distributed(again(group, spread), axis, "centres") == spread


@few
@given(groups(2), axes, st.fractions(1, 300, max_denominator=64))
def test_a_step_is_kept_exactly(group: Group, axis: arrange.Axis, step: Fraction) -> None:
    index = ("along", "across").index(axis)
    values = {place[index] for place in group.places}
    if len(values) < len(group):
        return
    if min(abs(a - b) for a in values for b in values - {a}) <= Fraction(1, 100):
        return
    placed = sorted(place[index] for place in arrange.spaced(group, axis, step))

    assert placed == [min(values) + n * step for n in range(len(group))]


def test_holes_in_one_line_move_together() -> None:
    project = bench()
    names = [("R1", f"{row}{n}") for row in "ABC" for n in (1, 2, 3)]
    chosen = group(project, names)
    columns = sorted({x for x, _ in chosen.places})
    skewed = again(chosen, [(x + 7 if x == columns[1] else x, y) for x, y in chosen.places])

    spread = arrange.distributed(skewed, "along", "centres")

    assert sorted({x for x, _ in spread}) == [
        columns[0], (columns[0] + columns[2]) / 2, columns[2],
    ]  # fmt: skip
    assert [y for _, y in spread] == [y for _, y in chosen.places]


def test_inches_stay_exact_through_aligning_and_mirroring() -> None:
    project = with_pins(("1 1/64 in", "3 in"), ("7 1/2 in", "19 5/8 in"))
    chosen = group(project, [("R1", "A1"), ("R1", "C1"), ("R1", "P1")])
    assert len(chosen) >= 2
    low = arrange.moved(chosen, arrange.aligned(chosen, "along", "low"))

    exact = {x for x, _ in pins(low)}
    assert Length.of("1 1/64 in").exact in exact


def test_aligned_holes_stand_in_one_line_in_the_plan() -> None:
    project = bench()
    chosen = group(project, ONE_RAFT)
    changed = arrange.moved(chosen, arrange.aligned(chosen, "across", "high"))

    plan = planned(changed)
    after = group_of(changed, plan, ONE_RAFT)
    assert len({y for _, y in after.places}) == 1
    assert plan.plants == planned(project).plants
    assert arrange.moved(after, arrange.aligned(after, "across", "high")) == changed


def test_what_would_not_move_is_not_pinned() -> None:
    project = bench()
    row = [("R1", name) for name in ("A1", "A2", "A3")]
    chosen = group(project, row)

    assert arrange.moved(chosen, arrange.aligned(chosen, "across", "low")) == project
    assert arrange.moved(chosen, arrange.turned(chosen, Fraction(360))) == project


def test_mirroring_about_the_raft_twice_brings_every_hole_back() -> None:
    project = with_pins(("111.25 mm", "222.5 mm"))
    names = [("R1", "A1"), ("R1", "B3")]
    once_group = group(project, names)
    once = arrange.moved(once_group, arrange.mirrored(once_group, "along", "raft"))
    assert whereabouts(once) != whereabouts(project)
    twice_group = group(once, names)
    twice = arrange.moved(twice_group, arrange.mirrored(twice_group, "along", "raft"))

    assert whereabouts(twice) == whereabouts(project)


@pytest.mark.parametrize(
    "order",
    [
        lambda chosen: arrange.repeated(chosen, Fraction(10), Fraction(40)),
        lambda chosen: arrange.in_rows(chosen, 3, 2, Fraction(50), Fraction(45), staggered=True),
        lambda chosen: arrange.in_ring(chosen, 6, Fraction(60)),
    ],
)
def test_every_copy_is_one_hole_more(order: Callable[[Group], list[Place]]) -> None:
    """Also where a site of the pattern would have made room for it."""
    project = bench()
    chosen = group(project, [("R1", "B2")])
    places = order(chosen)
    changed = arrange.copied(chosen, places)

    assert planned(changed).plants == planned(project).plants + len(places)
    was = whereabouts(project)
    assert all(place in whereabouts(changed) for place in was)


def test_copies_hold_the_places_that_were_asked_for() -> None:
    project = bench()
    chosen = group(project, [("R1", "A1")])
    ((x, y),) = chosen.places
    assert arrange.repeated(chosen, Fraction(3), Fraction(-2), 3) == [
        (x + 3, y - 2), (x + 6, y - 4), (x + 9, y - 6),
    ]  # fmt: skip
    rows = arrange.in_rows(chosen, 2, 3, Fraction(10), Fraction(7), staggered=True)
    assert rows == [
        (x + 10, y), (x + 5, y + 7), (x + 15, y + 7), (x, y + 14), (x + 10, y + 14),
    ]  # fmt: skip
    assert arrange.in_ring(chosen, 4, Fraction(9)) == [
        (x + 9, y), (x, y + 9), (x - 9, y), (x, y - 9),
    ]  # fmt: skip


def test_a_copy_belongs_to_the_raft_under_it() -> None:
    project = bench()
    plan = planned(project)
    chosen = group(project, [("R1", "B2")])
    first, second = plan.rafts
    changed = arrange.copied(
        chosen, [(chosen.places[0][0] + Fraction(second.x - first.x + 20), chosen.places[0][1])]
    )

    holes = {raft.name: len(raft.design.holes) for raft in planned(changed).rafts}
    before = {raft.name: len(raft.design.holes) for raft in plan.rafts}
    assert holes == {"R1": before["R1"], "R2": before["R2"] + 1}


def test_a_hole_off_its_raft_is_a_finding() -> None:
    project = bench()
    chosen = group(project, [("R1", "A1")])
    changed = arrange.moved(chosen, arrange.shifted(chosen, Fraction(-200), Fraction(0)))

    codes = {finding.severity for finding in planned(changed).findings}
    assert "problem" in codes
    assert planned(changed).plants == planned(project).plants


def test_rafts_that_change_places_are_arranged_once() -> None:
    project = bench(joints="interchangeable")
    names = [(raft, hole) for raft in ("R1", "R2") for hole in ("A1", "B2")]
    chosen = group(project, names)
    assert [name for name, _ in chosen.names] == ["R1", "R1"]

    changed = arrange.copied(chosen, arrange.repeated(chosen, Fraction(30), Fraction(60)))

    assert planned(changed).plants == planned(project).plants + 4


def test_turned_rafts_are_arranged_as_they_lie_in_the_bed() -> None:
    project = bench()
    plan = planned(project)
    turned = replace(plan, rafts=tuple(replace(raft, turned=True) for raft in plan.rafts))
    chosen = group_of(project, turned, [("R1", "A1"), ("R1", "B2")])
    straight = group_of(project, plan, [("R1", "A1"), ("R1", "B2")])
    assert chosen.places[0][0] > straight.places[1][0]

    changed = arrange.moved(chosen, arrange.shifted(chosen, Fraction(5), Fraction(0)))
    moved = sorted(pins(changed))
    at = sorted((place[0] - Fraction(10) - 5, place[1] - 10) for place in straight.places)
    assert [(round(float(x), 6), round(float(y), 6)) for x, y in moved] == [
        (round(float(x), 6), round(float(y), 6)) for x, y in at
    ]


@pytest.mark.parametrize(
    ("order", "words"),
    [
        (lambda g: arrange.distributed(g, "along", "centres"), "three holes"),
        (lambda g: arrange.spaced(g, "along", Fraction(10)), "two holes"),
        (lambda g: arrange.aligned(g, "along", "low"), "2 holes"),
        (lambda g: arrange.repeated(g, Fraction(0), Fraction(0)), "both are 0"),
        (lambda g: arrange.in_rows(g, 1, 1, Fraction(1), Fraction(1)), "more of either"),
        (lambda g: arrange.in_rows(g, 2, 1, Fraction(0), Fraction(1)), "not be 0"),
        (lambda g: arrange.in_rows(g, 200, 200, Fraction(1), Fraction(1)), "at most"),
        (lambda g: arrange.in_ring(g, 3, Fraction(0)), "longer than 0"),
    ],
)
def test_what_cannot_be_done_is_refused_with_the_reason(
    order: Callable[[Group], object], words: str
) -> None:
    with pytest.raises(GeometryError, match=words):
        order(group(bench(), [("R1", "A1")]))


def test_nothing_chosen_and_holes_that_are_gone_are_refused() -> None:
    with pytest.raises(GeometryError, match="none is selected"):
        group(bench(), [("R1", "Z99"), ("R9", "A1")])


def test_a_copy_onto_a_hole_is_none() -> None:
    project = bench()
    chosen = group(project, [("R1", "A1")])
    step = group(project, [("R1", "A2")]).places[0][0] - chosen.places[0][0]
    with pytest.raises(GeometryError, match="already"):
        arrange.copied(chosen, arrange.repeated(chosen, step, Fraction(0)))


@settings(max_examples=9, deadline=None)
@given(st.fractions(-60, 60, max_denominator=64), st.fractions(-60, 60, max_denominator=64))
def test_moving_there_and_back_drills_the_same_raft(dx: Fraction, dy: Fraction) -> None:
    project = bench()
    there_group = group(project, ONE_RAFT)
    there = arrange.moved(there_group, arrange.shifted(there_group, dx, dy))
    back_group = group(there, ONE_RAFT)
    back = arrange.moved(back_group, arrange.shifted(back_group, -dx, -dy))

    assert whereabouts(back) == whereabouts(project)


def test_sites_of_a_hexagonal_raft_that_are_held_break_no_rule() -> None:
    """Row gaps are square roots: 173.205 08 mm, and 0.08 µm too near if rounded to 0.001 mm."""
    project = bench(pattern="hexagonal", spread=False, spacing=Length.of(200))
    before = {finding.key for finding in planned(project).findings}
    names = sorted(
        (raft.name, name) for raft in planned(project).rafts for name in raft.design.holes.names
    )
    chosen = group(project, names)
    held = edits.place_holes(
        project, planned(project), {}, [("R1", Length.of(x), Length.of(y)) for x, y in ((300, 20),)]
    )
    mirrored = arrange.moved(chosen, arrange.mirrored(chosen, "across", "raft"))

    assert {finding.key for finding in planned(mirrored).findings} == before
    sites = set(whereabouts(project))
    assert sites <= {(round(x, 6), round(y, 6)) for x, y in whereabouts(held)}
