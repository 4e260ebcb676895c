"""Yield at the station Grow: the points exactly where they were published, and what is said."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from pytestqt.qtbot import QtBot

from geometry.growth.harvest import Law
from geometry.model.bed import Bed
from geometry.model.log import BatchGrown, Log
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.run import Run, RunStage
from geometry.plan import make_plan
from geometry.units import Length, Unit
from layout_gui.panels.dates import date_text
from layout_gui.panels.now import Now
from layout_gui.panels.yield_reading import reach, sentences, shown_of, table_rows, weighed_words
from layout_gui.panels.yield_sight import YieldSight
from layout_gui.screen.theme import DARK, LIGHT
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN

# 4 x 4 plants on a square metre of water.
BED = Bed(
    "bed",
    Rectangle(Length.of(1000), Length.of(1000)),
    planting=Planting(
        Length.of(250), Length.of(50), crop="lettuce, head", edge_margin=Length.of(125)
    ),
)


def _now(crop: str = "lettuce, head", unit: Unit = "mm", *logged: tuple[int, int]) -> Now:
    assert BED.planting is not None
    bed = replace(BED, planting=replace(BED.planting, crop=crop))
    batches = tuple(
        BatchGrown("heads", date(2026, 3, 2), picked=10, grams=Fraction(10 * grams),
                   per_m2=Fraction(per_m2))
        for per_m2, grams in logged
    )  # fmt: skip
    run = Run("heads", crop=crop, stages=(RunStage("grow", 28),))
    project = Project("p", unit, beds=(bed,), runs=(run,), log=Log(batches=batches))
    return Now(project, make_plan(project), "bed")


def test_published_points_are_plotted_where_they_were_published(qtbot: QtBot) -> None:
    sight = YieldSight()
    qtbot.addWidget(sight)
    sight.set_theme(LIGHT)
    now = _now()
    sight.show_now(now)
    qtbot.waitUntil(lambda: sight.inside is not None, timeout=20_000)
    plant, area = sight.inside.curves
    line = shown_of(now).lines[0]
    # Toth and others 2016: 321 g at 13/m², 276 g at 17/m².
    assert [plant.place_of(point) for point in line.points] == [(13, 321), (17, 276)]
    assert area.place_of(line.points[0]) == pytest.approx((13, 4.173))
    assert isinstance(line.law, Law)
    x, y = plant.curve_points(line.law)
    assert (x[0], x[-1]) == pytest.approx(reach(line.law))
    assert y[0] == pytest.approx(line.law.grams_at(x[0]))
    table = sight.inside.table
    assert table.topLevelItemCount() == 3
    assert table.topLevelItem(0).text(2) == "321 g"
    assert "Acta Horticulturae" in table.topLevelItem(0).text(4)
    assert "not a promise" in sight.inside.caution.text()
    sight.set_theme(DARK)
    sight.show_now(_now("mint"))
    assert not table.isVisibleTo(sight)
    assert "No trial with masses" in sight.inside.words.text()


def test_what_is_said_of_this_bed() -> None:
    now = _now("lettuce, head", "mm", (16, 250), (25, 200), (20, 223))
    shown = shown_of(now)
    here, own, croatian, substrate = sentences(shown, now.bed_plan)
    assert here.startswith("This bed has 16 per m². Your log: 249 g a plant, 3.99 kg/m²")
    assert "floating, Croatia, July to September: 286 g a plant" in here
    assert own == "Your log: 3 points; the curve misses none by more than 1%."
    assert "nothing tells how well" in croatian
    assert "one density only" in substrate
    assert [line.is_own for line in shown.lines] == [True, False, False]
    day = date_text(date(2026, 3, 2))
    assert table_rows(shown)[0][:3] == (f"your log: {day}", "16 per m²", "250 g")


def test_points_without_a_curve_and_other_units() -> None:
    now = _now("pak choi", "in", (16, 200), (20, 220))
    shown = shown_of(now)
    here, own, trial = sentences(shown, now.bed_plan)
    assert here == "This bed has 1.49 per ft²: no curve reaches so far."
    assert "no smaller where they stand closer" in own
    assert "one density only" in trial
    # 63 plants of 82.1 g on a square metre: 5.85 per ft², 2.9 oz, 1.06 lb/ft² by hand.
    assert table_rows(shown)[-1][1:4] == ("5.85 per ft²", "2.9 oz", "1.06 lb/ft²")
    small = table_rows(shown_of(_now("lettuce, small head")))
    assert small[0][2:4] == ("150 g to 250 g", "6.45 kg/m² to 10.75 kg/m²")


def test_what_is_compared_is_weighed_where_something_was() -> None:
    assert weighed_words(_now()) == (
        "Weighed at such a density, no promise: floating, Croatia, July to September: 286 g a "
        "plant, 4.58 kg/m²."
    )
    assert weighed_words(_now("basil")) == ""


def test_a_bed_without_a_crop_asks_for_one() -> None:
    now = _now("")
    assert "Name the crop" in sentences(shown_of(now), now.bed_plan)[0]
