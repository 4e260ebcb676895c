"""Volumes of water by hand sums and published figures, each with its source."""

from fractions import Fraction
from math import pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.afloat.volumes import air_stones, rained, volumes_of
from geometry.afloat.water import oxygen_saturation, parse_warmth, warmth_text
from geometry.checks.finding import TakeFill
from geometry.checks.in_water import Surroundings, look_in_water
from geometry.errors import GeometryError, OutlineError
from geometry.model.allowances import Allowances
from geometry.model.bed import Bed
from geometry.model.limits import Limits
from geometry.model.outlines import Disc, LShape, Outline, Polygon, Rectangle, RoundEnded
from geometry.model.project import Project
from geometry.model.supplies import LITRES_PER_GALLON, parse_volume
from geometry.model.water import Walls, Water
from geometry.plan import make_plan
from geometry.rafts.layout import RaftLayout
from geometry.units import ZERO, Length, Unit
from layout_gui.project.edits import apply_cure
from tests.builders import make_loop

GALLON = float(LITRES_PER_GALLON)
_NO_RAFTS = RaftLayout(make_loop((0, 0), (900, 0), (0, 700)), (), ())


def _of(value: float | str | Fraction) -> Length:
    return Length.of(value)


def _walls(depth: float, length: float, width: float) -> Walls:
    return Walls(_of(depth), _of(length), _of(width))


def test_a_metric_bed_by_length_width_and_depth() -> None:
    # Job map, formula 12: 2.4 x 1.2 x 0.2 m.
    found = volumes_of(Rectangle(_of(2400), _of(1200)), Water(depth=_of(200)))
    assert found is not None
    assert found.working == pytest.approx(576, abs=1e-9)
    assert (found.low, found.high, found.fill) == (found.working,) * 3
    assert found.ratio == 1


@pytest.mark.parametrize(
    ("depth", "gallons", "metered", "per_site"),
    [("8 in", 159.6, "125 gal", 1.7), ("5 in", 99.7, "80 gal", 1.1)],
)
def test_a_sheet_sized_bed_and_what_growers_metered(
    depth: str, gallons: float, metered: str, per_site: float
) -> None:
    # Proceedings of the Florida State Horticultural Society, about 2008: 125 and 80 gal in a bed
    # of 4 x 8 ft with 72 sites (36 in 4 x 4 ft); by geometry 159.6 and 99.7 (job map, formula 12).
    water = Water(depth=_of(depth), metered=parse_volume(metered, "in"))
    found = volumes_of(Rectangle(_of("8 ft"), _of("4 ft")), water)
    assert found is not None
    assert found.working / GALLON == pytest.approx(gallons, abs=0.05)
    assert found.fill / GALLON == pytest.approx(float(metered.split(maxsplit=1)[0]))
    assert found.fill / GALLON / 72 == pytest.approx(per_site, abs=0.05)


def test_the_published_home_garden() -> None:
    # UF/IFAS HS184/HS943: 49 x 97 x 5 in of water is 389 L, 102.9 US gal (trade facts, section 9).
    found = volumes_of(Rectangle(_of("97 in"), _of("49 in")), Water(depth=_of("5 in")))
    assert found is not None
    assert found.working == pytest.approx(389.4, abs=0.1)
    assert found.working / GALLON == pytest.approx(102.9, abs=0.05)


def test_leaning_walls_make_a_frustum() -> None:
    # Volume of a frustum of a pyramid, h/3 (A + B + sqrt(AB)), any solid geometry textbook.
    water = Water(depth=_of(300), walls=_walls(300, 1000, 500))
    found = volumes_of(Rectangle(_of(1200), _of(600)), water)
    assert found is not None
    top, floor = 1200 * 600, 1000 * 500
    assert found.working == pytest.approx(
        300 / 3 * (top + floor + sqrt(top * floor)) / 1e6, rel=1e-12
    )


