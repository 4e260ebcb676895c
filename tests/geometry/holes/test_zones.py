"""Beds with zones: the pair rules by brute force, counts by crop, and what cannot be lost."""

from dataclasses import replace
from fractions import Fraction
from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from geometry.beds.outline import zone_loop
from geometry.holes.bed_ceiling import bed_ceiling
from geometry.holes.claims import claims_of, raft_kinds
from geometry.holes.place import least_apart
from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.measure import Gauge
from geometry.model.outlines import Disc, LShape, Outline, Polygon, Rectangle, RoundEnded
from geometry.model.planting import JOINT_RULES, JointRule, Planting
from geometry.model.project import Project
from geometry.model.zone import Zone, ZoneRules, all_plantings
from geometry.plan import BedPlan, PlacedRaft, make_plan
from geometry.rafts.layout import neighbour_ways
from geometry.rafts.split import lay_rafts
from geometry.units import Length


def mm(value: float) -> Length:
    return Length.of(value)


LETTUCE = Planting(
    mm(200), mm(50), crop="lettuce", pattern="square", edge_margin=mm(60), web=mm(25)
)
BASIL = ZoneRules(crop="basil", spacing=mm(120), hole_diameter=mm(40), pattern="square")


def bed_of(*zones: Zone, joints: JointRule = "bed-wide", **changes: object) -> Bed:
    planting = replace(LETTUCE, joints=joints)
    bed = Bed(
        "Bench", Rectangle(mm(2420), mm(1220)), mm(10), mm(5), (), Split(2, 1), planting, zones
    )
    return replace(bed, **changes)  # type: ignore[arg-type]  # a test's own keywords


def area(outline: Outline, x: float, y: float, rules: ZoneRules = BASIL) -> Zone:
    return Zone("herbs", rules, outline, corner=(mm(x), mm(y)))


def planned(bed: Bed) -> BedPlan:
    return make_plan(Project("test", beds=(bed,))).beds[0]


def in_bed(raft: PlacedRaft) -> np.ndarray:
    """Where the holes of a raft are in the bed; a turned raft lies half round."""
    xy = raft.design.holes.xy
    if raft.turned:
        xy = np.array([float(raft.design.shape.length), float(raft.design.shape.width)]) - xy
    return xy + np.array([raft.x, raft.y])


def broken_pairs(plan: BedPlan) -> list[tuple[str, str, float]]:
    """Every pair of plants nearer than its own rule, measured one by one.

    The rule, common practice: the mean of the two spacings, on a raft and across joints; on a raft
    the rims also keep the larger web.
    """
    plantings = plan.plantings
    holes = [
        (raft.name, name, number, x, y)
        for raft in plan.rafts
        for name, number, (x, y) in zip(
            raft.design.holes.names,
            raft.design.holes.numbers.tolist(),
            in_bed(raft).tolist(),
            strict=True,
        )
    ]
    broken = []
    for one, other in combinations(holes, 2):
        same_raft = one[0] == other[0]
        if not same_raft and plantings[0].joints == "separate":
            continue
        a, b = plantings[one[2]], plantings[other[2]]
        least = (a.spacing.mm + b.spacing.mm) / 2
        if same_raft:
            radii = (a.hole_diameter.mm + b.hole_diameter.mm) / 2
            least = max(least, radii + max(a.web.mm, b.web.mm))
        apart = float(np.hypot(one[3] - other[3], one[4] - other[4]))
        if apart < least - 1e-6:
            broken.append((f"{one[0]} {one[1]}", f"{other[0]} {other[1]}", apart - least))
    return broken


def crops(plan: BedPlan) -> dict[str, int]:
    return {count.crop: count.plants for count in plan.crops}


def test_the_least_distance_of_unlike_crops_is_the_mean_or_what_their_rims_ask() -> None:
    basil = replace(LETTUCE, spacing=mm(120), hole_diameter=mm(40))

    assert least_apart(LETTUCE, basil) == 160
    assert least_apart(LETTUCE, replace(basil, web=mm(200))) == Fraction(245)
    assert least_apart(LETTUCE, LETTUCE) == 200


