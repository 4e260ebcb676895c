"""The handout for classes: large letters, sums that come out, nothing off the page."""

import re
from dataclasses import replace
from functools import cache
from math import prod
from pathlib import Path

import pytest

from geometry.drawing.handout import LEAST_MM, lay_handout
from geometry.drawing.handout_sums import TIMES, main_bed, sums_of
from geometry.drawing.paper import PAPERS
from geometry.model.bed import Bed, Split
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.plan import PlacedRaft, Plan, make_plan
from geometry.tongue import speaking
from geometry.units import Length
from layout_gui.project.file import load
from layout_gui.tongues import tongue_of
from tests import builders
from tests.geometry.drawing.on_page import collisions, strays, texts_of, words_of

SAMPLES = Path(__file__).parents[3] / "sample_projects"
NAMES = ("school-bench", "round-pool", "backyard-tanks", "market-bench")


@cache
def sample(name: str) -> Plan:
    return make_plan(load(SAMPLES / f"{name}.raft.json"))


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("paper", ["common", "Letter"])
@pytest.mark.parametrize("name", NAMES)
def test_letters_are_large_and_stand_on_the_page(name: str, paper: str, language: str) -> None:
    with speaking(tongue_of(language)):
        for page in lay_handout(sample(name), PAPERS[paper]).pages():
            assert strays(page) == [], page.name
            assert collisions(page) == [], page.name
            assert min(text.height for text in texts_of(page)) >= min(LEAST_MM, 6.0), page.name
            assert not any(text.text.endswith("…") for text in texts_of(page)), page.name


def test_it_tells_the_numbers_of_the_plan() -> None:
    words = " ".join(words_of(page) for page in lay_handout(sample("school-bench")).pages())

    for fact in (
        "4 rafts, 36 plants",
        "581.3 \N{MULTIPLICATION SIGN} 560 mm",
        "An adult drills 9 holes of 50 mm",
        "with an adult",
        "One group for each raft makes 4 groups.",
        "Only adults cut and drill.",
        "residual-current device",
        "4 \N{MULTIPLICATION SIGN} 9 = 36",
    ):
        assert fact in words, fact


def _worked(text: str) -> tuple[float, float]:
    """Reckon a working as a pupil would: what it comes to, and what it says."""
    left, _, right = text.replace("\N{DIVISION SIGN}", "/").partition(" = ")
    plain = re.sub(r"[a-z²³]+(?:/[a-z]+³)?", "", left.replace(",", ""))
    total = 0.0
    for part in plain.split("+"):
        above, _, below = part.partition("/")
        product = prod(float(each) for each in above.split(TIMES))
        total += product / float(below) if below else product
    return total, float(re.sub(r"[^0-9.]", "", right.replace(",", "")))


@pytest.mark.parametrize("units", ["mm", "cm", "in"])
@pytest.mark.parametrize("name", ["school-bench", "round-pool", "twin-raceways", "courtyard-l"])
def test_every_sum_comes_out_on_a_calculator(name: str, units: str) -> None:
    plan = sample(name)
    plan = replace(plan, project=replace(plan.project, units=units))
    bed = main_bed(plan)
    assert bed is not None

    for each in sums_of(plan, bed):
        working = each.working.replace("²", "").replace("³", "")
        found, said = _worked(working)
        assert found == pytest.approx(said, abs=0.0501), each.working


def test_the_count_of_the_sum_is_the_plans() -> None:
    for name in NAMES:
        plan = sample(name)
        bed = main_bed(plan)
        assert bed is not None
        (plants,) = [each for each in sums_of(plan, bed) if "the bed hold" in each.question]
        assert plants.working.endswith(f"= {bed.plants}")


@pytest.mark.parametrize(
    ("length", "width", "columns", "rows", "kg"),
    [(1219.2, 609.6, 6, 3, 6.9), (1219.2, 609.6, 7, 4, 10.1), (2438.4, 1219.2, 12, 6, 27.8)],
)
def test_a_raft_weighs_what_handbooks_assume(
    length: float, width: float, columns: int, rows: int, kg: float
) -> None:
    """Heads of 0.2 kg, wet pot and plug 0.12 kg, foam 50 mm of 32 kg/m3 (common practice, no
    source); 2 x 4 ft with 18 and 28 sites, 4 x 8 ft with 72, reckoned by hand."""
    holes = builders.make_grid(length, width, columns=columns, rows=rows)
    design = builders.make_design(shape=builders.make_shape(length, width), holes=holes)
    bed = builders.make_bed_plan([PlacedRaft("R1", design, 10, 10)])
    plan = builders.make_plan(bed)

    weight = next(each for each in sums_of(plan, bed) if "heavy" in each.question)

    assert weight.working.endswith(f"= {kg} kg")


@pytest.mark.parametrize(
    "planting",
    [
        None,
        Planting(Length.of(200), Length.of(50)),
        Planting(Length.of(200), Length.of(50), edge_margin=Length.of(300)),
    ],
)
def test_a_bed_without_a_crop_a_hole_or_a_planting_has_its_pages(planting: Planting | None) -> None:
    bed = Bed("Bed", Rectangle(Length.of(900), Length.of(500)), rafts=Split(2), planting=planting)
    pages = list(lay_handout(make_plan(Project("test", beds=(bed,)))).pages())

    assert len(pages) >= 6
    assert not any(strays(page) or collisions(page) for page in pages)


def test_without_rafts_it_says_so() -> None:
    (page,) = lay_handout(make_plan(Project("empty"))).pages()

    assert "There are no rafts yet." in words_of(page)