def test_a_round_tank_is_a_cone_cut_off() -> None:
    # Frustum of a cone, pi h/12 (D² + Dd + d²); the walls go on straight below the measuring.
    water = Water(depth=_of(400), low=_of(100), high=_of(50), walls=_walls(200, 1400, 1400))
    found = volumes_of(Disc(_of(1500)), water)
    assert found is not None

    def cone(upper: float, lower: float) -> float:
        wide, narrow = 1500 - upper / 2, 1500 - lower / 2
        return pi * (lower - upper) / 12 * (wide**2 + wide * narrow + narrow**2) / 1e6  # in litres

    assert found.working == pytest.approx(cone(0, 400), rel=1e-12)
    assert found.low == pytest.approx(cone(100, 400), rel=1e-12)
    assert found.high == pytest.approx(cone(-50, 400), rel=1e-12)
    assert found.top_up == pytest.approx(cone(0, 100), rel=1e-9)
    assert found.swing == pytest.approx(cone(-50, 100), rel=1e-9)
    assert found.open_area == pytest.approx(pi * 1525**2 / 4 / 1e6, rel=1e-12)
    assert found.deep == 450


def test_what_is_metered_scales_all_amounts() -> None:
    water = Water(depth=_of(200), low=_of(40), high=_of(20), metered=parse_volume("480 L", "mm"))
    found = volumes_of(Rectangle(_of(2400), _of(1200)), water)
    assert found is not None
    assert found.ratio == pytest.approx(480 / 576)
    assert found.top_up == pytest.approx(40 * 2.88 * 480 / 576)
    assert found.headroom == pytest.approx(20 * 2.88 * 480 / 576)


@settings(max_examples=20)
@given(
    st.integers(300, 3000),
    st.integers(300, 3000),
    st.integers(0, 60),
    st.integers(0, 60),
    st.integers(50, 500),
)
def test_volumes_add_up_from_layer_to_layer(
    length: int, width: int, less: int, narrower: int, depth: int
) -> None:
    """A bed is the layer above its low water and the bed that is left below."""
    width = min(width, length)  # or it would be longest the other way half way down
    outline = RoundEnded(_of(length + 400), _of(width))
    walls = _walls(depth, length + 400 - less, width - narrower)
    low = depth // 3
    found = volumes_of(outline, Water(depth=_of(depth), low=_of(low), walls=walls))
    assert found is not None
    assert 0 < found.low <= found.working
    slices = 200
    layer = 0.0
    for number in range(slices):
        down = (number + 0.5) / slices * low / depth
        long, wide = length + 400 - less * down, width - narrower * down
        long, wide = max(long, wide), min(long, wide)
        layer += (long - wide) * wide + pi * wide**2 / 4
    assert found.top_up == pytest.approx(layer / slices * low / 1e6, rel=1e-4, abs=1e-9)


@pytest.mark.parametrize(
    "outline",
    [
        Polygon(((ZERO, ZERO), (_of(900), ZERO), (ZERO, _of(700)))),
        LShape(_of(900), _of(700), _of(300), _of(200)),
    ],
)
def test_plumb_walls_need_nothing_but_the_area(outline: Outline) -> None:
    found = volumes_of(outline, Water(depth=_of(100)))
    assert found is not None
    assert found.working == pytest.approx(found.area * 100)


def test_no_depth_no_volume() -> None:
    assert volumes_of(Disc(_of(1500)), Water()) is None


def test_walls_that_meet_above_the_floor_are_told() -> None:
    water = Water(depth=_of(500), walls=_walls(100, 200, 200))
    with pytest.raises(OutlineError, match="leave no water"):
        volumes_of(Disc(_of(400)), water)


def test_a_plan_tells_why_there_are_no_volumes() -> None:
    bed = Bed(
        "bed",
        Polygon(((ZERO, ZERO), (_of(900), ZERO), (ZERO, _of(700)))),
        water=Water(depth=_of(100), walls=_walls(100, 800, 600)),
    )
    around = Surroundings(bed, (), (), Limits(), Allowances())
    looked = look_in_water(around, _NO_RAFTS, ())
    assert looked.volumes is None
    assert "not enough" in looked.no_volumes
    plumb = Surroundings(
        Bed("bed", bed.outline, water=Water(depth=_of(100))), (), (), Limits(), Allowances()
    )
    found = look_in_water(plumb, _NO_RAFTS, (), looked)
    assert found.volumes is not None
    assert found.volumes.working == pytest.approx(31.5)


def test_rain_thins_the_mix() -> None:
    # Job map, sections 2 and 8: 50 mm on 2.4 x 1.2 m adds 144 L to 576 L, a fifth of the mix.
    found = volumes_of(Rectangle(_of(2400), _of(1200)), Water(depth=_of(200), high=_of(30)))
    assert found is not None
    rain = rained(found, 50)
    assert rain.caught == pytest.approx(144)
    assert rain.share == pytest.approx(0.2)
    assert rain.over == pytest.approx(144 - 30 * 2.88)
    assert rained(found, 30).over == pytest.approx(0, abs=1e-9)
    assert rained(found, 0).share == 0
    with pytest.raises(GeometryError):
        rained(found, -1)


