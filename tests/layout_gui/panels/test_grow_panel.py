"""The station Grow: what is published of the crop, and its leaves on the bed."""

from dataclasses import replace

from pytestqt.qtbot import QtBot

from geometry.crops.table import CROPS, find_crop
from geometry.model.bed import Bed
from layout_gui.panels.grow_panel import GrowPanel, grow_words
from layout_gui.panels.now import Now
from layout_gui.panels.words import DASH
from tests.layout_gui.panels.desk import (
    OFFSCREEN,
    make_bench,
    make_document,
    make_project,
    now_of,
)

pytestmark = OFFSCREEN


def grown(crop: str) -> Now:
    bench: Bed = make_bench()
    assert bench.planting is not None
    bench = replace(bench, planting=replace(bench.planting, crop=crop))
    return now_of(make_document(make_project(bench)))


def make_panel(qtbot: QtBot, now: Now) -> GrowPanel:
    panel = GrowPanel()
    qtbot.addWidget(panel)
    panel.show_now(now)
    panel.show()
    return panel


def test_days_are_those_of_the_table() -> None:
    for crop in CROPS:
        figure, line = grow_words(grown(crop.name))
        if crop.days is None:
            assert (figure, line) == (crop.name, "days not published")
        elif crop.days[0] == crop.days[1]:
            assert figure == f"{crop.days[0]} days"
        else:
            assert figure == f"{crop.days[0]}{DASH}{crop.days[1]} days"


def test_without_a_known_crop_nothing_is_claimed(qtbot: QtBot) -> None:
    now = grown("sea kale")
    panel = make_panel(qtbot, now)

    assert grow_words(now) == ("", "")
    assert "Choose a crop" in panel.subtitle
    assert panel.canopy_mm is None
    assert [name for name, _ in panel.facts] == ["This bed", "Density"]


def test_every_fact_is_said_and_the_source_named(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, grown("lettuce, head"))
    crop = find_crop("lettuce, head")
    assert crop is not None

    assert dict(panel.facts) == {
        "This bed": "18 plants",
        "Density": "25 per m²",
        "Published": "20 to 25 per m²",
        "Days afloat": f"24{DASH}32",
        "Grown width": "250 mm to 350 mm",
    }
    assert crop.source in panel.source
    assert "into each other" in panel.touch


def test_the_leaves_are_drawn_at_a_published_width_or_not_at_all(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, grown("lettuce, head"))
    chosen: list[object] = []
    panel.canopy_chosen.connect(chosen.append)

    assert panel.canopy_mm == 250
    panel.leaves.activated.emit(2)
    panel.leaves.activated.emit(0)

    assert chosen == [350, None]
    panel.show_now(grown("basil, 8 in"))
    assert panel.canopy_mm is None
    assert not panel.leaves.isVisible()
