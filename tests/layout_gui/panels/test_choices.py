"""Choices side by side: every number is that of a plan made by itself."""

from dataclasses import replace
from fractions import Fraction

import pytest
from pytestqt.qtbot import QtBot

from geometry.compare.comparison import Comparison, compare_bed
from geometry.compare.riding import heaviest
from geometry.compare.thresholds import Threshold
from geometry.model.bed import One
from geometry.model.outlines import Rectangle
from geometry.model.project import Choice
from geometry.model.sheet import Sheet
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.panels.choice_table import ChoiceTable
from layout_gui.panels.choices import (
    MATTERS,
    MINUS,
    TIPS,
    Compared,
    choice_words,
    compare,
    headers,
    other_sentences,
    row_sentence,
    sort_key,
    spacing_sentence,
    texts,
)
from layout_gui.panels.words import DASH
from layout_gui.project import edits
from tests.layout_gui.panels.desk import make_bench, make_project

SMALL = make_bench(outline=Rectangle(Length.of(700), Length.of(600)), obstacles=(), rafts=One())
PROJECT = make_project(SMALL)
BED = PROJECT.beds[0]
BOARD = Sheet("board", Length.of(1250), Length.of(620), thickness=Length.of(50))


@pytest.fixture(scope="module")
def comparison() -> Comparison:
    told: list[Compared] = []
    last = compare(told.append, PROJECT, BED, ("square", "best"))
    found = last.known
    news = [part.known for part in told]
    drawn = [planting for part in [*told, last] for planting in part.drawings]
    assert len(drawn) == len(set(drawn))
    assert set(drawn) == {result.planting for result in found.results}
    assert [len(part.results) for part in news] == sorted(len(part.results) for part in news)
    assert [part.share for part in news] == sorted(part.share for part in news)
    return found


def test_every_choice_has_the_count_of_its_own_plan(comparison: Comparison) -> None:
    assert len(comparison.results) > 3
    for result in comparison.results:
        project = edits.use_choice(PROJECT, result.choice)
        assert result.plants == make_plan(project).beds[0].plants


def test_the_bed_as_it_stands_comes_first(comparison: Comparison) -> None:
    assert comparison.results[0].plants == make_plan(PROJECT).plants
    assert comparison.results[0].choice == Choice("", "Bench")
    assert comparison.is_complete


def test_every_step_of_the_curve_is_a_count_that_a_plan_has(comparison: Comparison) -> None:
    for pattern, steps in comparison.series.items():
        for step in steps:
            choice = Choice("", "Bench", pattern=pattern, spacing=Length(step.spacing))
            assert make_plan(edits.use_choice(PROJECT, choice)).plants == step.count
        counts = [step.count for step in steps]
        assert counts == sorted(counts, reverse=True)


def test_the_sentences_come_spacing_first() -> None:
    found = (
        Threshold("spacing", Fraction(185), 36, Fraction(1, 10), Fraction("193.6")),
        Threshold("edge_margin", Fraction(60), 36, Fraction(1), Fraction(71)),
        Threshold("clearance", Fraction(9), 36, Fraction(1), Fraction(12), Fraction(4), 40),
    )

    assert spacing_sentence(found, "mm") == "The same 36 plants fit up to 193.6 mm."
    assert other_sentences(found, "mm") == (
        "The same 36 up to edge margin 71 mm · clearance 12 mm, at 4 mm 4 more"
    )
    assert spacing_sentence((), "mm") == other_sentences((), "mm") == ""


def test_a_row_is_named_by_its_own_name_or_by_its_rules(comparison: Comparison) -> None:
    now, own, *_ = comparison.results
    kept = replace(own, choice=replace(own.choice, name="for the summer"))

    assert texts(kept, now, "mm")[0] == "for the summer"
    assert choice_words(kept, "mm") == "for the summer"
    assert "mm" in choice_words(own, "mm")
    assert len(texts(own, now, "in")) == len(headers("in")) == len(TIPS) == 11
    assert headers("in")[3] == "per ft²"


