"""Places on whole steps of the tape: every rule holds, no plant is lost, rows stay straight."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.checks.finding import SetLength
from geometry.holes.names import site_names
from geometry.model.bed import Bed, Obstacle, One, Split, Spot
from geometry.model.outlines import Disc, LShape, Outline, Rectangle, Tapered
from geometry.model.planting import JOINT_RULES, Pin, Planting
from geometry.model.project import Project
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import BedPlan, make_plan
from geometry.units import ZERO, Length

ONE = One()
STEPS = ("1 mm", "1/16 in", "5 mm")


def _planned(bed: Bed) -> BedPlan:
    return make_plan(Project("Trial", beds=(bed,))).beds[0]


def _stepped(bed: Bed, step: str) -> Bed:
    assert bed.planting is not None
    return replace(bed, planting=replace(bed.planting, round_to=Length.of(step)))


def _bed(
    outline: Outline,
    spacing: float | str,
    *,
    margin: float | str = 60,
    rafts: One | Split = ONE,
    obstacles: tuple[Obstacle, ...] = (),
    **planting: object,
) -> Bed:
    return Bed(
        "Bench",
        outline,
        clearance=Length.of(10),
        joint_gap=Length.of(5) if isinstance(rafts, Split) else ZERO,
        obstacles=obstacles,
        rafts=rafts,
        planting=Planting(
            Length.of(spacing),
            Length.of(50),
            edge_margin=Length.of(margin),
            web=Length.of(25),
            **planting,  # type: ignore[arg-type]
        ),
    )


def _off_step(plan: BedPlan) -> int:
    """Holes, over all designs, that are not on the steps."""
    assert plan.bed.planting is not None
    assert plan.bed.planting.round_to is not None
    step = plan.bed.planting.round_to.mm
    found = 0
    for design in plan.designs:
        over = design.holes.xy / step
        found += int((np.abs(over - np.round(over)) * step > 1e-6).any(axis=1).sum())
    return found


def _told(plan: BedPlan) -> int:
    """Holes that findings say kept their exact places, over all designs."""
    return sum(int(found.subject) for found in plan.findings if found.code == "rounding")


def _nearest_in_bed(plan: BedPlan) -> float:
    """Least distance of two plants of a bed, found from every pair."""
    places = []
    for raft in plan.rafts:
        xy = raft.design.holes.xy
        size = np.array([float(raft.design.shape.length), float(raft.design.shape.width)])
        places.append((size - xy if raft.turned else xy) + (raft.x, raft.y))
    xy = np.concatenate(places)
    gaps = np.hypot(*(xy[:, None] - xy[None]).transpose(2, 0, 1))
    np.fill_diagonal(gaps, np.inf)
    return float(gaps.min(initial=np.inf))


outlines = st.one_of(
    st.builds(
        Rectangle,
        st.integers(5000, 15000).map(lambda n: Length(Fraction(n, 10))),
        st.integers(3000, 9000).map(lambda n: Length(Fraction(n, 10))),
    ),
    st.integers(5000, 9000).map(lambda n: Disc(Length(Fraction(n, 10)))),
    st.integers(7000, 9000).map(
        lambda n: LShape(Length(Fraction(n, 10)), Length.of(600), Length.of(300), Length.of(250))
    ),
    st.integers(3000, 6000).map(
        lambda n: Tapered(Length.of(900), Length.of(600), Length(Fraction(n, 10)))
    ),
)


@settings(max_examples=10, deadline=None)
@given(
    outlines,
    st.integers(1100, 2500),
    st.sampled_from(STEPS),
    st.sampled_from(JOINT_RULES),
    st.sampled_from(["square", "hexagonal", "staggered", "rectangular"]),
    st.booleans(),
    st.sampled_from([ONE, Split(2, 1), Split(2, 2)]),
    st.booleans(),
)
def test_rounding_loses_no_plant_and_breaks_no_rule(
    outline: Outline, tenths: int, step: str, joints: str, pattern: str, spread: bool,
    rafts: One | Split, piped: bool,
) -> None:  # fmt: skip
    pipe = Obstacle("pipe", Disc(Length.of(40)), centre=Spot(Length.of(300), Length.of(200)))
    bed = _bed(
        outline,
        f"{tenths / 10} mm",
        rafts=rafts,
        obstacles=(replace(pipe, clearance=Length.of(20)),) if piped else (),
        joints=joints,
        pattern=pattern,
        spread=spread,
    )
    exact, plan = _planned(bed), _planned(_stepped(bed, step))

    assert plan.plants == exact.plants
    assert _off_step(plan) == _told(plan)
    before = [finding for finding in exact.findings if finding.severity == "problem"]
    after = [finding for finding in plan.findings if finding.severity == "problem"]
    assert len(after) <= len(before)
    if joints != "separate" and not before:
        assert _nearest_in_bed(plan) >= tenths / 10 - 1e-6


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("pattern", ["square", "hexagonal", "rectangular"])
@pytest.mark.parametrize("spread", [True, False])
def test_rows_stay_straight_and_columns_too(step: str, pattern: str, spread: bool) -> None:
    rows = Length.of(210) if pattern == "rectangular" else None
    outline = Rectangle(Length.of(1250), Length.of(790))
    bed = _bed(outline, 180.3, pattern=pattern, spread=spread, row_spacing=rows)
    exact, plan = _planned(bed), _planned(_stepped(bed, step))

    assert not plan.findings
    assert _off_step(plan) == 0
    for axis in range(2):
        before, after = (p.designs[0].holes.xy[:, axis].round(5) for p in (exact, plan))
        assert len(np.unique(before)) == len(np.unique(after))
    if rows:
        levels = np.unique(plan.designs[0].holes.xy[:, 1].round(6))
        across = np.unique(plan.designs[0].holes.xy[:, 0].round(6))
        assert max(np.diff(levels).min(), np.diff(across).min()) >= 210 - 1e-6


def test_a_pitch_between_two_steps_is_opened_where_there_is_room() -> None:
    # 6 gaps of 186.5 are 1119; rounded up they are 1122 of the 1130 there are.
    bed = _bed(Rectangle(Length.of(1270), Length.of(400)), 186.5, pattern="square", spread=False)

    plan = _planned(_stepped(bed, "1 mm"))

    x = np.unique(plan.designs[0].holes.xy[:, 0])
    assert np.diff(x).tolist() == [187.0] * 6
    assert x[0] >= 60
    assert x[-1] <= 1250 - 60


def test_where_no_whole_step_is_legal_the_exact_places_are_kept_and_told_of() -> None:
    # Centres may stand on exactly 3 spacings of 186.7, so no gap can be opened to 187.
    outline = Rectangle(Length(3 * Fraction("186.7") + 140), Length.of(300))
    bed = _bed(outline, "186.7 mm", pattern="square")

    exact, plan = _planned(bed), _planned(_stepped(bed, "1 mm"))

    (finding,) = plan.findings
    assert (finding.code, finding.severity, finding.limit_mm) == ("rounding", "note", 1.0)
    assert finding.amount_mm == pytest.approx(0.7)
    assert plan.plants == exact.plants == 4
    assert _off_step(plan) == int(finding.subject) == 3
    assert np.allclose(plan.designs[0].holes.xy, exact.designs[0].holes.xy, atol=1e-6)
    assert finding.cure == SetLength("planting.spacing", 186.0)
    cured = _planned(_stepped(replace(bed, planting=replace(
        bed.planting, spacing=Length.of(finding.cure.mm)  # type: ignore[type-var]
    )), "1 mm"))  # fmt: skip
    assert not cured.findings
    assert cured.plants >= plan.plants


def test_inches_are_rounded_to_exact_sixteenths() -> None:
    outline = Rectangle(Length.of("48 in"), Length.of("24 in"))
    bed = _bed(outline, "7 1/8 in", margin="2 3/4 in", pattern="hexagonal")

    plan = _planned(_stepped(bed, "1/16 in"))

    sixteenths = plan.designs[0].holes.xy / 25.4 * 16
    assert np.abs(sixteenths - sixteenths.round()).max() < 1e-6
    assert not plan.findings


def test_holes_placed_by_hand_stay_as_typed() -> None:
    bed = _bed(Rectangle(Length.of(1250), Length.of(790)), 180, pattern="square")
    name = "B2"
    exact = _planned(bed).designs[0].holes
    x, y = exact.xy[exact.names.index(name)].tolist()
    pin = Pin("R1", Length.of(f"{x + 0.31:.2f} mm"), Length.of(f"{y:.2f} mm"))
    assert bed.planting is not None
    pinned = replace(bed, planting=replace(bed.planting, pins=(pin,)))

    holes = _planned(_stepped(pinned, "1 mm")).designs[0].holes

    assert holes.xy[holes.names.index(name)].tolist() == [pin.x.mm, pin.y.mm]


def test_thousands_of_equal_rafts_are_rounded_once_and_stay_one_design() -> None:
    bed = _bed(
        Rectangle(Length.of("60 m"), Length.of("60 m")), 187.3,
        rafts=Split(50, 50), joints="interchangeable",
    )  # fmt: skip

    plan = _planned(_stepped(bed, "1 mm"))

    assert len(plan.rafts) == 2500
    assert len(plan.designs) == 1
    assert _off_step(plan) == 0


def test_the_names_of_the_holes_stay_the_same() -> None:
    bed = _bed(Disc(Length.of(900)), 150, pattern="hexagonal")
    exact, plan = _planned(bed), _planned(_stepped(bed, "1 mm"))

    assert plan.designs[0].holes.names == exact.designs[0].holes.names
    assert plan.steps is not None
    assert plan.designs[0].holes.names == site_names(plan.steps.pattern.sites[0].rows)


def test_without_a_step_nothing_is_rounded() -> None:
    plan = _planned(_bed(Disc(Length.of(900)), 150))

    assert plan.steps is not None
    assert plan.steps.pattern.kept == ()


def test_a_zone_with_a_narrower_margin_keeps_its_own() -> None:
    # Lettuce keeps 60 from the edge, the herbs 30: rounded, they still use what is theirs.
    bed = _bed(Rectangle(Length.of(1250), Length.of(790)), 180, pattern="square")
    herbs = ZoneRules(spacing=Length.of("90.4 mm"), edge_margin=Length.of("30.3 mm"))
    corner = (Length.of(0), Length.of(0))
    zone = Zone("herbs", herbs, shape=Rectangle(Length.of(600), Length.of(790)), corner=corner)
    bed = replace(bed, zones=(zone,))
    exact, plan = _planned(bed), _planned(_stepped(bed, "1 mm"))

    assert plan.plants == exact.plants
    assert plan.findings == exact.findings
    assert _off_step(plan) == 0
    assert plan.designs[0].holes.xy[:, 0].min() < 60


@pytest.mark.parametrize("step", ["1/4 in", "10 mm"])
def test_a_zone_of_wider_spacing_keeps_it_on_the_steps(step: str) -> None:
    # A row of 403 mm in a bed of 280 mm: rounded down to 400, the plants would stand too close.
    bed = _bed(Rectangle(Length.of(1300), Length.of(270)), 280, pattern="square", spread=False)
    corner = (Length.of(0), Length.of(0))
    shape = Rectangle(Length.of(1148), Length.of(270))
    zone = Zone("kale", ZoneRules(spacing=Length.of(403)), shape=shape, corner=corner)
    bed = _stepped(replace(bed, zones=(zone,)), step)
    plan = _planned(bed)

    holes = plan.designs[0].holes
    own = holes.xy[holes.numbers == 1]
    gaps = np.hypot(*(own[:, None] - own).T)[np.triu_indices(len(own), 1)]
    assert len(own) == 2
    assert gaps.min() >= 403 - 1e-6
    assert "spacing" not in {finding.code for finding in plan.findings}


@settings(max_examples=6)
@given(
    st.integers(300, 900),
    st.integers(150, 500),
    st.sampled_from([(0, 0), (203, 57), (311, 142)]),
    st.sampled_from(["1 mm", "10 mm", "1/4 in"]),
    st.sampled_from([110, 203, 260]),
)
def test_rounded_or_not_every_hole_stays_on_the_part_of_its_planting(
    length: int, width: int, corner: tuple[int, int], step: str, spacing: int
) -> None:
    shape = Rectangle(Length.of(length), Length.of(width))
    at = (Length.of(corner[0]), Length.of(corner[1]))
    zone = Zone("herbs", ZoneRules(spacing=Length.of(spacing)), shape=shape, corner=at)
    bed = replace(_bed(Rectangle(Length.of(1230), Length.of(610)), 180), zones=(zone,))
    exact, plan = _planned(bed), _planned(_stepped(bed, step))

    holes, corner_of_raft = plan.designs[0].holes, np.array([plan.rafts[0].x, plan.rafts[0].y])
    low = np.array(corner) - corner_of_raft
    high = low + np.array([length, width])
    inside = np.minimum(holes.xy - low, high - holes.xy).min(axis=1)
    assert (inside[holes.numbers == 1] >= -1e-6).all()
    assert (inside[holes.numbers == 0] <= 0).all()
    assert plan.plants == exact.plants


def test_the_pattern_is_not_laid_anew_when_only_the_step_changes() -> None:
    bed = _bed(Disc(Length.of(900)), 150, pattern="hexagonal")
    first = make_plan(Project("Trial", beds=(bed,)))
    second = make_plan(Project("Trial", beds=(_stepped(bed, "1 mm"),)), first)
    third = make_plan(Project("Trial", beds=(_stepped(bed, "5 mm"),)), second)
    last = make_plan(Project("Trial", beds=(bed,)), third)

    steps = [plan.beds[0].steps for plan in (first, second, third, last)]
    laid = [each.pattern for each in steps if each is not None]
    assert laid[1].exact is laid[2].exact is laid[3] is laid[0]
    assert second == make_plan(Project("Trial", beds=(_stepped(bed, "1 mm"),)))