def test_what_a_zone_leaves_out_is_as_in_the_bed() -> None:
    zone = Zone("herbs", ZoneRules(crop="basil", spread=False), rafts=("R1",))

    own, other = all_plantings(LETTUCE, [zone])

    assert own is LETTUCE
    assert other == replace(LETTUCE, crop="basil", spread=False)


def test_a_whole_raft_zone_counts_as_its_raft_would_alone() -> None:
    plan = planned(bed_of(Zone("herbs", BASIL, rafts=("R2",)), joints="separate"))

    # 1197.5 x 1200 mm rafts, 60 mm margins: floor(1077.5 / 200) + 1 = 6 by 6 lettuce and
    # floor(1077.5 / 120) + 1 = 9 by 10 basil (rows on a line, job-map formula 1).
    assert crops(plan) == {"lettuce": 36, "basil": 90}
    assert plan.plants == 126
    assert not plan.findings
    assert {float(d) for d in plan.rafts[1].design.holes.diameters} == {40.0}
    assert broken_pairs(plan) == []


def test_a_strip_over_part_of_a_raft_is_laid_in_boxes() -> None:
    plan = planned(bed_of(area(Rectangle(mm(510), mm(3000)), -10, -10), joints="separate"))

    assert broken_pairs(plan) == []
    assert not [finding for finding in plan.findings if finding.severity == "problem"]
    # R1 keeps at least what half-and-half gives by rows on lines: the strip ends 490 mm into the
    # raft; basil floor((490 - 60 - 60) / 120) + 1 = 4 by 10, lettuce to the right of it
    # floor((1197.5 - 490 - 100 - 60) / 200) + 1 = 3 by 6.
    assert len(plan.rafts[0].design.holes) >= 4 * 10 + 3 * 6
    assert len(plan.rafts[1].design.holes) == 36


@pytest.mark.parametrize(
    "shape",
    [Disc(mm(700)), Rectangle(mm(500), mm(400)), LShape(mm(600), mm(500), mm(200), mm(200))],
)
def test_plants_lie_in_the_part_that_is_theirs(shape: Outline) -> None:
    bed = bed_of(area(shape, 250, 300))
    plan = planned(bed)
    loop = zone_loop(bed.zones[0])
    assert loop is not None
    depth = Gauge.of(loop).signed_distance

    for raft in plan.rafts:
        at, numbers = in_bed(raft), raft.design.holes.numbers
        assert (depth(at[numbers == 1]) >= -1e-6).all()
        assert (depth(at[numbers == 0]) <= 1e-6).all()
    assert crops(plan)["basil"] > 0
    assert broken_pairs(plan) == []


def test_later_zones_lie_on_earlier_ones() -> None:
    below = area(Rectangle(mm(900), mm(900)), 100, 100)
    above = Zone("flowers", ZoneRules(crop="chard"), Disc(mm(500)), centre=(mm(550), mm(550)))
    bed = bed_of(below, above)
    claims = claims_of(bed, lay_rafts(bed))[0]

    assert claims.plantings_at(np.array([[540.0, 540.0], [150, 150], [1100, 1100]])).tolist() == [
        2,
        1,
        0,
    ]
    corner = np.array([lay_rafts(bed).rafts[0].x, lay_rafts(bed).rafts[0].y], dtype=float)
    hair = np.array([[101.0, 300], [99, 300], [300, 999], [300, 1001]]) - corner
    assert claims.plantings_at(hair).tolist() == [1, 0, 1, 0]
    plan = planned(bed)
    assert min(crops(plan).values()) > 0
    assert broken_pairs(plan) == []


def test_a_zone_over_all_of_a_raft_is_the_same_as_naming_it() -> None:
    drawn = bed_of(area(Rectangle(mm(1205), mm(3000)), 1209, -5))
    named = bed_of(Zone("herbs", BASIL, rafts=("R2",)))

    one, other = planned(drawn), planned(named)

    assert [len(raft.design.holes) for raft in one.rafts] == [
        len(raft.design.holes) for raft in other.rafts
    ]
    assert one.rafts[1].design.holes == other.rafts[1].design.holes


