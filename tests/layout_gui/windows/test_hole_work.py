"""Clipboard and picking in the whole window."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from geometry.plan import BedPlan
from layout_gui.panels.arrange_leaf import ArrangeLeaf
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_bench, make_project
from tests.layout_gui.windows.open_window import Answers, discard, make_window

pytestmark = OFFSCREEN


class Hands:
    """A window on a bed of two rafts, with what a grower does in it."""

    def __init__(self, window: MainWindow, asks: Answers) -> None:
        self.window, self.asks = window, asks
        self.said: list[str] = []
        self.failed: list[str] = []
        window.holes.said.connect(self.said.append)
        window.document.failed.connect(self.failed.append)

    @property
    def plan(self) -> BedPlan:
        return self.window.document.plan.beds[0]

    @property
    def steps(self) -> list[str]:
        stack = self.window.document.undo_stack
        return [stack.text(at) for at in range(stack.index())]

    def select(self, *names: tuple[str, str]) -> None:
        self.window.selection.set_holes(names)

    def do(self, action: str) -> None:
        self.window.actions_.by_id[action].trigger()

    def places(self, raft: str) -> set[tuple[float, float]]:
        placed = next(each for each in self.plan.rafts if each.name == raft)
        return {(round(x, 6), round(y, 6)) for x, y in placed.design.holes.xy.tolist()}


def clip() -> str:
    return QGuiApplication.clipboard().text()


def set_clip(text: str) -> None:
    QGuiApplication.clipboard().setText(text)


@pytest.fixture
def hands(qapp: QApplication, tmp_path: Path) -> Iterator[Hands]:
    asks = Answers()
    made = make_window(tmp_path, asks=asks)
    made.drawer.set_open(is_open=False)
    made.document.start(make_project())
    set_clip("")
    yield Hands(made, asks)
    discard(made)


def test_copied_holes_are_rows_under_a_heading(hands: Hands) -> None:
    hands.select(("R1", "B2"), ("R1", "A1"))
    hands.do("copy")

    heading, *rows = clip().splitlines()
    assert heading.startswith("raft\thole\tx (mm)\ty (mm)")
    assert [row.split("\t")[:2] for row in rows] == [["R1", "A1"], ["R1", "B2"]]
    assert hands.said[-1] == "2 holes copied"
    assert hands.steps == []


def test_cut_and_pasted_in_place_is_as_before(hands: Hands) -> None:
    before = hands.places("R1")
    hands.select(("R1", "A2"), ("R1", "C3"))
    hands.do("cut")
    assert hands.plan.plants == 16
    hands.do("paste-in-place")

    assert hands.places("R1") == before
    assert hands.steps == ["Cut 2 holes", "Paste 2 holes"]
    assert len(hands.window.selection.holes) == 2
    hands.do("undo")
    hands.do("undo")
    assert hands.plan.plants == 18


def test_pasting_in_place_where_the_holes_still_stand_adds_none(hands: Hands) -> None:
    hands.select(("R1", "A2"))
    hands.do("copy")
    hands.do("paste-in-place")

    assert hands.steps == []
    assert "stands there already" in hands.said[-1]


def test_holes_are_pasted_about_the_pointer_and_selected(hands: Hands, qtbot: QtBot) -> None:
    window = hands.window
    window.show()
    hands.select(("R1", "A1"), ("R1", "A2"))
    hands.do("copy")
    second = hands.plan.rafts[1]
    view = window.view
    view.setFocus()
    at = view.mapFromScene(second.x + 290, second.y + 185)
    qtbot.mouseMove(view.viewport(), at)
    qtbot.waitUntil(lambda: abs(view.pointer_place()[0] - second.x - 290) < 5)

    hands.do("paste")

    assert hands.plan.plants == 20
    chosen = window.selection.holes
    assert {raft for raft, _ in chosen} == {"R2"}
    assert len(chosen) == 2
    assert hands.steps == ["Paste 2 holes"]


def test_bad_lines_are_told_before_the_good_ones_are_pasted(hands: Hands) -> None:
    set_clip("raft\tx\ty\nR1\t192\t185\nR1\tabc\t3\nR7\t1\t2")
    hands.do("paste-in-place")

    (asked,) = hands.asks.asked
    assert "2 lines cannot be used" in asked
    assert "Line 3: “abc” is no length" in asked
    assert "Line 4: there is no raft R7" in asked
    assert "Paste the 1 hole" in asked
    assert hands.steps == []
    hands.asks.agrees = True
    hands.do("paste-in-place")
    assert hands.steps == ["Paste 1 hole"]
    assert (192, 185) in hands.places("R1")


def test_a_clipboard_of_nothing_but_rubbish_is_refused_with_reasons(hands: Hands) -> None:
    set_clip("once upon\na time")
    hands.do("paste-in-place")

    assert hands.asks.asked == []
    assert hands.failed[-1].startswith("Nothing can be pasted.")
    assert "Line 2" in hands.failed[-1]
    set_clip("")
    hands.do("paste-in-place")
    assert "no rows of holes" in hands.said[-1]
    assert hands.steps == []


def test_rows_pasted_into_the_table_move_the_holes_they_name(hands: Hands, qtbot: QtBot) -> None:
    window = hands.window
    window.show()
    window.activateWindow()
    hands.do("part-table")
    assert window.drawer.open_leaf is window.table
    window.table.view.setFocus()
    qtbot.waitUntil(lambda: window.table.has_keyboard)
    set_clip("raft;hole;x (cm);y (cm)\nR2;B2;29,5;28\nR2;;19,2;18,5")

    hands.do("paste")

    assert {(295, 280), (192, 185)} <= hands.places("R2")
    assert hands.plan.plants == 19
    assert hands.steps == ["Paste 2 holes"]


def test_the_table_copies_pastes_and_leaves_out_by_its_buttons(hands: Hands) -> None:
    table = hands.window.table
    hands.do("part-table")
    hands.select(("R1", "A1"), ("R2", "A1"))
    table.copy_button.click()
    assert len(clip().splitlines()) == 3
    table.leave_button.click()
    assert hands.plan.plants == 16
    table.paste_button.click()
    assert hands.plan.plants == 18


def test_another_window_takes_the_text(hands: Hands, tmp_path: Path) -> None:
    hands.select(("R1", "B2"))
    hands.do("copy")
    other = make_window(tmp_path / "other")
    try:
        other.drawer.set_open(is_open=False)
        other.document.start(make_project(make_bench(), units="in"))
        other.selection.set_holes([("R1", "B2")])
        other.actions_.by_id["leave-out"].trigger()
        plants = other.document.plan.plants
        other.actions_.by_id["paste-in-place"].trigger()
        assert other.document.plan.plants == plants + 1
    finally:
        discard(other)


@pytest.mark.parametrize(
    ("action", "count"),
    [
        ("pick-invert", 17),
        ("pick-size", 18),
        ("pick-crop", 18),
        ("pick-design", 9),
        ("pick-pinned", 0),
    ],
)
def test_holes_are_picked_from_the_menu(hands: Hands, action: str, count: int) -> None:
    hands.select(("R1", "A1"))
    hands.do(action)

    assert len(hands.window.selection.holes) == count
    assert hands.said[-1].startswith(f"{count} hole")


def test_of_a_selected_raft_all_holes_count(hands: Hands) -> None:
    hands.window.selection.set_rafts(["R2"])
    hands.do("pick-design")

    assert {raft for raft, _ in hands.window.selection.holes} == {"R2"}


def test_one_key_opens_the_table_and_another_takes_its_place(hands: Hands) -> None:
    by_id = hands.window.actions_.by_id
    hands.do("part-table")
    assert (by_id["part-table"].isChecked(), by_id["part-drawer"].isChecked()) == (True, False)
    hands.do("part-drawer")
    assert (by_id["part-table"].isChecked(), by_id["part-drawer"].isChecked()) == (False, True)
    hands.do("part-drawer")
    assert not hands.window.drawer.is_open


def test_the_table_offers_what_can_be_done_with_its_rows(hands: Hands) -> None:
    by_id = hands.window.actions_.by_id
    offered = hands.window.table.view.actions()

    assert {by_id[name] for name in ("cut", "copy", "paste", "leave-out", "pin")} <= set(offered)


def test_holes_are_lined_up_from_the_menu_and_tools_open_their_leaf(hands: Hands) -> None:
    hands.select(("R1", "A1"), ("R1", "B2"))
    hands.do("arrange-left")
    assert hands.steps == ["Line up 2 holes at the left"]

    hands.do("tool-turn")
    leaf = hands.window.drawer.open_leaf
    assert leaf is not None
    assert leaf.key == "arrange"
    assert hands.window.document.plan.project is not hands.window.document.project
    hands.do("part-arrange")
    assert hands.window.document.plan.project is hands.window.document.project
    assert hands.steps == ["Line up 2 holes at the left"]


def test_a_press_on_the_bed_leaves_a_try_and_selects(hands: Hands, qtbot: QtBot) -> None:
    window = hands.window
    window.show()
    hands.select(("R1", "A1"))
    hands.do("tool-move")
    leaf = window.drawer.open_leaf
    assert isinstance(leaf, ArrangeLeaf)
    assert leaf.is_trying
    raft = hands.plan.rafts[1]
    x, y = raft.design.holes.xy[raft.design.holes.names.index("B2")].tolist()
    at = window.view.mapFromScene(raft.x + x, raft.y + y)
    qtbot.mouseClick(window.view.viewport(), Qt.MouseButton.LeftButton, pos=at)

    assert not leaf.is_trying
    assert window.selection.holes == {("R2", "B2")}
    assert hands.steps == []


def test_in_a_field_the_clipboard_is_the_fields_own(hands: Hands, qtbot: QtBot) -> None:
    window = hands.window
    window.show()
    window.activateWindow()
    hands.select(("R1", "A1"))
    hands.do("part-table")
    window.table.new_button.click()
    line = window.table.new_x.lineEdit()
    line.setText("12.5")
    line.setFocus()
    qtbot.waitUntil(line.hasFocus)
    line.selectAll()

    qtbot.keyClick(line, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert clip() == "12.5"
    qtbot.keyClick(line, Qt.Key.Key_Delete)
    assert line.text() == ""
    qtbot.keyClick(line, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    assert line.text() == "12.5"
    assert hands.steps == []
    assert hands.plan.plants == 18
