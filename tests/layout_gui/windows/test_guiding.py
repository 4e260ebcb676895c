"""The guide in the window, by keys alone: from nothing to a bed full of holes."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QLabel,
    QStackedWidget,
    QWidget,
)
from pytestqt.qtbot import QtBot

from geometry.beds.outline import exact_box
from geometry.beds.shapes import SHAPES, ShapeName
from geometry.model.bed import Bed, Fit
from geometry.model.outlines import (
    Disc,
    LShape,
    Measured,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.model.project import Project
from geometry.model.water import Walls, Water
from geometry.units import Length
from layout_gui.canvas.scene import BedScene
from layout_gui.document.selection import Selection
from layout_gui.panels.form import Form
from layout_gui.panels.guide import DONE, Guide
from layout_gui.panels.guide_talk import Talk
from layout_gui.panels.now import Now
from layout_gui.panels.words import TIMES
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_document, make_project
from tests.layout_gui.windows.open_window import Answers, discard, make_settings, make_window

pytestmark = OFFSCREEN

KEY = Qt.Key
mm = Length.of


class Typist:
    """Presses keys where the keyboard is, and counts them."""

    def __init__(self, window: MainWindow, qtbot: QtBot) -> None:
        self.window = window
        self.qtbot = qtbot
        self.strokes = 0

    @property
    def guide(self) -> Guide:
        return self.window.guiding.panel

    @property
    def outline(self) -> Outline:
        return self.window.document.project.beds[0].outline

    @property
    def steps(self) -> list[str]:
        stack = self.window.document.undo_stack
        return [stack.text(at) for at in range(stack.index())]

    def press(self, *keys: Qt.Key) -> None:
        for key in keys:
            QTest.keyClick(QApplication.focusWidget(), key)
            self.strokes += 1

    def type(self, text: str, *then: Qt.Key) -> None:
        QTest.keyClicks(QApplication.focusWidget(), text)
        self.strokes += len(text)
        self.press(*then)

    def begin(self, shape: ShapeName = "rectangle") -> None:
        """Open the guide in millimetres and answer the first question."""
        self.press(KEY.Key_Return)
        self.guide.choose_unit("mm")
        self.guide.shape_page.tiles[shape].setFocus()
        self.guide.shape_page.tiles[shape].setChecked(True)
        self.press(KEY.Key_Return)

    def finish(self) -> None:
        """Take what is offered from the walls on, and wait for the holes."""
        assert self.guide.at == "levels", self.guide.fault
        self.press(KEY.Key_Return, KEY.Key_Return, KEY.Key_Return)
        self.settle()

    def settle(self) -> None:
        """Wait for the plan: on a busy machine it may take longer than the window waits."""
        document = self.window.document
        self.qtbot.waitUntil(lambda: not document.is_busy, timeout=60_000)

    def foot(self, name: str) -> str:
        words = self.guide.findChild(QLabel, f"guide-{name}")
        assert words is not None
        return words.text()

    def note(self, form: Form, name: str) -> str:
        return form.rows[f"guide-{name}"].note.text()


@pytest.fixture
def window(qapp: QApplication, tmp_path: Path) -> Iterator[MainWindow]:
    made = make_window(tmp_path, disk={Path("/old.raft.json"): make_project()})
    yield made
    discard(made)


@pytest.fixture
def typist(qtbot: QtBot, window: MainWindow) -> Typist:
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    return Typist(window, qtbot)


def test_a_rectangle_is_full_of_holes_after_fewer_than_forty_keys(typist: Typist) -> None:
    window = typist.window

    typist.press(KEY.Key_Return)
    assert typist.guide.at == "shape"
    typist.press(KEY.Key_Return)
    typist.type("2360 mm", KEY.Key_Tab)
    typist.type("580 mm", KEY.Key_Return)
    typist.finish()

    assert typist.guide.at == DONE
    assert typist.strokes < 40
    assert typist.outline == Rectangle(mm(2360), mm(580))
    plan = window.document.plan
    assert plan.project is window.document.project
    assert plan.plants > 20
    assert not plan.cut.unplaced
    assert [each for each in plan.findings if each.severity == "problem"] == []
    count = typist.guide.findChild(QLabel, "guide-count")
    assert count is not None
    assert count.text() == f"{plan.plants} plants"
    assert count.font().pointSizeF() > 2 * typist.guide.font().pointSizeF()
    assert window.road.buttons["Holes"].station.figure == f"{plan.plants} plants"


def test_each_answer_is_a_step_with_its_name(typist: Typist) -> None:
    typist.begin()
    typist.type("2360", KEY.Key_Tab)
    typist.type("580", KEY.Key_Return)
    typist.finish()

    assert typist.steps[0] == "Shape: rectangle"
    assert typist.steps[1:3] == ["Length 2360 mm", "Width 580 mm"]
    assert typist.steps[3].startswith("Foam: board ")
    assert typist.steps[4:] == ["Crop: lettuce, head"]


def test_the_bed_grows_with_the_answers(typist: Typist) -> None:
    window = typist.window
    assert window.stack.currentWidget() is window.start
    typist.press(KEY.Key_Return)
    assert window.stack.currentWidget() is window.guiding.stage
    typist.guide.choose_unit("mm")
    typist.press(KEY.Key_Return)

    assert window.stack.currentWidget() is window.view
    assert window.view.scene().outline_box.width() == 2400  # type: ignore[attr-defined]
    typist.type("3000", KEY.Key_Return)
    assert window.view.scene().outline_box.width() == 3000  # type: ignore[attr-defined]
    assert window.road.buttons["Bed"].isChecked()
    typist.press(KEY.Key_Return)
    assert window.road.buttons["Rafts"].isChecked()
    # What is offered is shown at once, and is no answer yet.
    assert len(window.document.plan.beds[0].rafts) == 5
    assert window.document.project.sheets == ()
    typist.press(KEY.Key_Return)
    typist.settle()
    assert isinstance(window.document.project.beds[0].rafts, Fit)
    assert window.document.plan.plants > 0
    plants = f"{window.document.plan.plants} plants"
    assert window.road.buttons["Holes"].station.figure == plants
    assert window.document.project.beds[0].planting is None
    typist.press(KEY.Key_Return)
    assert window.document.project.beds[0].planting is not None


MEASURES: dict[ShapeName, tuple[tuple[str, ...], Outline]] = {
    "rectangle": (("1510", "710"), Rectangle(mm(1510), mm(710))),
    "rounded": (("1510", "710", "90"), Rectangle(mm(1510), mm(710), mm(90))),
    "round": (("1490",), Disc(mm(1490))),
    "round ends": (("1810", "610"), RoundEnded(mm(1810), mm(610))),
    "L": (("2010", "1510", "800", "600"), LShape(mm(2010), mm(1510), mm(800), mm(600))),
    "tapered": (("2010", "900", "700"), Tapered(mm(2010), mm(900), mm(700))),
    "corner cut": (
        ("2010", "1510", "300", "250"),
        Polygon(
            tuple(
                (mm(x), mm(y))
                for x, y in ((0, 0), (2010, 0), (2010, 1260), (1710, 1510), (0, 1510))
            )
        ),
    ),
}


@pytest.mark.parametrize("shape", MEASURES)
def test_every_shape_is_measured_and_filled_by_keys(typist: Typist, shape: ShapeName) -> None:
    texts, outline = MEASURES[shape]
    typist.begin(shape)

    for text in texts[:-1]:
        typist.type(text, KEY.Key_Tab)
    typist.type(texts[-1], KEY.Key_Return)
    typist.finish()

    assert typist.outline == outline
    assert typist.guide.at == DONE
    assert typist.window.document.plan.plants > 0


def test_a_free_bed_is_measured_corner_by_corner(typist: Typist) -> None:
    typist.begin("free")
    corners = typist.guide.inside_page.corners

    assert corners.items.list.hasFocus()
    typist.press(KEY.Key_Down, KEY.Key_Down)
    x = corners.form.editor("guide-corner-x")
    x.setFocus()
    typist.type("2300", KEY.Key_Tab)
    typist.type("1100", KEY.Key_Return)

    assert isinstance(typist.outline, Polygon)
    assert typist.outline.points[2] == (mm(2300), mm(1100))
    typist.finish()
    assert typist.window.document.plan.plants > 0


def test_corners_that_cross_are_told_and_hold_the_guide_up(typist: Typist) -> None:
    typist.begin("free")
    corners = typist.guide.inside_page.corners
    typist.press(KEY.Key_Down, KEY.Key_Down)
    corners.form.editor("guide-corner-y").setFocus()

    typist.type("-500 mm", KEY.Key_Return)

    assert typist.guide.at == "inside"
    assert "crosses" in typist.guide.asked
    assert "crosses" in typist.guide.fault


def test_arrow_keys_walk_through_the_shapes(typist: Typist) -> None:
    typist.press(KEY.Key_Return)
    seen = [typist.guide.shape_page.shape]

    for key in (KEY.Key_Right, KEY.Key_Down, KEY.Key_Left):
        typist.press(key)
        seen.append(typist.guide.shape_page.shape)

    assert seen == ["rectangle", "rounded", "round ends", "round"]
    typist.press(KEY.Key_Return)
    assert isinstance(typist.outline, Disc)


def test_the_smallest_measures_decide_and_the_skew_is_told(typist: Typist) -> None:
    typist.begin()
    page = typist.guide.inside_page
    for text in ("2360", "580", "2358", "582", "579", "2431", "2428"):
        typist.type(text, KEY.Key_Tab)
    assert typist.guide.next.hasFocus()

    assert typist.outline == Measured(
        (mm(580), mm(582), mm(579)), (mm(2360), mm(2358)), (mm(2431), mm(2428))
    )
    assert "1 mm more" in typist.note(page.form, "width")
    assert "the least" in typist.note(page.again_form, "width-3")
    assert "2 mm more" in typist.note(page.form, "length")
    words = typist.foot("follows")
    assert "579 mm" in words
    assert "differ by up to 3 mm" in words
    # (2431^2 - 2428^2) / (4 * 2358), by the two right triangles over the diagonals
    assert "lean by 1.5 mm" in words


def test_one_diagonal_waits_for_the_other(typist: Typist) -> None:
    typist.begin()
    page = typist.guide.inside_page
    editor = page.again_form.editor("guide-diagonal-1")
    editor.setFocus()

    typist.type("2683", KEY.Key_Tab)
    assert "the other one is needed" in typist.note(page.again_form, "diagonal-1")
    assert editor.text() == "2683 mm"  # type: ignore[union-attr]
    assert isinstance(typist.outline, Rectangle)
    typist.type("2684", KEY.Key_Tab)

    assert isinstance(typist.outline, Measured)
    assert typist.outline.diagonals == (mm(2683), mm(2684))


def test_diagonals_that_cannot_be_are_refused_beside_the_field(typist: Typist) -> None:
    typist.begin()
    page = typist.guide.inside_page
    page.again_form.editor("guide-diagonal-1").setFocus()
    typist.type("2683", KEY.Key_Tab)

    typist.type("5000", KEY.Key_Return)

    assert "do not belong to a bed" in typist.note(page.again_form, "diagonal-2")
    assert typist.guide.at == "inside"
    assert "do not belong to a bed" in typist.guide.fault
    assert isinstance(typist.outline, Rectangle)


def test_inches_typed_in_a_metric_guide_are_shown_as_millimetres(typist: Typist) -> None:
    typist.begin()
    page = typist.guide.inside_page

    typist.type("12 in")
    assert typist.note(page.form, "length") == "304.8 mm = 12 in"
    typist.press(KEY.Key_Tab)

    assert page.form.editor("guide-length").text() == "304.8 mm"  # type: ignore[union-attr]
    assert exact_box(typist.outline)[0] == mm("12 in").exact


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("long", "is no length"),
        ("0", "must be above 0"),
        ("-5", "must be above 0"),
        ("2000 km", "is no unit here"),
        ("1001 m", "1000 m"),
    ],
)
def test_what_is_no_measure_is_refused_beside_its_field(
    typist: Typist, text: str, reason: str
) -> None:
    typist.begin()
    before = typist.outline

    typist.type(text, KEY.Key_Return)

    assert typist.guide.at == "inside"
    assert reason in typist.note(typist.guide.inside_page.form, "length")
    assert reason in typist.guide.fault
    assert typist.outline == before
    # Escape first takes back the text, only then leaves.
    typist.press(KEY.Key_Escape)
    assert typist.window.guiding.is_on
    typist.press(KEY.Key_Return)
    assert typist.guide.at == "levels"


def test_a_notch_longer_than_the_bed_is_refused(typist: Typist) -> None:
    typist.begin("L")
    typist.guide.inside_page.form.editor("guide-notch_length").setFocus()

    typist.type("2400", KEY.Key_Return)

    assert "must be less than the length" in typist.guide.fault


def _lean(typist: Typist, *texts: str) -> None:
    walls = typist.guide.levels_page.walls
    assert walls.hasFocus()
    typist.press(KEY.Key_Down)
    for text in texts:
        typist.type(text, KEY.Key_Tab)


def test_walls_that_lean_make_the_rafts_fit_the_lowest_water(typist: Typist) -> None:
    typist.begin()
    typist.type("2360", KEY.Key_Tab)
    typist.type("580", KEY.Key_Return)

    _lean(typist, "400", "2300", "520", "20", "120")

    assert typist.outline == Rectangle(mm(2342), mm(562))
    words = typist.guide.levels_page.reckoning.text()
    assert f"At the highest water: 2357 {TIMES} 577 mm" in words
    assert f"580 mm - (580 mm - 520 mm) {TIMES} 120 mm / 400 mm = 562 mm" in words
    assert typist.steps[-1] == "Lowest water 120 mm"
    # The bed keeps its walls as seen from its lowest water, 100 mm below the highest.
    water = typist.window.document.project.beds[0].water
    assert (water.low, water.high) == (mm(0), mm(100))
    assert water.walls == Walls(mm(280), mm(2300), mm(520))
    fit = typist.window.document.plan.waters[0].fit
    assert [each.is_stuck for each in fit.levels] == [False, False]


def test_measures_before_the_lean_come_back_and_can_be_changed(typist: Typist) -> None:
    typist.begin()
    typist.type("2360", KEY.Key_Tab)
    typist.type("580", KEY.Key_Return)
    _lean(typist, "400", "2300", "520", "0", "120")

    typist.guide.go_back()
    page = typist.guide.inside_page
    assert page.form.editor("guide-length").text() == "2360 mm"  # type: ignore[union-attr]
    typist.type("2400", KEY.Key_Return)

    assert typist.outline == Rectangle(mm(2370), mm(562))
    typist.window.document.undo_stack.undo()
    assert typist.outline == Rectangle(mm(2342), mm(562))
    typist.guide.levels_page.walls.setFocus()
    typist.press(KEY.Key_Up)
    assert typist.outline == Rectangle(mm(2360), mm(580))
    assert typist.steps[-1] == "Walls stand straight"
    assert typist.window.document.project.beds[0].water == Water()


def test_walls_that_the_project_keeps_are_told_as_from_the_highest_water(typist: Typist) -> None:
    water = Water(high=mm(100), walls=Walls(mm(280), mm(2300), mm(520)))
    bed = Bed("Bed", Rectangle(mm(2342), mm(562)), water=water)
    now = Now(Project("P", beds=(bed,)), typist.window.document.plan, "Bed")
    talk = Talk("mm")

    assert talk.outline(now) == Rectangle(mm(2357), mm(577))
    lean = talk.lean(now)
    assert lean is not None
    assert (lean.depth, lean.highest, lean.lowest) == (mm(380), mm(0), mm(100))
    assert talk.leaned(now, lean).beds == (bed,)


def test_a_second_measuring_that_is_not_complete_holds_the_guide_up(typist: Typist) -> None:
    typist.begin()
    typist.press(KEY.Key_Return)
    _lean(typist, "400", "2300")

    typist.press(KEY.Key_Return)

    assert typist.guide.at == "levels"
    assert typist.guide.fault == "! Still missing: Width there."
    typist.type("1100", KEY.Key_Tab)
    typist.press(KEY.Key_Tab)
    typist.type("500", KEY.Key_Return)
    assert "farther down than the second measuring" in typist.guide.fault


def test_a_board_of_its_own_size(typist: Typist) -> None:
    typist.begin()
    typist.press(KEY.Key_Return, KEY.Key_Return)
    page = typist.guide.foam_page

    typist.press(KEY.Key_End)
    assert page.form.editor("guide-board-length").hasFocus()
    typist.type("1000", KEY.Key_Tab)
    typist.type("500", KEY.Key_Return)

    sheet = typist.window.document.project.sheets[0]
    assert (sheet.length, sheet.width, sheet.name) == (mm(1000), mm(500), "board of your own")
    assert typist.window.document.project.beds[0].rafts in (
        Fit(mm(1000), mm(500)),
        Fit(mm(500), mm(1000)),
    )
    assert typist.guide.at == "crop"


def test_walking_through_boards_and_crops_is_one_step_each(typist: Typist) -> None:
    typist.begin()
    typist.press(KEY.Key_Return, KEY.Key_Return)
    typist.press(KEY.Key_Down, KEY.Key_Down, KEY.Key_Up, KEY.Key_Return)
    typist.press(KEY.Key_Down, KEY.Key_Down, KEY.Key_Down, KEY.Key_Return)

    assert [step.split(":")[0] for step in typist.steps] == ["Shape", "Foam", "Crop"]
    planting = typist.window.document.project.beds[0].planting
    assert planting is not None
    assert planting.crop == "lettuce, small head"


def test_escape_leaves_what_was_answered_and_the_guide_goes_on_from_there(
    typist: Typist,
) -> None:
    window = typist.window
    typist.begin("round")
    typist.type("1490", KEY.Key_Return)
    assert typist.guide.at == "levels"

    typist.press(KEY.Key_Return)
    assert typist.guide.at == "foam"
    typist.press(KEY.Key_Escape)

    assert not window.guiding.is_on
    assert not typist.guide.isVisible()
    assert window.fields.isVisible()
    assert typist.outline == Disc(mm(1490))
    assert window.document.project.sheets == ()
    assert window.document.plan.project is window.document.project

    window.actions_.by_id["guide"].trigger()
    assert typist.guide.at == "levels"
    typist.guide.go_back()
    editor = typist.guide.inside_page.form.editor("guide-diameter")
    assert editor.text() == "1490 mm"  # type: ignore[union-attr]
    typist.press(KEY.Key_Return)
    typist.finish()
    assert window.document.plan.plants > 0


def test_leaving_before_any_answer_leaves_nothing_behind(typist: Typist) -> None:
    typist.press(KEY.Key_Return)
    typist.press(KEY.Key_Escape)

    assert typist.window.stack.currentWidget() is typist.window.start
    assert typist.window.document.project == Project("")
    assert not typist.window.document.is_modified
    assert typist.window.start.guide.hasFocus()


def test_the_state_is_read_from_the_project(window: MainWindow) -> None:
    window.document.start(make_project())

    window.actions_.by_id["guide"].trigger()

    assert window.guiding.panel.at == DONE
    window.guiding.panel.go_to("inside")
    form = window.guiding.panel.inside_page.form
    assert form.editor("guide-length").text() == "1200 mm"  # type: ignore[union-attr]


def test_an_answer_is_changed_from_the_last_page(typist: Typist) -> None:
    typist.begin()
    typist.press(KEY.Key_Return)
    typist.finish()
    change = typist.guide.findChild(QAbstractButton, "guide-change-inside")
    assert change is not None
    plants = typist.window.document.plan.plants

    change.setFocus()
    typist.press(KEY.Key_Return)
    assert typist.guide.at == "inside"
    typist.type("1200", KEY.Key_Return)
    typist.settle()

    assert 0 < typist.window.document.plan.plants < plants


def test_undo_takes_the_guide_back_to_where_there_is_no_bed(typist: Typist) -> None:
    typist.begin()
    assert typist.guide.at == "inside"

    typist.window.document.undo_stack.undo()

    assert typist.guide.at == "shape"
    assert typist.window.stack.currentWidget() is typist.window.guiding.stage


def test_a_station_gone_to_by_hand_shows_its_fields(typist: Typist) -> None:
    typist.begin()

    typist.window.go_to("Rafts")

    assert not typist.window.guiding.is_on
    assert typist.window.fields.currentWidget() is typist.window.fields.panel("Rafts")


def test_another_project_ends_the_guide(typist: Typist) -> None:
    typist.press(KEY.Key_Return)

    typist.window.document.open(Path("/old.raft.json"))

    assert not typist.window.guiding.is_on
    assert typist.window.fields.isVisible()


def test_saving_does_not_end_it(typist: Typist) -> None:
    typist.begin()

    typist.window.document.save(Path("/new.raft.json"))
    typist.window.refresh()

    assert typist.window.guiding.is_on


def test_the_last_page_leads_to_the_holes_and_to_the_pages(typist: Typist) -> None:
    typist.begin()
    typist.press(KEY.Key_Return)
    typist.finish()

    typist.press(KEY.Key_Return)
    assert not typist.window.guiding.is_on
    assert typist.window.road.buttons["Holes"].isChecked()
    typist.window.actions_.by_id["guide"].trigger()
    typist.guide.done_page.make.click()
    assert typist.window.road.buttons["Make"].isChecked()
    assert typist.window.stack.currentWidget() is typist.window.make_view


def test_the_unit_can_be_switched_on_the_way(typist: Typist) -> None:
    typist.begin()

    typist.guide.choose_unit("in")

    assert typist.window.document.project.units == "in"
    assert typist.guide.inside_page.form.editor("guide-width").text() == "1200 mm"
    typist.type("93", KEY.Key_Return)
    assert exact_box(typist.outline)[0] == mm("93 in").exact
    typist.finish()
    assert typist.window.document.project.sheets[0].name == "board 8 x 4 ft"


@pytest.mark.parametrize("shape", SHAPES)
def test_every_control_of_the_guide_has_a_name_and_can_be_reached(
    typist: Typist, shape: ShapeName
) -> None:
    typist.begin(shape)
    for place in ("shape", "inside", "levels", "foam", "crop"):
        typist.guide.go_to(place)
        nameless = [
            widget
            for widget in typist.guide.findChildren(QWidget)
            if widget.focusPolicy() & Qt.FocusPolicy.TabFocus
            and widget.isVisible()
            and widget.focusProxy() is None
            and not widget.objectName().startswith("qt_")
            and not widget.accessibleName()
            and not (isinstance(widget, QAbstractButton) and widget.text())
        ]
        assert nameless == []
        page = typist.guide.findChild(QStackedWidget).currentWidget()
        typist.guide.begin()
        reached = [QApplication.focusWidget()]
        while reached[-1] is not typist.guide.next:
            assert page.isAncestorOf(reached[-1])
            typist.press(KEY.Key_Tab)
            reached.append(QApplication.focusWidget())
        wanted = [typist.guide.leave]
        if place != "shape":
            wanted.insert(0, typist.guide.back)
        for part in wanted:
            typist.press(KEY.Key_Tab)
            assert part.hasFocus()


def test_the_water_lies_alone_until_foam_is_asked_for(typist: Typist) -> None:
    seen: list[bool] = []
    view = typist.window.view

    def rafts_in_sight() -> bool:
        scene = view.scene()
        assert isinstance(scene, BedScene)
        return scene.rafts.isVisible()

    typist.begin()
    seen.append(rafts_in_sight())
    typist.press(KEY.Key_Return)
    seen.append(rafts_in_sight())
    typist.press(KEY.Key_Return)
    seen.append(rafts_in_sight())
    typist.guide.go_back()
    seen.append(rafts_in_sight())
    typist.press(KEY.Key_Escape)
    seen.append(rafts_in_sight())

    assert seen == [False, False, True, False, True]


@pytest.fixture
def slow(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Iterator[Typist]:
    """A window whose plans always come later than the next key."""
    document = make_document(patience_s=0)
    made = MainWindow(document, Selection(), make_settings(tmp_path), Answers())
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    typist = Typist(made, qtbot)
    yield typist
    typist.settle()
    discard(made)


def test_answers_that_come_faster_than_their_plans_are_all_kept(slow: Typist, qtbot: QtBot) -> None:
    document = slow.window.document
    slow.begin()
    slow.type("2360", KEY.Key_Tab)
    slow.type("580", KEY.Key_Tab)
    slow.type("2358", KEY.Key_Return)
    slow.press(KEY.Key_Return, KEY.Key_Down, KEY.Key_Return)
    slow.press(KEY.Key_Down, KEY.Key_Down, KEY.Key_Down, KEY.Key_Return)

    assert slow.outline == Measured((mm(580),), (mm(2360), mm(2358)))
    project = document.project
    assert [sheet.name for sheet in project.sheets] == ["board 1200 x 600"]
    assert project.beds[0].planting is not None
    assert project.beds[0].planting.crop == "lettuce, small head"
    assert slow.guide.at == DONE
    slow.settle()
    assert document.is_worked_out
    count = slow.guide.findChild(QLabel, "guide-count")
    assert count is not None
    assert count.text() == f"{document.plan.plants} plants"


def test_fields_typed_faster_than_their_plans_keep_each_other(slow: Typist) -> None:
    slow.window.document.start(make_project())
    slow.window.go_to("Bed")
    form = slow.window.fields.panel("Bed").form  # type: ignore[attr-defined]

    form.editor("length").setFocus()
    slow.type("1300", KEY.Key_Tab)
    slow.type("700", KEY.Key_Tab)

    assert slow.outline == Rectangle(mm(1300), mm(700))


def test_an_unfinished_project_goes_on_where_it_was_after_it_was_saved_and_opened(
    qtbot: QtBot, tmp_path: Path
) -> None:
    disk: dict[Path, Project] = {}
    path = tmp_path / "half.raft.json"
    first = make_window(tmp_path, disk=disk)
    with qtbot.waitActive(first):
        first.show()
        first.activateWindow()
    typist = Typist(first, qtbot)
    typist.begin("round ends")
    typist.type("1810", KEY.Key_Tab)
    typist.type("610", KEY.Key_Return)
    assert first.document.save(path)
    discard(first)

    again = make_window(tmp_path, disk=disk)
    again.document.open(path)
    again.guide()

    assert again.guiding.panel.at == "levels"
    again.guiding.panel.go_back()
    form = again.guiding.panel.inside_page.form
    assert form.editor("guide-width").text() == "610 mm"  # type: ignore[union-attr]
    discard(again)


def test_what_was_offered_and_is_taken_is_planned_once(typist: Typist) -> None:
    typist.begin()
    typist.press(KEY.Key_Return, KEY.Key_Return, KEY.Key_Return)
    typist.settle()
    offered = typist.window.document.plan
    assert offered.plants > 0

    typist.press(KEY.Key_Return)

    assert typist.guide.at == DONE
    assert typist.window.document.project is offered.project
    assert typist.window.document.plan is offered