def test_rafts_covered_alike_are_one_design() -> None:
    strip = area(Rectangle(mm(10000), mm(300)), -10, -10)
    plan = planned(bed_of(strip, outline=Rectangle(mm(6000), mm(1220)), rafts=Split(7, 1)))

    assert len({raft.design.name for raft in plan.rafts}) <= 3  # the ends and the middle
    assert broken_pairs(plan) == []


def test_without_zones_nothing_is_different() -> None:
    bed = bed_of()
    layout = lay_rafts(bed)

    assert {one.over for one in claims_of(bed, layout)} == {()}
    assert planned(bed).by_planting == ()
    assert planned(bed).rafts[0].design.holes.plantings is None


def test_interchangeable_rafts_of_unlike_plantings_are_kinds_of_their_own() -> None:
    bed = bed_of(
        Zone("herbs", BASIL, rafts=("R2",)),
        area(Disc(mm(300)), 2000, 200, ZoneRules(crop="chard")),
        joints="interchangeable",
        rafts=Split(4, 1),
    )
    kinds = raft_kinds(bed, lay_rafts(bed))

    assert kinds["R1"] == kinds["R3"]
    assert len({kinds["R1"], kinds["R2"], kinds["R4"]}) == 3
    assert broken_pairs(planned(bed)) == []


def broken_in_another_place(plan: BedPlan) -> list[float]:
    """Plants of two rafts too near each other when the rafts lie side by side in another way."""
    plantings, gap = plan.plantings, plan.bed.joint_gap.mm
    spacing = np.array([each.spacing.mm for each in plantings])
    broken: list[float] = []
    for one, other in product(plan.designs, repeat=2):
        if one.shape is not other.shape or not one.shape.is_rectangle:
            continue
        size = np.array([float(one.shape.length), float(one.shape.width)])
        for way in neighbour_ways(plan.layout.rafts):
            shift = np.array(way) * (size + gap)
            for here, there in product((one.holes.xy, size - one.holes.xy),
                                       (other.holes.xy, size - other.holes.xy)):  # fmt: skip
                apart = np.hypot(*(here[:, None] - there[None] - shift).transpose(2, 0, 1))
                least = (spacing[one.holes.numbers][:, None] + spacing[other.holes.numbers]) / 2
                broken += (apart - least)[apart < least - 1e-6].tolist()
    return broken


@pytest.mark.parametrize(
    ("joints", "others"), [("bed-wide", (9, 9, 9)), ("interchangeable", (8, 8, 8))]
)
def test_a_zone_on_one_raft_leaves_the_others_what_they_had(
    joints: JointRule, others: tuple[int, ...]
) -> None:
    # Four rafts of 581 x 560 mm with 200 mm spacing and 60 mm margins: half a spacing at every
    # joint would cost every raft a row.
    plain = bed_of(joints=joints, outline=Rectangle(mm(2360), mm(580)), rafts=Split(4, 1))
    plain = replace(plain, planting=replace(LETTUCE, pattern="best", joints=joints))
    zoned = replace(plain, zones=(Zone("other", ZoneRules(crop="chard"), rafts=("R1",)),))

    counts = [len(raft.design.holes) for raft in planned(zoned).rafts]

    assert tuple(counts[1:]) == others
    assert counts[1:] == [len(raft.design.holes) for raft in planned(plain).rafts][1:]
    assert broken_pairs(planned(zoned)) == []
    if joints == "interchangeable":
        assert broken_in_another_place(planned(zoned)) == []