def test_a_row_tells_plants_and_foam_against_now(comparison: Comparison) -> None:
    now = comparison.results[0]
    more = replace(now, plants=now.plants + 12, least_web_mm=(now.least_web_mm or 0) - 15)
    fewer = replace(now, plants=now.plants - 3, least_web_mm=None)

    assert texts(now, now, "mm")[2] == ""
    assert texts(replace(now), now, "mm")[2] == "="
    assert texts(more, now, "mm")[2] == "+12"
    assert texts(more, now, "mm")[5].endswith(f"({MINUS}15)")
    assert texts(fewer, now, "mm")[2] == f"{MINUS}3"
    assert texts(fewer, now, "mm")[5] == ""
    assert "12 more than now" in row_sentence(more, now, "mm")
    assert "3 fewer than now" in row_sentence(fewer, now, "mm")
    assert "than now" not in row_sentence(now, now, "mm")


def test_a_row_tells_when_leaves_close_over_the_water(comparison: Comparison, qtbot: QtBot) -> None:
    now = comparison.results[0]
    grown = now.growing
    assert grown is not None
    bare = replace(now, growing=None)
    never = replace(now, growing=replace(grown, touch_day=None, respace_day=None))
    table = ChoiceTable()
    qtbot.addWidget(table)
    table.resize(1400, 300)

    touch, _, move = MATTERS["leaves"]
    assert texts(now, now, "mm")[touch] == f"{grown.touch_day}"
    assert texts(never, now, "mm")[touch] == texts(never, now, "mm")[move] == DASH
    assert texts(bare, now, "mm")[touch : move + 1] == ("", "", "")
    assert f"Leaves touch on day {grown.touch_day}." in row_sentence(now, now, "mm")
    assert sort_key(now, touch) < sort_key(never, touch)
    for results, is_hidden in (((now, never), False), ((bare,), True)):
        table.show_results(results, "mm")
        assert table.isColumnHidden(touch) is is_hidden


def test_one_matter_at_a_time_where_not_all_columns_have_room(
    comparison: Comparison, qtbot: QtBot
) -> None:
    now = comparison.results[0]
    planned = make_plan(replace(PROJECT, sheets=(BOARD,)))
    ride = heaviest(planned.project, planned.beds[0])
    assert ride is not None
    table = ChoiceTable()
    qtbot.addWidget(table)
    table.show()

    def in_sight() -> set[int]:
        return {k for k in range(table.columnCount()) if not table.isColumnHidden(k)}

    table.resize(1400, 300)
    table.show_results((replace(now, afloat=ride),), "mm")
    assert table.open_matters == ()
    assert in_sight() == set(range(len(TIPS)))
    table.resize(460, 300)
    assert table.open_matters == ("foam", "leaves", "float")
    table.show_matter("float")
    assert in_sight() == {0, 1, 2, *MATTERS["float"]}
    row = texts(replace(now, afloat=ride), now, "mm")
    assert row[-1] == f"{ride.harvest.lift:.1f} kg"


def test_rows_are_sorted_by_what_they_show(comparison: Comparison) -> None:
    results = comparison.results
    for column in range(len(headers("mm"))):
        assert sorted(results, key=lambda result: sort_key(result, column))
    plants = [result.plants for result in sorted(results, key=lambda r: sort_key(r, 1))]
    assert plants == sorted(plants)
    bare = replace(results[0], least_web_mm=None, ceiling=None)
    assert sort_key(bare, 5) < sort_key(results[0], 5)
    assert sort_key(bare, 4) < sort_key(results[0], 4)


def test_a_kept_choice_is_compared_too() -> None:
    choice = Choice("tight", "Bench", spacing=Length.of(150))
    project = replace(PROJECT, choices=(choice,))
    found = compare(lambda _part: None, project, project.beds[0], ()).known

    assert choice in [result.choice for result in found.results]


def test_the_first_news_is_the_bed_as_it_stands() -> None:
    first = next(iter(compare_bed(PROJECT, BED)))

    assert len(first.results) == 1
    assert not first.is_complete
