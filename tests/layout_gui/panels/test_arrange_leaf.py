"""The leaf that arranges: orders at a press, tools that show first what they would do."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox
from pytestqt.qtbot import QtBot

from geometry.plan import BedPlan
from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.document.selection import HoleName, Selection
from layout_gui.panels.arrange_leaf import AngleField, ArrangeLeaf
from layout_gui.panels.arrange_orders import ORDERS, TOOLS
from layout_gui.panels.fields import CountField, LengthField
from layout_gui.panels.now import Now
from layout_gui.project import edits
from tests.layout_gui.panels.desk import OFFSCREEN, make_document, make_project

pytestmark = OFFSCREEN

ROW: list[HoleName] = [("R1", "A1"), ("R1", "A2"), ("R1", "A3")]


class Desk:
    """The leaf by itself, shown every moment as the window does."""

    def __init__(self, qtbot: QtBot) -> None:
        self.qtbot = qtbot
        self.document: Document = make_document(make_project())
        self.selection = Selection()
        self.selection.set_bed("Bench")
        self.leaf = ArrangeLeaf(self.document, self.selection)
        qtbot.addWidget(self.leaf)
        self.said: list[str] = []
        self.failed: list[str] = []
        self.leaf.said.connect(self.said.append)
        self.document.failed.connect(self.failed.append)
        self.document.plan_changed.connect(lambda _plan: self.show())
        self.selection.changed.connect(self.show)
        self.leaf.resize(800, 300)
        self.leaf.show()
        self.leaf.set_open(is_open=True)
        self.show()

    def show(self) -> None:
        document, picked = self.document, self.selection
        self.leaf.show_now(
            Now(document.project, document.plan, picked.bed, picked.rafts, picked.holes)
        )

    @property
    def plan(self) -> BedPlan:
        return self.document.plan.beds[0]

    def places(self, names: list[HoleName]) -> list[tuple[float, float]]:
        rafts = {raft.name: raft.design.holes for raft in self.plan.rafts}
        found = [rafts[raft].xy[rafts[raft].names.index(hole)].tolist() for raft, hole in names]
        return [(x, y) for x, y in found]

    def length(self, tool: str, entry: str, text: str) -> None:
        field = self.leaf.field(tool, entry)
        assert isinstance(field, LengthField)
        field.lineEdit().setFocus()
        field.selectAll()
        self.qtbot.keyClicks(field.lineEdit(), text)

    def count(self, tool: str, entry: str, value: int) -> None:
        field = self.leaf.field(tool, entry)
        assert isinstance(field, CountField)
        field.setValue(value)

    def switch(self, tool: str, entry: str, *, on: bool) -> None:
        field = self.leaf.field(tool, entry)
        assert isinstance(field, QCheckBox)
        field.setChecked(on)


@pytest.fixture
def desk(qtbot: QtBot) -> Desk:
    return Desk(qtbot)


def test_without_holes_nothing_can_be_arranged(desk: Desk) -> None:
    assert not any(each.isEnabled() for each in desk.leaf.order_buttons.values())
    assert not desk.leaf.use_button.isEnabled()
    assert desk.leaf.about == "select the holes to arrange first"
    desk.leaf.do("left")
    assert "none is selected" in desk.leaf.words.text()


@pytest.mark.parametrize("order", ORDERS, ids=[order.key for order in ORDERS])
def test_every_order_is_one_named_step(desk: Desk, order: object) -> None:
    assert order in ORDERS
    key = getattr(order, "key", "")
    names = [("R1", "A1"), ("R1", "B2"), ("R1", "C1"), ("R1", "C3"), ("R2", "A2")]
    desk.selection.set_holes(names)
    bed = edits.move_holes(desk.document.project, desk.plan, {("R1", "B2"): (301, 297)})
    desk.document.start(bed)
    desk.selection.set_holes(names)
    before = desk.places(names)
    uneven = desk.document.project
    desk.leaf.order_buttons[key].click()

    assert desk.document.undo_stack.count() == 1
    assert "5 holes" in desk.document.undo_stack.undoText()
    assert desk.said == [desk.document.undo_stack.undoText()]
    assert desk.document.project is not uneven
    assert desk.places(names) != before


def test_holes_that_stand_so_already_make_no_step(desk: Desk) -> None:
    desk.selection.set_holes(ROW)
    desk.leaf.order_buttons["bottom"].click()

    assert desk.document.undo_stack.count() == 0
    assert desk.said == ["They stand so already."]


def test_what_a_tool_would_do_is_shown_and_only_doing_it_changes_the_project(desk: Desk) -> None:
    desk.selection.set_holes(ROW)
    project, before = desk.document.project, desk.places(ROW)
    desk.leaf.show_tool("move")
    desk.length("move", "dx", "12.5")

    assert desk.document.project is project
    assert desk.places(ROW) == [(x + 12.5, y) for x, y in before]
    assert desk.leaf.is_trying
    assert "18 plants, then 18" in desk.leaf.words.text()

    desk.qtbot.keyClick(desk.leaf.field("move", "dx"), Qt.Key.Key_Return)
    assert desk.document.undo_stack.undoText() == "Move 3 holes by typed lengths"
    assert desk.places(ROW) == [(x + 12.5, y) for x, y in before]
    desk.document.undo_stack.undo()
    assert desk.places(ROW) == before


@pytest.mark.parametrize("end", ["escape", "button", "select", "fold"])
def test_a_try_is_left_without_a_trace(desk: Desk, end: str) -> None:
    desk.selection.set_holes(ROW)
    before = desk.places(ROW)
    desk.leaf.show_tool("turn")
    assert desk.places(ROW) != before

    match end:
        case "escape":
            desk.qtbot.keyClick(desk.leaf, Qt.Key.Key_Escape)
        case "button":
            desk.leaf.leave_button.click()
        case "select":
            desk.selection.set_holes(ROW[:1])
        case _:
            desk.leaf.set_open(is_open=False)

    assert desk.places(ROW) == before
    assert not desk.leaf.is_trying
    assert desk.document.undo_stack.count() == 0


def test_rows_and_columns_begin_with_the_spacing(desk: Desk) -> None:
    desk.selection.set_holes([("R1", "A1")])
    step = desk.leaf.field("rows", "dx")
    assert isinstance(step, LengthField)
    assert step.value() == Length.of(190)
    desk.leaf.show_tool("rows")
    desk.count("rows", "columns", 2)
    desk.count("rows", "rows", 2)
    desk.length("rows", "dx", "60")
    desk.length("rows", "dy", "5 cm")
    desk.switch("rows", "staggered", on=True)
    ((x, y),) = desk.places([("R1", "A1")])
    desk.leaf.use_button.click()

    assert desk.document.undo_stack.undoText() == "Copy 1 hole in rows"
    there = {(round(a, 6), round(b, 6)) for a, b in desk.plan.rafts[0].design.holes.xy.tolist()}
    wanted = [(x, y), (x + 60, y), (x + 30, y + 50), (x + 90, y + 50)]
    assert {(round(a, 6), round(b, 6)) for a, b in wanted} <= there
    assert desk.plan.plants == 21


def test_a_mirrored_copy_keeps_the_old_ones(desk: Desk) -> None:
    desk.selection.set_holes([("R1", "A1")])
    desk.length("move", "dx", "20")
    desk.leaf.use()
    plants = desk.plan.plants
    desk.leaf.show_tool("mirror")
    desk.switch("mirror", "keep", on=True)
    desk.leaf.use()

    assert desk.plan.plants == plants + 1


def test_a_number_that_cannot_be_read_is_told_and_nothing_is_shown(desk: Desk) -> None:
    desk.selection.set_holes(ROW)
    before = desk.places(ROW)
    desk.leaf.show_tool("move")
    desk.length("move", "dx", "far")

    assert "“far” is no length" in desk.leaf.field("move", "dx").accessibleDescription()
    assert desk.places(ROW) == before
    desk.leaf.use()
    assert desk.document.undo_stack.count() == 0


@pytest.mark.parametrize("tool", TOOLS, ids=[tool.key for tool in TOOLS])
def test_every_tool_can_be_tried_at_once(desk: Desk, tool: object) -> None:
    key = getattr(tool, "key", "")
    desk.selection.set_holes([("R1", "A1"), ("R1", "B2")])
    if key == "copy":
        desk.length("copy", "dy", "40")
    desk.leaf.show_tool(key)

    assert desk.leaf.is_trying, desk.leaf.words.text()
    assert desk.document.plan.project is not desk.document.project
    desk.leaf.use()
    assert desk.document.undo_stack.count() == 1


def test_a_refusal_is_told_above_the_bed_while_the_leaf_is_folded(desk: Desk) -> None:
    desk.leaf.set_open(is_open=False)
    desk.selection.set_holes([("R1", "A1")])
    desk.leaf.do("steps-along")

    assert "three holes" in desk.failed[-1]


@pytest.mark.parametrize(
    ("text", "degrees"), [("30", 30), ("-22,5", -22.5), ("90°", 90), (" 1.5 ", 1.5)]
)
def test_angles_are_read(qtbot: QtBot, text: str, degrees: float) -> None:
    field = AngleField()
    qtbot.addWidget(field)
    assert field.read(text) == degrees


@pytest.mark.parametrize("text", ["", "1e9", "north", "3/0", "--3", "99999"])
def test_what_is_no_angle_is_refused(qtbot: QtBot, text: str) -> None:
    field = AngleField()
    qtbot.addWidget(field)
    with pytest.raises(ValueError, match="no angle"):
        field.read(text)


def test_every_control_has_a_name(desk: Desk) -> None:
    for tool in TOOLS:
        for entry in tool.entries:
            assert desk.leaf.field(tool.key, entry.key).accessibleName()
    assert all(each.accessibleName() for each in desk.leaf.order_buttons.values())
