"""The pages on the screen are the pages of the files."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QLabel, QPushButton
from pytestqt.qtbot import QtBot

from geometry.drawing.cut_sheet import compose_cut_sheet
from geometry.drawing.marks import Circle, Drawing, Group
from geometry.drawing.paper import PAPERS, Page, PageSetup, Picture, roll_paper
from geometry.drawing.styles import Style
from geometry.drawing.template import compose_template, lay_template
from geometry.model.curves import Point
from geometry.plan import PlacedRaft, make_plan
from layout_gui.output.documents import BY_FILE, CUT_SHEET, TEMPLATE
from layout_gui.panels.make_view import Drawn, MakeView, compose, fitted
from layout_gui.screen.pages import paint_page
from layout_gui.screen.theme import DARK, LIGHT
from tests import builders
from tests.builders import make_design, make_holes, make_shape
from tests.layout_gui.panels.desk import OFFSCREEN, make_project

pytestmark = OFFSCREEN

PLAN = make_plan(make_project())


def make_view(qtbot: QtBot) -> MakeView:
    view = MakeView(LIGHT)
    qtbot.addWidget(view)
    view.resize(800, 700)
    view.show()
    return view


def show_plan(qtbot: QtBot, view: MakeView) -> None:
    with qtbot.waitSignal(view.shown, timeout=20_000):
        view.set_plan(PLAN)


def click(view: MakeView, words: str) -> None:
    next(b for b in view.findChildren(QPushButton) if b.text() == words).click()


def look_at(qtbot: QtBot, view: MakeView, file: str) -> None:
    with qtbot.waitSignal(view.shown, timeout=20_000):
        view.choice.setCurrentText(BY_FILE[file].title)
        view.choice.activated.emit(view.choice.currentIndex())


def test_the_window_composes_what_the_files_compose() -> None:
    setup = PageSetup(PAPERS["A4"], border_mm=6, overlap_mm=14, across=1.004)
    template = compose(BY_FILE[TEMPLATE], PLAN, setup, lambda: True)
    cut_sheet = compose(BY_FILE[CUT_SHEET], PLAN, setup, lambda: True)

    assert template is not None
    assert template.pages == compose_template(PLAN, setup)
    assert template.sets == lay_template(PLAN, setup).sets
    assert cut_sheet is not None
    assert cut_sheet.pages == compose_cut_sheet(PLAN, PAPERS["A4"])
    assert cut_sheet.sets == ()


def test_the_page_that_is_looked_at_is_drawn_first() -> None:
    told: list[Drawn] = []
    whole = compose(
        BY_FILE[TEMPLATE], PLAN, PageSetup(), lambda: True,
        tell=lambda _share, drawn: told.append(drawn), first=4,
    )  # fmt: skip

    assert whole is not None
    first = next(drawn for drawn in told if drawn.pages)
    assert len(first.pages) == len(whole.pages)
    assert [at for at, page in enumerate(first.pages, 1) if page is not None] == [4]
    assert first.count == whole.count
    assert whole.is_whole
    assert not first.is_whole


def test_composing_stops_when_nobody_looks_any_more() -> None:
    asked: list[bool] = []

    def is_wanted() -> bool:
        asked.append(True)
        return len(asked) < 2

    assert compose(BY_FILE[TEMPLATE], PLAN, PageSetup(), is_wanted) is None
    assert 2 <= len(asked) < 10


def test_pages_are_listed_and_counted(qtbot: QtBot) -> None:
    view = make_view(qtbot)
    show_plan(qtbot, view)
    templates = compose_template(PLAN)

    assert view.pages.count() == len(templates)
    assert view.count.startswith(f"{len(templates)} pages of 210")
    assert view.sheet.accessibleDescription() == templates[0].name
    view.pages.setCurrentRow(1)
    assert view.sheet.accessibleDescription() == templates[1].name
    look_at(qtbot, view, CUT_SHEET)
    assert view.pages.count() == len(compose_cut_sheet(PLAN))


def test_another_paper_lays_the_pages_out_anew(qtbot: QtBot) -> None:
    view = make_view(qtbot)
    show_plan(qtbot, view)
    look_at(qtbot, view, CUT_SHEET)

    with qtbot.waitSignal(view.shown, timeout=20_000):
        view.set_setup(PageSetup(PAPERS["A3"]))

    assert "297" in view.count
    assert view.pages.count() == len(compose_cut_sheet(PLAN, PAPERS["A3"]))


def test_the_same_plan_is_not_composed_twice(qtbot: QtBot) -> None:
    view = make_view(qtbot)
    show_plan(qtbot, view)

    view.pages.setCurrentRow(1)
    click(view, "Only this")
    with qtbot.assertNotEmitted(view.shown, wait=50):
        view.set_plan(PLAN)
        view.set_plan(None)
        # Another cut plan changes no page of the template, and takes no tick away.
        view.set_plan(replace(PLAN, cut=replace(PLAN.cut, searched=True)))
    assert ticked(view) == [2]


@pytest.mark.parametrize("theme", [LIGHT, DARK])
def test_paper_is_white_and_ink_black_by_day_and_by_night(qtbot: QtBot, theme: object) -> None:
    circle = Circle(Point(50, 50), 20, Style.HOLE)
    page = Page(100, 100, "one", (Picture(Drawing((Group("a", (circle,)),))),))
    image = QImage(100, 100, QImage.Format.Format_RGB32)
    image.fill(QColor("red"))
    painter = QPainter(image)

    paint_page(painter, page, QRectF(0, 0, 100, 100))
    painter.end()

    assert image.pixelColor(2, 2) == QColor("white")
    assert image.pixelColor(50, 50) == QColor("white")
    assert image.pixelColor(30, 50).lightness() < 130


def test_a_page_is_fitted_without_being_stretched() -> None:
    page = Page(210, 279.4, "one", ())

    for room in (QRectF(0, 0, 500, 300), QRectF(10, 20, 200, 900)):
        into = fitted(page, room)
        assert into.width() / into.height() == pytest.approx(210 / 279.4)
        assert room.contains(into.adjusted(1e-9, 1e-9, -1e-9, -1e-9))
        assert into.center() == room.center()


def test_true_size_is_as_large_as_the_screen_tells(qtbot: QtBot) -> None:
    view = make_view(qtbot)
    show_plan(qtbot, view)

    click(view, "True size")

    per_mm = view.screen().physicalDotsPerInch() / 25.4
    assert view.sheet.height() >= round(279.4 * per_mm)
    click(view, "True size")
    assert view.sheet.height() < 700


def ticked(view: MakeView) -> list[int]:
    rows = range(view.pages.count())
    return [row + 1 for row in rows if view.pages.item(row).checkState() is Qt.CheckState.Checked]


def test_pages_are_ticked_by_key_and_by_click(qtbot: QtBot) -> None:
    view = make_view(qtbot)
    show_plan(qtbot, view)
    everything = ticked(view)
    assert everything == list(range(1, len(compose_template(PLAN)) + 1))

    view.pages.setCurrentRow(1)
    with qtbot.waitSignal(view.pages_chosen) as heard:
        qtbot.keyClick(view.pages, Qt.Key.Key_Space)

    assert heard.args == [{TEMPLATE: frozenset(everything) - {2}}]
    assert ticked(view) == [1, *everything[2:]]
    assert f"{len(everything) - 1} ticked" in view.count

    box = view.pages.visualItemRect(view.pages.item(1))
    with qtbot.waitSignal(view.pages_chosen) as heard:
        qtbot.mouseClick(
            view.pages.viewport(), Qt.MouseButton.LeftButton, pos=box.topLeft() + QPoint(16, 16)
        )

    assert heard.args == [{}]
    assert ticked(view) == everything


def test_only_the_page_that_is_shown_and_all_again(qtbot: QtBot) -> None:
    view = make_view(qtbot)
    show_plan(qtbot, view)
    view.pages.setCurrentRow(2)

    click(view, "Only this")
    assert ticked(view) == [3]
    click(view, "None")
    assert ticked(view) == []
    click(view, "All")
    assert ticked(view) == list(range(1, view.pages.count() + 1))


def test_pages_are_ticked_by_their_numbers(qtbot: QtBot) -> None:
    view = make_view(qtbot)
    show_plan(qtbot, view)
    total = view.pages.count()
    assert view.range.text() == f"1-{total}"
    for text, pages, said in (
        ("1,3\N{EN DASH}4", [1, 3, 4], "1, 3-4"),
        ("", [], ""),
        ("4, 2-3, 3", [2, 3, 4], "2-4"),
        ("0-2", None, "0-2"),
        ("x", None, "x"),
        ("1-999", None, "1-999"),
    ):
        view.range.setText(text)
        view.range.editingFinished.emit()

        assert ticked(view) == (pages or ([] if pages == [] else [2, 3, 4]))
        assert view.range.text() == said
        assert bool(view.range.accessibleDescription()) is (pages is None)


def test_other_pages_are_all_ticked(qtbot: QtBot) -> None:
    view = make_view(qtbot)
    show_plan(qtbot, view)
    click(view, "None")

    with qtbot.waitSignals([view.pages_chosen, view.shown], timeout=20_000):
        view.set_setup(PageSetup(overlap_mm=20))

    assert ticked(view) == list(range(1, view.pages.count() + 1))


def test_a_click_on_the_map_goes_to_the_page(qtbot: QtBot) -> None:
    view = make_view(qtbot)
    show_plan(qtbot, view)
    first = lay_template(PLAN).sets[0]
    cell, number = list(first.numbers.items())[-1]

    place = view.map.cell_box(cell).center().toPoint()
    qtbot.mouseClick(view.map, Qt.MouseButton.LeftButton, pos=place)

    assert view.pages.currentRow() == number - 1
    assert f"page {number} " in view.map.accessibleDescription()
    look_at(qtbot, view, CUT_SHEET)
    assert view.map.isHidden()


def test_blank_pages_are_counted_and_told_on_the_map(qtbot: QtBot) -> None:
    """A frame of foam with one hole leaves pages without anything on them."""
    design = make_design("frame-1", make_shape(1000, 800), make_holes([(100, 100)]))
    plan = builders.make_plan(builders.make_bed_plan([PlacedRaft("R1", design, 0, 0)]))
    (laid,) = lay_template(plan).sets
    view = make_view(qtbot)
    with qtbot.waitSignal(view.shown, timeout=20_000):
        view.set_plan(plan)

    blank = len(laid.tiling.blank)
    assert blank > 1
    assert view.count.endswith(f", {blank} blank ones left out")
    view.pages.setCurrentRow(1)
    assert view.map.toolTip().startswith("Left out, nothing is on them: row 2 columns")
    assert view.map.toolTip() in view.map.accessibleDescription()


def test_a_raft_wider_than_the_roll_is_told_above_its_pages(qtbot: QtBot) -> None:
    design = make_design("wide-1", make_shape(1000, 800), make_holes([(100, 100)]))
    plan = builders.make_plan(builders.make_bed_plan([PlacedRaft("R1", design, 0, 0)]))
    view = make_view(qtbot)
    view.set_setup(PageSetup(roll_paper(610)))
    with qtbot.waitSignal(view.shown, timeout=20_000):
        view.set_plan(plan)

    assert view.count == "3 pages, the long ones from a roll 610 mm wide"
    told = [each.text() for each in view.findChildren(QLabel) if each.isVisible()]
    assert any("wide-1 is wider than the roll of 610 mm" in text for text in told)
