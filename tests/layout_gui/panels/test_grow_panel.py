"""The station Grow: what is published of the crop, and its leaves on the bed."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from geometry.crops.table import CROPS, find_crop
from geometry.model.bed import Bed
from geometry.model.growth import Growth, LeafWidth
from geometry.model.zone import Zone, ZoneRules
from geometry.units import Length
from layout_gui.panels.grow_panel import GrowPanel
from layout_gui.panels.grow_words import grow_words
from layout_gui.panels.leaves import LeafWish, Leaves, kinds_of, leaf_widths
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
    panel = GrowPanel(Leaves())
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
    assert panel.bar.kind.value() == "none"
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
    assert panel.touch == (
        "27 pairs overlap, by 38 mm at most. Leaves touch from a width of 212 mm on. "
        "As reckoned that is from day 14 on."
    )


def test_the_leaves_are_of_a_published_width_or_a_typed_one(qtbot: QtBot) -> None:
    now = grown("lettuce, head")
    panel = make_panel(qtbot, now)
    bar = panel.bar
    kinds = [bar.kind.itemText(at) for at in range(bar.kind.count())]

    assert kinds == [
        "not drawn", "grown, least 250 mm", "grown, most 350 mm", "on a day, as reckoned",
        "of a width you type",
    ]  # fmt: skip
    assert leaf_widths(now, panel.leaves.wish) == (250.0,)
    bar.kind.activated.emit(2)
    assert leaf_widths(now, panel.leaves.wish) == (350.0,)
    bar.kind.activated.emit(4)
    assert bar.own.isVisible()
    assert leaf_widths(now, panel.leaves.wish) == (190.0,)  # begins with the spacing
    assert panel.touch.startswith("No leaves overlap. Leaves touch from a width of 212 mm on.")
    bar.own.committed.emit(Length.of(212.2))
    assert panel.touch.startswith("27 pairs overlap")
    bar.kind.activated.emit(0)
    assert leaf_widths(now, panel.leaves.wish) is None
    assert panel.touch == ""


def test_a_crop_without_figures_says_so_and_lets_them_be_typed(qtbot: QtBot) -> None:
    now = grown("basil, 8 in")
    panel = make_panel(qtbot, now)

    assert leaf_widths(now, panel.leaves.wish) is None
    assert kinds_of(now) == ("none", "own")
    assert "No source here says how wide basil, 8 in is from day to day" in panel.why.text()


def test_what_was_measured_is_listed_and_chosen_by_day(qtbot: QtBot) -> None:
    now = grown("lettuce, head")
    record = Growth("Lettuce, HEAD", (LeafWidth(10, Length.of(100)), LeafWidth(20, Length.of(200))))
    now = replace(now, project=replace(now.project, growth=(record,)))
    panel = make_panel(qtbot, now)
    noted: list[tuple[int, object]] = []
    dropped: list[int] = []
    panel.width_noted.connect(lambda day, width: noted.append((day, width)))
    panel.width_dropped.connect(dropped.append)

    rows = [panel.widths.list.item(at).text() for at in range(panel.widths.list.count())]
    assert rows == ["day 10: 100 mm", "day 20: 200 mm"]
    assert "day" in kinds_of(now)
    panel.bar.slider.setValue(14)
    assert panel.leaves.wish == LeafWish("day", 14)
    assert panel.bar.day.value() == 14
    assert panel.bar.wide.text() == "140 mm wide"
    assert (panel.bar.slider.minimum(), panel.bar.slider.maximum()) == (10, 20)
    panel.bar.day.setValue(19)
    assert leaf_widths(now, panel.leaves.wish) == (190.0,)
    panel.widths.list.setCurrentRow(1)
    assert panel.day.value() == 20
    panel.measured.show_value(Length.of(210))
    panel.widths.buttons["Note it"].click()
    panel.widths.buttons["Remove"].click()
    assert noted == [(20, Length.of(210))]
    assert dropped == [20]


def test_every_planting_of_a_bed_has_its_own_leaves(qtbot: QtBot) -> None:
    bench: Bed = make_bench()
    basil = Zone("herbs", ZoneRules(crop="basil"), rafts=("R2",))
    now = now_of(make_document(make_project(replace(bench, zones=(basil,)))))
    panel = make_panel(qtbot, now)

    assert leaf_widths(now, panel.leaves.wish) == (250.0, 300.0)
    assert leaf_widths(now, LeafWish("own", own=Length.of(99))) == (99.0, 99.0)


def test_other_stations_show_the_leaves_when_that_is_ticked(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, grown("lettuce, head"))

    panel.pinned.click()
    assert panel.leaves.is_pinned
    panel.leaves.pin(is_on=False)
    assert not panel.pinned.isChecked()


def test_very_many_plants_are_looked_at_beside_the_window(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("layout_gui.panels.leaves._SOON", 5)
    panel = make_panel(qtbot, grown("lettuce, head"))

    assert panel.touch == ""
    qtbot.waitUntil(lambda: panel.touch.startswith("27 pairs overlap"))


def test_leaves_close_over_the_water_day_by_day(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, grown("lettuce, head"))
    cover, curve = panel.cover, panel.cover.curve
    qtbot.waitUntil(lambda: cover.found is not None)
    found = cover.found
    assert found is not None

    assert (found.touch_day, found.harvest_day) == (14, 28)
    assert "Leaves touch on day 14. On day 18 they cover 98 %" in cover.words.text()
    assert cover.pitches.text() == (
        "They would touch at 175 mm on day 11, at 200 mm on day 13, at 225 mm on day 15, "
        "at 250 mm on day 17."
    )
    assert "as wide as their hole" in cover.assumed.text()
    assert not curve.words
    qtbot.keyClick(curve, Qt.Key.Key_End)
    assert panel.leaves.wish == LeafWish("day", 28)
    assert panel.bar.day.value() == 28
    assert curve.accessibleDescription() == "day 28: 99 % of the water covered"
    qtbot.keyClick(curve, Qt.Key.Key_PageDown)
    assert panel.leaves.wish.day == 21
    qtbot.mouseClick(curve, Qt.MouseButton.LeftButton, pos=QPoint(1, 1))
    assert panel.leaves.wish.day == 0
    curve.grab()  # paints with every mark in sight
    panel.show_now(grown("basil, 8 in"))
    assert not cover.isVisible()