shapes = st.one_of(
    st.builds(Rectangle, st.integers(80, 1500).map(mm), st.integers(80, 1500).map(mm)),
    st.builds(Disc, st.integers(80, 900).map(mm)),
    st.builds(RoundEnded, st.integers(200, 900).map(mm), st.integers(80, 400).map(mm)),
    st.just(Polygon(((mm(0), mm(0)), (mm(700), mm(100)), (mm(300), mm(600))))),
)
rules = st.builds(
    ZoneRules,
    crop=st.sampled_from(["basil", "chard"]),
    spacing=st.integers(90, 320).map(mm),
    hole_diameter=st.integers(20, 90).map(mm),
    pattern=st.sampled_from(["square", "hexagonal", "rows"]),
    web=st.none() | st.integers(0, 60).map(mm),
    edge_margin=st.none() | st.integers(0, 90).map(mm),
)
zones = st.one_of(
    st.builds(
        Zone,
        st.just("herbs"),
        rules,
        shapes,
        corner=st.tuples(st.integers(-200, 2000).map(mm), st.integers(-200, 1000).map(mm)),
    ),
    st.builds(Zone, st.just("herbs"), rules, rafts=st.sampled_from([("R1",), ("R2",)])),
)


def _named(found: list[Zone]) -> tuple[Zone, ...]:
    return tuple(replace(zone, name=f"zone {n}") for n, zone in enumerate(found))


@settings(max_examples=10, phases=[Phase.explicit, Phase.reuse, Phase.generate])
@given(
    st.lists(zones, min_size=1, max_size=3).map(_named),
    st.sampled_from(JOINT_RULES),
    st.booleans(),
    st.booleans(),
)
def test_no_zones_break_a_rule_and_counts_add_up(
    found: tuple[Zone, ...], joints: JointRule, is_odd: bool, has_pipe: bool
) -> None:
    outline: Outline = Rectangle(mm(2000), mm(900))
    if is_odd:
        outline = RoundEnded(mm(2000), mm(900))
    pipe = Obstacle("pipe", Disc(mm(60)), Spot(mm(600), mm(400)), None, mm(20))
    bed = bed_of(*found, joints=joints, outline=outline, obstacles=(pipe,) if has_pipe else ())

    plan = planned(bed)

    assert broken_pairs(plan) == []
    if joints == "interchangeable":
        assert broken_in_another_place(plan) == []
    codes = {finding.code for finding in plan.findings if finding.severity == "problem"}
    assert codes <= {"zone-outside", "zone-empty", "no-room"}
    assert sum(count.plants for count in plan.crops) == plan.plants
    assert plan.plants == sum(len(raft.design.holes) for raft in plan.rafts)
    assert sum(tried.plants for tried in plan.by_planting if tried) == plan.plants
    assert plan.ceiling is not None
    assert plan.plants <= plan.ceiling
    for raft in plan.rafts:
        holes = raft.design.holes
        assert len(set(holes.names)) == len(holes)
        sizes = np.array([each.hole_diameter.mm for each in plan.plantings])
        assert np.array_equal(holes.diameters, sizes[holes.numbers])


def test_the_ceiling_counts_with_the_least_distance_on_a_raft() -> None:
    bed = bed_of(Zone("herbs", BASIL, rafts=("R2",)), joints="separate")
    layout = lay_rafts(bed)
    alone = [
        bed_ceiling(replace(bed, zones=(), planting=planting), layout)
        for planting in all_plantings(replace(LETTUCE, joints="separate"), bed.zones)
    ]

    assert alone[0] is not None
    assert alone[1] is not None
    assert bed_ceiling(bed, layout) == alone[0] // 2 + alone[1] // 2


def test_rounding_to_the_tape_holds_each_crop_to_its_own_distances() -> None:
    strip = replace(area(Rectangle(mm(400), mm(3000)), -5, -5), name="strip")
    bed = bed_of(Zone("herbs", BASIL, rafts=("R2",)), strip)
    assert bed.planting is not None
    on_tape = replace(bed, planting=replace(bed.planting, round_to=mm(1)))

    plan = planned(on_tape)

    assert plan.plants == planned(bed).plants
    for raft in plan.rafts:
        places = raft.design.holes.xy
        assert np.abs(places - places.round()).max() < 1e-6
    assert broken_pairs(plan) == []
