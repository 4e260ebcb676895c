"""The shopping list on paper: all of it stands on the page and says what the plan says."""

from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from geometry.drawing.paper import PAPERS
from geometry.drawing.shopping_pages import lay_shopping
from geometry.model.project import Project
from geometry.model.supplies import Packed, Paint, Strip, Supplies, parse_volume
from geometry.plan import Plan, make_plan
from geometry.tongue import speaking
from geometry.units import Length
from layout_gui.project.file import load
from layout_gui.tongues import tongue_of
from tests.geometry.drawing.on_page import collisions, strays, texts_of, words_of

SAMPLES = Path(__file__).parents[3] / "sample_projects"
FULL = Supplies(
    (Length.of(50),),
    10,
    Packed(50, Fraction("6.5")),
    Packed(25, Fraction(1234567)),
    Strip(Length.of("50 ft"), Fraction(9)),
    Paint(tin=parse_volume("1 gal", None), price=Fraction(32)),
)


@cache
def sample(name: str) -> Plan:
    return make_plan(load(SAMPLES / f"{name}.raft.json"))


def shown(plan: Plan, supplies: Supplies, name: str = "") -> Plan:
    project = replace(plan.project, supplies=supplies, name=name or plan.project.name)
    return replace(plan, project=project)


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("paper", ["common", "A4", "Letter"])
@pytest.mark.parametrize("name", ["school-bench", "backyard-tanks"])
def test_nothing_stands_off_the_page_or_on_top_of_another(
    name: str, paper: str, language: str
) -> None:
    plan = shown(sample(name), FULL, "A project with a name that is far too long for its line " * 3)
    with speaking(tongue_of(language)):
        pages = list(lay_shopping(plan, PAPERS[paper]).pages())

    assert len(pages) == 1
    assert strays(pages[0]) == []
    assert collisions(pages[0]) == []


def test_it_says_what_to_ask_for_and_what_it_was_reckoned_with() -> None:
    (page,) = lay_shopping(shown(sample("school-bench"), FULL)).pages()
    words = words_of(page)

    for fact in (
        "36",
        "1 pack of 50",
        "7.56 m",
        "1 roll of 50 ft",
        "1 tin of 1 gal",
        "Together",
        "10 % spares",
        "Saws you have: 50 mm for 36 holes.",
        "lettuce, head",
        "5.88 m once around",
    ):
        assert fact in words, fact


def test_inches_are_bought_by_feet_and_gallons() -> None:
    (page,) = lay_shopping(sample("backyard-tanks")).pages()
    words = words_of(page)

    assert " ft " in words
    assert "US gal" in words
    assert "on hand" in words


def test_a_project_without_rafts_says_so() -> None:
    (page,) = lay_shopping(make_plan(Project("empty"))).pages()

    assert "nothing to buy" in words_of(page)
    assert len(texts_of(page)) < 6
