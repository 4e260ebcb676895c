"""The plan as a whole: its rules hold, and making it in steps changes nothing."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import TooManyError
from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.measure import distance, inside
from geometry.model.outlines import Disc, LShape, Outline, Polygon, Rectangle, RoundEnded, Tapered
from geometry.model.planting import JOINT_RULES, Blank, JointRule, Pattern, Pin, Planting
from geometry.model.project import Project
from geometry.model.sheet import Cutting, Sheet
from geometry.plan import BedPlan, make_plan, with_best_cut
from geometry.units import Length


def mm(value: float | str) -> Length:
    return Length.of(value)


def project(bed: Bed) -> Project:
    return Project("test", beds=(bed,))


def plan_of(bed: Bed) -> BedPlan:
    return make_plan(project(bed)).beds[0]


def lengths(low: int, high: int) -> st.SearchStrategy[Length]:
    return st.integers(low, high).map(mm)


outlines: st.SearchStrategy[Outline] = st.one_of(
    st.builds(Rectangle, lengths(500, 1500), lengths(300, 900), lengths(0, 120)),
    st.builds(Disc, lengths(400, 1200)),
    st.builds(RoundEnded, lengths(600, 1400), lengths(300, 590)),
    st.builds(Tapered, lengths(500, 1200), lengths(300, 700), lengths(200, 900)),
    st.builds(LShape, lengths(700, 1200), lengths(600, 900), lengths(100, 500), lengths(100, 400)),
)
plantings = st.builds(
    Planting,
    spacing=lengths(110, 240),
    hole_diameter=lengths(25, 60),
    pattern=st.sampled_from(["square", "hexagonal", "staggered", "mixed", "rows", "best"]),
    edge_margin=lengths(0, 80),
    web=lengths(0, 50),
    joints=st.sampled_from(JOINT_RULES),
    spread=st.booleans(),
)
obstacles = st.builds(
    Obstacle,
    name=st.just("standpipe"),
    shape=st.builds(Disc, lengths(20, 80)),
    centre=st.builds(Spot, lengths(0, 900), lengths(0, 500)),
    clearance=lengths(0, 40),
)
shifts = st.just(0).map(Length.of) | st.integers(-60, 60).map(Length.of)
beds = st.builds(
    Bed,
    name=st.just("Trough"),
    outline=outlines,
    clearance=lengths(0, 20),
    joint_gap=lengths(0, 12),
    obstacles=st.lists(obstacles, max_size=2).map(tuple),
    rafts=st.builds(Split, st.integers(1, 3), st.integers(1, 2), shifts, shifts),
    planting=plantings,
)


def centres_in_bed(plan: BedPlan) -> np.ndarray:
    placed = []
    for raft in plan.rafts:
        xy = raft.design.holes.xy
        if raft.turned:
            xy = np.array([float(raft.design.shape.length), float(raft.design.shape.width)]) - xy
        placed.append(xy + np.array([raft.x, raft.y]))
    return np.vstack([np.empty((0, 2)), *placed])


@settings(max_examples=9)
@given(beds)
def test_a_plan_by_pattern_alone_breaks_no_rule(bed: Bed) -> None:
    planting = bed.planting
    assert planting is not None
    plan = plan_of(bed)
    radius = planting.hole_diameter.mm / 2
    least = max(planting.spacing.mm, 2 * radius + planting.web.mm) - 1e-5

    for raft in plan.rafts:
        xy = raft.design.holes.xy
        margin = max(planting.edge_margin.mm, planting.web.mm + radius)
        assert inside(xy, raft.design.shape.loop).all()
        assert (distance(xy, raft.design.shape.loop) >= margin - 1e-5).all()
        gaps = np.hypot(*(xy[:, None] - xy[None]).transpose(2, 0, 1))
        np.fill_diagonal(gaps, np.inf)
        assert (gaps >= least).all()
    centres = centres_in_bed(plan)
    for obstacle in bed.obstacles:
        assert obstacle.centre is not None
        assert isinstance(obstacle.shape, Disc)
        middle = obstacle.centre.x.mm, obstacle.centre.y.mm
        away = np.hypot(*(centres - middle).T) - obstacle.shape.diameter.mm / 2 - radius
        assert (away >= obstacle.clearance.mm - 1e-5).all()
    if planting.joints != "separate":
        gaps = np.hypot(*(centres[:, None] - centres[None]).transpose(2, 0, 1))
        np.fill_diagonal(gaps, np.inf)
        assert (gaps >= planting.spacing.mm - 1e-5).all()
    codes = {finding.code for finding in plan.findings if finding.severity == "problem"}
    assert not codes & {"spacing", "web", "edge", "joint", "obstacle"}
    assert plan.ceiling is not None
    assert plan.plants == len(centres) <= plan.ceiling
    assert plan.plants == max((tried.plants for tried in plan.tried), default=0)


@settings(max_examples=5)
@given(beds, beds, st.data())
def test_a_plan_made_from_the_one_before_is_the_same_plan(
    bed: Bed, other: Bed, data: st.DataObject
) -> None:
    first = make_plan(project(bed))
    steps = [bed]
    edited = bed
    if first.plants:
        raft = data.draw(st.sampled_from([r for r in first.beds[0].rafts if len(r.design.holes)]))
        x, y = raft.design.holes.xy[0].tolist()
        place = Length.rounded(x), Length.rounded(y)
        assert bed.planting is not None
        pin = Pin(raft.name, Length.rounded(x + 7), Length.rounded(y + 3), home=place)
        edited = replace(bed, planting=replace(bed.planting, pins=(pin,)))
        blank = replace(bed.planting, blanks=(Blank(raft.name, *place),))
        steps = [edited, replace(bed, planting=blank), bed]
    plan = first
    for step in [*steps, replace(bed, clearance=mm(25)), other, edited]:
        plan = make_plan(project(step), plan)
        assert plan == make_plan(project(step))


@settings(max_examples=8)
@given(
    st.sampled_from(JOINT_RULES),
    st.lists(
        st.tuples(st.integers(0, 5), st.integers(0, 7), st.integers(-90, 90), st.integers(-9, 90)),
        max_size=7,
    ),
)
def test_holes_moved_and_moved_back_one_by_one_give_the_plan_of_that_project(
    joints: JointRule, moves: list[tuple[int, int, int, int]]
) -> None:
    planting = Planting(mm(200), mm(50), pattern="square", edge_margin=mm(60), joints=joints)
    bed = Bed("Pond", Rectangle(mm(1835), mm(1215)), mm(5), mm(5), rafts=Split(3, 2))
    plan = make_plan(project(replace(bed, planting=planting)))
    homes = [(raft.name, *raft.design.holes.xy.tolist()) for raft in plan.beds[0].rafts]
    pins: list[Pin] = []
    for number, hole, right, up in [*moves, *moves[-2:]]:
        raft, *places = homes[number]
        x, y = places[hole % len(places)]
        home = Length.rounded(x), Length.rounded(y)
        pin = Pin(raft, Length.rounded(x + right), Length.rounded(y + up), home)
        pins = [one for one in pins if one != pin] + ([] if pin in pins else [pin])
        now = project(replace(bed, planting=replace(planting, pins=tuple(pins))))
        plan = make_plan(now, plan)
        assert plan == make_plan(now)


def two_rafts(**changes: object) -> Bed:
    planting = Planting(mm(200), mm(50), pattern="square", edge_margin=mm(60))
    bed = Bed("Bench", Rectangle(mm(1300), mm(600)), mm(10), mm(5), rafts=Split(2, 1))
    return replace(bed, planting=replace(planting, **changes))  # type: ignore[arg-type]


def test_what_did_not_change_is_the_same_object() -> None:
    bed = replace(two_rafts(), rafts=Split(4, 1), outline=Rectangle(mm(2600), mm(600)))
    first = make_plan(project(bed))
    x, y = first.beds[0].rafts[1].design.holes.xy[0].tolist()
    assert bed.planting is not None
    pin = Pin(
        "R2", Length.rounded(x + 5), Length.rounded(y), (Length.rounded(x), Length.rounded(y))
    )
    second = make_plan(project(replace(bed, planting=replace(bed.planting, pins=(pin,)))), first)

    before, after = first.beds[0].rafts, second.beds[0].rafts
    assert [now is then for now, then in zip(after, before, strict=True)] == [
        True, False, True, True,
    ]  # fmt: skip
    assert second.beds[0].layout is first.beds[0].layout
    assert second.plants == first.plants


def test_equal_rafts_are_one_design_and_the_wall_makes_a_difference() -> None:
    separate = plan_of(two_rafts(joints="separate"))
    assert len(separate.designs) == 1
    assert [raft.design.name for raft in separate.rafts] == ["bench-1", "bench-1"]


def test_interchangeable_rafts_keep_off_an_obstacle_turned_half_round_as_well() -> None:
    pipe = Obstacle("pipe", Disc(mm(60)), centre=Spot(mm(120), mm(130)), clearance=mm(60))
    plan = plan_of(replace(two_rafts(joints="interchangeable"), obstacles=(pipe,)))

    raft = plan.rafts[0]
    size = [float(raft.design.shape.length), float(raft.design.shape.width)]
    for places in (raft.design.holes.xy, size - raft.design.holes.xy):
        away = np.hypot(*(places - np.array([120 - raft.x, 130 - raft.y])).T)
        assert away.min() >= 30 + 60 + 25 - 1e-6


def test_interchangeable_rafts_share_every_hand_edit() -> None:
    bed = two_rafts(joints="interchangeable", blanks=(Blank("R2", mm(100), mm(100)),))
    plan = plan_of(bed)
    bare = plan_of(two_rafts(joints="interchangeable"))

    assert len(plan.designs) == 1
    assert plan.plants == bare.plants - 2


def test_a_blank_that_no_longer_applies_is_told() -> None:
    plan = plan_of(two_rafts(blanks=(Blank("R1", mm(-500), mm(100)), Blank("R9", mm(1), mm(1)))))

    assert sorted(f.code for f in plan.findings) == ["blank-idle", "blank-idle"]
    assert plan.plants == plan_of(two_rafts()).plants


def test_a_bed_that_crosses_itself_is_a_finding_and_the_others_are_planned() -> None:
    corners = tuple((mm(x), mm(y)) for x, y in ((0, 0), (900, 600), (900, 0), (0, 600)))
    crossed = Bed("Knot", Polygon(corners), planting=two_rafts().planting)
    plan = make_plan(Project("two", beds=(crossed, two_rafts())))

    assert [(f.code, f.severity) for f in plan.beds[0].findings] == [("bed-shape", "problem")]
    assert plan.beds[0].plants == 0
    assert plan.plants == plan.beds[1].plants > 0


def test_beds_of_like_names_get_file_names_of_their_own() -> None:
    beds = tuple(replace(two_rafts(), name=name) for name in ("Bench", "bench!", "Ört", "日本"))
    plan = make_plan(Project("names", beds=beds))

    names = [design.name for bed in plan.beds for design in bed.designs]
    assert len(set(names)) == len(names)
    assert all(name.isascii() for name in names)


@pytest.mark.parametrize("pattern", ["square", "best"])
def test_too_many_sites_are_refused_before_they_are_made(pattern: Pattern) -> None:
    planting = Planting(mm("0.01" + " mm"), mm("0.01 mm"), pattern=pattern)
    bed = Bed("Typo", Rectangle(mm(900), mm(600)), planting=planting)

    with pytest.raises(TooManyError, match="2\u202f000\u202f000"):
        plan_of(bed)


@settings(max_examples=8)
@given(lengths(600, 1600), lengths(300, 900), lengths(100, 250), st.sampled_from(JOINT_RULES))
def test_a_bed_turned_by_a_quarter_holds_as_many(
    length: Length, width: Length, spacing: Length, joints: JointRule
) -> None:
    planting = Planting(spacing, mm(40), pattern="best", edge_margin=mm(45), joints=joints)
    bed = Bed("B", Rectangle(length, width), mm(6), mm(4), rafts=Split(2, 1), planting=planting)
    turned = replace(bed, outline=Rectangle(width, length), rafts=Split(1, 2))

    assert plan_of(bed).plants == plan_of(turned).plants


def test_exact_fits_in_inches_lose_no_row() -> None:
    # 10 spacings of 7.5 in and the margins fill 79 in exactly: 11 holes, not 10.
    planting = Planting(mm("7.5 in"), mm("2 in"), pattern="square", edge_margin=mm("2 in"))
    bed = Bed("Inches", Rectangle(mm("79 in"), mm("19 in")), planting=planting)

    plan = plan_of(bed)

    assert plan.plants == 11 * 3
    assert plan.area_mm2 == pytest.approx(float(Fraction(79 * 19) * Fraction(254, 10) ** 2))


def test_what_would_make_room_for_a_raft_follows_the_planting() -> None:
    bed = replace(two_rafts(), clearance=mm(350), rafts=Split(1, 1))
    assert bed.planting is not None
    wider = replace(bed, planting=replace(bed.planting, edge_margin=mm(90)))

    assert make_plan(project(wider), make_plan(project(bed))) == make_plan(project(wider))
    assert plan_of(bed).findings != plan_of(wider).findings


def test_the_best_cut_plan_replaces_the_plain_one_and_is_searched_once() -> None:
    # Source: the reference cutting case raft-cut-10; its proved optimum is 11 sheets.
    rafts = ((1800, 1200, Split(4, 4)), (2320, 840, Split(4, 3)), (1400, 1050, Split(4, 3)))
    tanks = tuple(
        Bed(f"bed {number}", Rectangle(mm(long), mm(wide)), rafts=split)
        for number, (long, wide, split) in enumerate(rafts)
    )
    board = Sheet("board", mm(1200), mm(600))
    plain = make_plan(Project("North", beds=tanks, sheets=(board,), cutting=Cutting(mm(3))))

    best = with_best_cut(plain)

    assert [count for *_, count in best.needed] == [16, 12, 12]
    assert plain.cut.sheet_count > best.cut.sheet_count == 11
    assert best.cut.searched
    assert best.cut.proved
    assert best.beds is plain.beds
    assert with_best_cut(best) is best
