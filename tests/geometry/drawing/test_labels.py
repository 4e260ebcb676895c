"""Raft labels: one for each raft, all of it within its lines."""

from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import ceil
from pathlib import Path

import pytest

from geometry.drawing.labels import HEIGHT_MM, WIDTH_MM, label_grid, lay_labels
from geometry.drawing.marks import Path as Stroke
from geometry.drawing.paper import PAPERS
from geometry.drawing.styles import Style
from geometry.model.curves import Line
from geometry.model.project import Details, Project
from geometry.plan import Plan, make_plan
from geometry.tongue import speaking
from geometry.weeks import plan_weeks
from layout_gui.project.file import load
from layout_gui.tongues import tongue_of
from tests.geometry.drawing.on_page import collisions, strays, texts_of, words_of

SAMPLES = Path(__file__).parents[3] / "sample_projects"
NAMES = ("twin-raceways", "round-pool", "market-bench", "courtyard-l")


@cache
def sample(name: str) -> Plan:
    return make_plan(load(SAMPLES / f"{name}.raft.json"))


@pytest.mark.parametrize(
    ("paper", "grid"),
    [("common", (2, 5)), ("A4", (2, 5)), ("Letter", (2, 5)), ("A3", (3, 7)), ("Legal", (2, 6))],
)
def test_a_page_holds_as_many_as_the_paper_has_room_for(paper: str, grid: tuple[int, int]) -> None:
    assert label_grid(PAPERS[paper]) == grid


@pytest.mark.parametrize("name", NAMES)
def test_there_is_one_label_for_each_raft_in_the_order_of_the_beds(name: str) -> None:
    plan = sample(name)
    laid = lay_labels(plan)
    rafts = [raft.name for bed in plan.beds for raft in bed.rafts]

    names = [
        text.text
        for page in laid.pages()
        for text in texts_of(page)
        if text.height > 9 and text.style is Style.TITLE
    ]

    assert names == rafts
    assert laid.total == ceil(len(rafts) / 10)


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("paper", ["common", "Letter"])
@pytest.mark.parametrize("name", NAMES)
def test_nothing_stands_off_the_page_or_on_top_of_another(
    name: str, paper: str, language: str
) -> None:
    plan = sample(name)
    details = Details(revision="B, as drilled in the spring of the second year and mended since")
    plan = replace(plan, project=replace(plan.project, details=details, name="A long name " * 12))
    with speaking(tongue_of(language)):
        for page in lay_labels(plan, PAPERS[paper]).pages({1}):
            assert strays(page) == []
            assert collisions(page) == []


def test_a_label_says_what_the_raft_is() -> None:
    plan = sample("round-pool")
    plan = replace(plan, project=replace(plan.project, details=Details(revision="B")))
    words = words_of(next(lay_labels(plan).pages()))

    assert "14 plants, lettuce, leaf" in words
    assert "raft design paddling-pool-1, revision B" in words
    assert "lies as drawn" in words
    assert "½ lies turned half round" in words

    run = next(lay_labels(sample("twin-raceways")).pages())
    assert "Restaurant lettuce, batch 1, Finishing rafts" in words_of(run)
    weeks = plan_weeks(sample("twin-raceways"))
    stands = [
        each
        for bed in weeks.beds
        for each in bed.stands
        if bed.name == "East raceway" and each.raft == "R1"
    ]
    first = min(stands, key=lambda each: each.demand.first)
    assert f"{first.demand.first} to {first.last}" in words_of(run)


def test_the_cutting_lines_part_labels_of_one_size() -> None:
    page = next(lay_labels(sample("twin-raceways")).pages())
    lines = [
        curve
        for picture in page.pictures
        for group in picture.drawing.groups
        if group.id == "cuts"
        for mark in group.marks
        if isinstance(mark, Stroke)
        for curve in mark.curves
        if isinstance(curve, Line)
    ]
    heights = sorted({line.start.y for line in lines if line.start.y == line.end.y})
    places = sorted({line.start.x for line in lines if line.start.x == line.end.x})

    assert [b - a for a, b in pairwise(heights)] == pytest.approx([HEIGHT_MM] * 5)
    assert [b - a for a, b in pairwise(places)] == pytest.approx([WIDTH_MM] * 2)


def test_some_pages_are_drawn_alone() -> None:
    laid = lay_labels(sample("twin-raceways"))

    assert [page.name for page in laid.pages({2})] == ["Raft labels, page 2"]


def test_without_rafts_there_is_a_page_that_says_so() -> None:
    laid = lay_labels(make_plan(Project("empty")))

    assert "no labels" in words_of(next(laid.pages()))
    assert laid.total == 1