def test_air_stones_by_area() -> None:
    # FAO 589 (trade facts, section 4): one stone of about 4 L/min for 2 to 4 m².
    assert air_stones(2.88) == (1, 2)
    assert air_stones(4.0) == (1, 2)
    assert air_stones(8.1) == (3, 5)


def test_the_load_on_a_floor() -> None:
    # Trade facts, section 6: 10 cm of water is 99.8 kg/m² at 20 °C, 196 mm alone reach 40 lb/ft².
    found = volumes_of(Rectangle(_of(1000), _of(1000)), Water(depth=_of(100)))
    assert found is not None
    assert found.kilograms_a_m2 == pytest.approx(99.8, abs=0.05)
    assert found.kilograms == pytest.approx(99.8, abs=0.05)
    deck = volumes_of(Rectangle(_of(1000), _of(1000)), Water(depth=_of(196)))
    assert deck is not None
    pounds = deck.kilograms_a_m2 / 0.45359237 * 0.3048**2
    assert pounds == pytest.approx(40, abs=0.1)


@pytest.mark.parametrize(
    ("celsius", "milligrams"),
    [
        (0, 14.62),
        (4, 13.11),
        (10, 11.29),
        (15, 10.08),
        (18, 9.47),
        (20, 9.09),
        (22, 8.74),
        (24, 8.42),
        (25, 8.26),
        (28, 7.83),
        (30, 7.56),
    ],
)
def test_oxygen_by_temperature(celsius: float, milligrams: float) -> None:
    # APHA 1985 as worked in the trade facts, section 6; 8.4 at 24 °C is also called saturated by
    # Goto and others 1996, Acta Horticulturae 440: 205-210.
    assert oxygen_saturation(celsius) == pytest.approx(milligrams, abs=0.006)


def test_oxygen_of_no_water() -> None:
    with pytest.raises(GeometryError):
        oxygen_saturation(-1)


@pytest.mark.parametrize(
    ("text", "unit", "celsius", "shown"),
    [
        ("20", "mm", Fraction(20), "20 °C"),
        ("20,5 °C", "mm", Fraction(41, 2), "20.5 °C"),
        ("68 F", "mm", Fraction(20), "20 °C"),
        ("70", "in", Fraction(2111, 100), "70 °F"),
        ("0c", "in", Fraction(0), "32 °F"),
    ],
)
def test_temperatures_in_two_scales(text: str, unit: Unit, celsius: Fraction, shown: str) -> None:
    assert parse_warmth(text, unit) == celsius
    assert warmth_text(celsius, unit) == shown


@pytest.mark.parametrize("text", ["", "warm", "-3", "46", "20 K", "113.2 F"])
def test_temperatures_of_no_bed(text: str) -> None:
    with pytest.raises(GeometryError):
        parse_warmth(text, "mm")


@pytest.mark.parametrize(
    ("metered", "cure"),
    [
        ("125 L", TakeFill("125 gal")),  # a bed of 604 L, filled with 125 gallons
        ("473 gal", TakeFill("473 L")),
        ("250 L", None),
        ("2000 L", None),
    ],
)
def test_a_fill_that_does_not_go_with_the_size_is_asked_about(
    metered: str, cure: TakeFill | None
) -> None:
    outline = Rectangle(_of("8 ft"), _of("4 ft"))
    water = Water(depth=_of("8 in"), metered=parse_volume(metered, None))
    project = Project("p", beds=(Bed("tank", outline, water=water),))
    plan = make_plan(project)
    (found,) = (each for each in plan.findings if each.code == "metered-fill")
    assert (found.severity, found.cure) == ("question", cure)
    if cure is not None:
        cured = make_plan(apply_cure(project, plan, found))
        assert "metered-fill" not in {each.code for each in cured.findings}


@pytest.mark.parametrize("metered", ["125 gal", "80 gal", "604 L", "660 L"])
def test_fills_that_growers_recorded_are_not_asked_about(metered: str) -> None:
    water = Water(depth=_of("8 in"), metered=parse_volume(metered, None))
    bed = Bed("tank", Rectangle(_of("8 ft"), _of("4 ft")), water=water)
    plan = make_plan(Project("p", beds=(bed,)))
    assert "metered-fill" not in {each.code for each in plan.findings}
