"""The table of holes: it shows the plan, follows the selection and leads it, takes typed places."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from geometry.model.planting import Pin
from geometry.model.project import Project
from geometry.plan import BedPlan, PlacedRaft, Plan
from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.document.selection import HoleName, Selection
from layout_gui.panels.hole_model import HoleModel
from layout_gui.panels.hole_rows import COLUMNS, HoleRows, name_keys
from layout_gui.panels.hole_table import HoleTable
from layout_gui.panels.now import Now
from tests.builders import make_bed_plan, make_design, make_grid, make_holes, make_shape
from tests.layout_gui.panels.desk import OFFSCREEN, make_bench, make_document, make_project

pytestmark = OFFSCREEN

Display = Qt.ItemDataRole.DisplayRole
Edit = Qt.ItemDataRole.EditRole


class Sheet:
    """The leaf in a window of its own, shown every moment as the window does."""

    def __init__(self, qtbot: QtBot, project: Project) -> None:
        self.qtbot = qtbot
        self.document: Document = make_document(project)
        self.selection = Selection()
        self.selection.set_bed(project.beds[0].name)
        self.table = HoleTable(self.document, self.selection)
        qtbot.addWidget(self.table)
        self.document.plan_changed.connect(lambda _plan: self.show())
        self.selection.changed.connect(self.show)
        self.table.resize(900, 400)
        self.table.show()
        self.table.set_open(is_open=True)
        self.show()

    def show(self) -> None:
        document, picked = self.document, self.selection
        self.table.show_now(
            Now(document.project, document.plan, picked.bed, picked.rafts, picked.holes)
        )

    @property
    def model(self) -> HoleModel:
        return self.table.model

    @property
    def plan(self) -> BedPlan:
        return self.document.plan.beds[0]

    def text(self, row: int, column: str) -> str:
        return str(self.model.index(row, self.at(column)).data(Display))

    def column(self, column: str) -> list[str]:
        return [self.text(row, column) for row in range(self.model.rowCount())]

    def at(self, column: str) -> int:
        return list(COLUMNS).index(column)  # type: ignore[arg-type]

    def row_of(self, name: HoleName) -> int:
        ((row, _),) = self.model.spans([name])
        return row

    def type(self, name: HoleName, column: str, text: str) -> None:
        """Type into a cell with the keyboard."""
        view = self.table.view
        rows = view.selectionModel()
        where = self.model.index(self.row_of(name), self.at(column))
        rows.setCurrentIndex(where, QItemSelectionModel.SelectionFlag.NoUpdate)
        self.qtbot.keyClick(view, Qt.Key.Key_F2)
        editor = view.findChild(QLineEdit)
        assert isinstance(editor, QLineEdit)
        editor.selectAll()
        self.qtbot.keyClicks(editor, text)
        self.qtbot.keyClick(editor, Qt.Key.Key_Return)
        self.qtbot.waitUntil(lambda: view.findChild(QLineEdit) is None)

    def place(self, name: HoleName) -> tuple[float, float]:
        raft = next(each for each in self.plan.rafts if each.name == name[0])
        holes = raft.design.holes
        x, y = holes.xy[holes.names.index(name[1])].tolist()
        return x, y

    def selected_rows(self) -> list[int]:
        return sorted(index.row() for index in self.table.view.selectionModel().selectedRows())


@pytest.fixture
def sheet(qtbot: QtBot) -> Sheet:
    return Sheet(qtbot, make_project())


def test_every_hole_is_a_row_with_what_the_plan_says_of_it(sheet: Sheet) -> None:
    assert sheet.model.rowCount() == sheet.plan.plants == 18
    assert [sheet.model.headerData(n, Qt.Orientation.Horizontal) for n in range(8)] == [
        "raft", "hole", "x (mm)", "y (mm)", "hole size (mm)", "crop", "state", "nearest (mm)",
    ]  # fmt: skip
    for raft in sheet.plan.rafts:
        for name in raft.design.holes.names:
            row = sheet.row_of((raft.name, name))
            x, y = sheet.place((raft.name, name))
            assert sheet.text(row, "raft") == raft.name
            assert sheet.text(row, "hole") == name
            assert float(sheet.text(row, "x")) == pytest.approx(x, abs=0.006)
            assert float(sheet.text(row, "y")) == pytest.approx(y, abs=0.006)
            assert sheet.text(row, "hole size") == "50"
            assert sheet.text(row, "crop") == "lettuce, head"
            assert sheet.text(row, "state") == "pattern"


def test_the_nearest_hole_counts_across_joints(sheet: Sheet) -> None:
    xy = sheet.model.rows.in_bed() if sheet.model.rows else np.empty((0, 2))
    away = np.hypot(*(xy[:, None] - xy[None, :]).transpose(2, 0, 1))
    np.fill_diagonal(away, np.inf)
    for row in range(sheet.model.rowCount()):
        name = sheet.text(row, "raft"), sheet.text(row, "hole")
        rows = sheet.model.rows
        assert rows is not None
        (number,) = rows.numbers([name]).tolist()
        assert float(sheet.text(row, "nearest")) == pytest.approx(away[number].min(), abs=0.006)


def test_inches_show_fractions_and_the_heading_says_so(qtbot: QtBot) -> None:
    pins = (Pin("R1", Length.of("7 1/2 in"), Length.of("1 1/64 in")),)
    bed = make_bench()
    assert bed.planting is not None
    bed = replace(bed, planting=replace(bed.planting, pins=pins))
    sheet = Sheet(qtbot, make_project(bed, units="in"))
    pinned = [row for row, state in enumerate(sheet.column("state")) if state == "pinned"]

    assert len(pinned) == 1
    assert sheet.text(pinned[0], "x") == "7 1/2"
    where = sheet.model.index(pinned[0], sheet.at("y"))
    assert where.data(Edit) == "1 1/64 in"
    assert sheet.model.headerData(2, Qt.Orientation.Horizontal) == "x (in)"


@pytest.mark.parametrize("column", COLUMNS)
@pytest.mark.parametrize("order", [Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder])
def test_rows_are_sorted_by_any_column(sheet: Sheet, column: str, order: Qt.SortOrder) -> None:
    sheet.document.apply("pin", _pinned(sheet))
    sheet.table.view.sortByColumn(sheet.at(column), order)

    shown = sheet.column(column)
    key: Callable[[str], Any] = str
    if column in ("x", "y", "hole size", "nearest"):
        key = float
    elif column == "state":
        key = ["pattern", "pinned"].index
    expected = sorted(shown, key=key, reverse=order == Qt.SortOrder.DescendingOrder)
    assert shown == expected
    assert len(shown) == 18
    assert sheet.table.sort_field.value() == (column, order == Qt.SortOrder.DescendingOrder)


def _pinned(sheet: Sheet) -> Project:
    from layout_gui.project import edits  # noqa: PLC0415

    return edits.pin_holes(sheet.document.project, sheet.plan, [("R1", "A2"), ("R2", "C3")])


def test_names_are_sorted_by_letters_and_numbers() -> None:
    names = ["A10", "B1", "A2", "AA1", "P1", "Z9", "A1"]
    keys = name_keys(names)

    assert [names[at] for at in np.argsort(keys)] == ["A1", "A2", "A10", "B1", "P1", "Z9", "AA1"]
    assert len(name_keys([])) == 0


@pytest.mark.parametrize("rafts", [0, 1])
def test_beds_of_no_raft_and_of_no_hole_are_sorted_too(rafts: int) -> None:
    bare = make_design(holes=make_holes([]))
    plan = make_bed_plan([PlacedRaft("R1", bare, 0, 0)] * rafts)
    for column in COLUMNS:
        assert len(HoleRows(plan).sorted(column, descending=False)) == 0


def test_one_raft_can_be_shown_alone(sheet: Sheet) -> None:
    sheet.table.raft_field.setCurrentIndex(2)
    sheet.table.raft_field.activated.emit(2)

    assert set(sheet.column("raft")) == {"R2"}
    assert sheet.model.rowCount() == 9
    assert sheet.table.raft == "R2"
    assert sheet.table.about == "9 holes"


def test_what_is_selected_on_the_bed_is_selected_in_the_rows(sheet: Sheet) -> None:
    names = [("R1", "B2"), ("R2", "C1"), ("R2", "C2")]
    sheet.selection.set_holes(names)

    assert sheet.selected_rows() == sorted(sheet.row_of(name) for name in names)
    assert sheet.table.about == "18 holes, 3 selected"
    assert sheet.table.view.currentIndex().row() == sheet.row_of(("R1", "B2"))
    sheet.table.view.sortByColumn(sheet.at("x"), Qt.SortOrder.DescendingOrder)
    assert sheet.selected_rows() == sorted(sheet.row_of(name) for name in names)
    sheet.selection.clear()
    assert sheet.selected_rows() == []


def test_the_selected_row_is_brought_into_sight(sheet: Sheet) -> None:
    view = sheet.table.view
    view.scrollToBottom()
    sheet.selection.set_holes([("R1", "A1")])

    box = view.visualRect(sheet.model.index(sheet.row_of(("R1", "A1")), 0))
    assert view.viewport().rect().contains(box.center())


def test_selecting_rows_selects_on_the_bed(sheet: Sheet) -> None:
    view = sheet.table.view
    view.selectRow(sheet.row_of(("R2", "B1")))
    assert sheet.selection.holes == {("R2", "B1")}

    view.setFocus()
    sheet.qtbot.keyClick(view, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert sheet.selection.holes == {("R2", "B1"), ("R2", "B2")}

    sheet.qtbot.keyClick(view, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    assert len(sheet.selection.holes) == 18


def test_a_typed_place_moves_the_hole_as_one_step(sheet: Sheet) -> None:
    x, y = sheet.place(("R1", "B2"))

    sheet.type(("R1", "B2"), "x", "29.6 cm")

    assert sheet.place(("R1", "B2")) == (296, y)
    assert sheet.document.undo_stack.undoText() == "x 29.6 cm for 1 hole"
    assert sheet.text(sheet.row_of(("R1", "B2")), "state") == "pinned"
    sheet.document.undo_stack.undo()
    assert sheet.place(("R1", "B2")) == (x, y)


def test_typing_for_several_rows_lines_them_up(sheet: Sheet) -> None:
    names = [("R1", "A1"), ("R1", "B1"), ("R1", "C1")]
    before = [sheet.place(name)[1] for name in names]
    sheet.selection.set_holes(names)

    sheet.type(("R1", "B1"), "x", "4 1/64 in")

    assert [sheet.place(name) for name in names] == [(101.996875, y) for y in before]
    assert sheet.document.undo_stack.count() == 1
    assert sheet.document.undo_stack.undoText() == "x 4 1/64 in for 3 holes"
    assert sheet.selection.holes == set(names)


def test_a_row_that_is_not_selected_is_moved_alone(sheet: Sheet) -> None:
    sheet.selection.set_holes([("R1", "A1"), ("R1", "B1")])
    name = ("R1", "C3")
    before = sheet.place(("R1", "A1"))
    where = sheet.model.index(sheet.row_of(name), sheet.at("y"))

    assert sheet.model.setData(where, "480")

    assert sheet.place(name)[1] == 480
    assert sheet.place(("R1", "A1")) == before


def test_a_text_that_is_no_length_is_refused_with_the_reason(sheet: Sheet) -> None:
    before = sheet.document.project

    sheet.type(("R1", "A1"), "x", "soon")

    assert sheet.document.project is before
    assert "“soon” is no length" in sheet.table.message.text()
    assert sheet.table.message.isVisible()
    sheet.type(("R1", "A1"), "x", "92")
    assert not sheet.table.message.isVisible()


def test_only_places_can_be_typed(sheet: Sheet) -> None:
    editable = {
        column
        for n, column in enumerate(COLUMNS)
        if sheet.model.flags(sheet.model.index(0, n)) & Qt.ItemFlag.ItemIsEditable
    }
    assert editable == {"x", "y"}


def test_enter_opens_a_place(sheet: Sheet) -> None:
    view = sheet.table.view
    view.setCurrentIndex(sheet.model.index(0, sheet.at("x")))
    sheet.qtbot.keyClick(view, Qt.Key.Key_Return)

    editor = view.findChild(QLineEdit)
    assert isinstance(editor, QLineEdit)
    assert editor.text() == sheet.model.index(0, sheet.at("x")).data(Edit)


def test_a_hole_is_added_by_typing(sheet: Sheet) -> None:
    table = sheet.table
    assert not table.add_button.isVisible()
    table.new_button.click()
    assert table.add_button.isVisible()
    table.new_raft.show_value("R2")
    table.new_x.lineEdit().setText("192.5")
    table.new_y.lineEdit().setText("18.5 cm")

    table.add_button.click()

    assert sheet.model.rowCount() == 19
    assert sheet.place(("R2", "P1")) == (192.5, 185)
    assert sheet.document.undo_stack.undoText() == "Add a hole on R2"
    table.new_x.lineEdit().setText("")
    table.add_button.click()
    assert "missing" in table.message.text()


def test_while_a_hole_is_dragged_its_row_stays_and_shows_where_it_is(sheet: Sheet) -> None:
    from layout_gui.project import edits  # noqa: PLC0415

    sheet.table.view.sortByColumn(sheet.at("x"), Qt.SortOrder.AscendingOrder)
    name = ("R1", "A1")
    row = sheet.row_of(name)
    moved = edits.move_holes(sheet.document.project, sheet.plan, {name: (300, 20)})

    sheet.document.preview(moved)
    assert sheet.row_of(name) == row
    assert sheet.text(row, "x") == "300"

    sheet.document.apply("Move", moved)
    assert sheet.row_of(name) != row
    assert sheet.text(sheet.row_of(name), "x") == "300"


def test_a_folded_leaf_does_nothing(qtbot: QtBot) -> None:
    sheet = Sheet(qtbot, make_project())
    sheet.table.set_open(is_open=False)
    bed = make_bench()
    assert bed.planting is not None
    pins = (Pin("R1", Length.of("192.5 mm"), Length.of("185 mm")),)
    sheet.document.apply("x", make_project(replace(bed, planting=replace(bed.planting, pins=pins))))

    assert sheet.model.rowCount() == 18
    sheet.table.set_open(is_open=True)
    assert sheet.model.rowCount() == 19


def test_a_bed_without_holes_is_an_empty_table(qtbot: QtBot) -> None:
    sheet = Sheet(qtbot, make_project(make_bench(planting=None)))

    assert sheet.model.rowCount() == 0
    assert sheet.table.about == "0 holes"
    assert not sheet.table.add_button.isEnabled()


def test_rows_are_read_out_with_their_hole(sheet: Sheet) -> None:
    where = sheet.model.index(sheet.row_of(("R2", "B1")), sheet.at("x"))
    words = str(where.data(Qt.ItemDataRole.AccessibleTextRole))

    assert words.startswith("x (mm) ")
    assert words.endswith("hole B1 of raft R2")


def test_tab_leaves_the_rows(sheet: Sheet) -> None:
    sheet.table.view.setFocus()
    sheet.qtbot.keyClick(sheet.table.view, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is not sheet.table.view
    assert not sheet.table.has_keyboard


def many(rafts: int, *, columns: int = 10, rows: int = 10, own: bool = False) -> Plan:
    """A long row of rafts with a hundred holes each, all alike or each a design of its own."""
    shape = make_shape(2000, 2000)
    grid = make_grid(2000, 2000, columns=columns, rows=rows)
    shared = make_design(shape=shape, holes=grid)
    placed = [
        PlacedRaft(
            f"R{n + 1}",
            make_design(f"bench-{n}", shape=shape, holes=replace(grid)) if own else shared,
            n * 2000.0,
            0.0,
        )
        for n in range(rafts)
    ]
    bed = make_bed_plan(placed)
    return Plan(Project("many", beds=(bed.bed,)), (bed,), None, ())  # type: ignore[arg-type]


@pytest.mark.parametrize("own", [False, True])
def test_ten_thousand_holes_are_sorted_found_and_refreshed_at_once(*, own: bool) -> None:
    """Correctness at that size; how long it takes stands in the benchmarks."""
    plan = many(100, own=own).beds[0]
    model = HoleModel()
    model.show_plan(plan, "mm", resort=True)
    assert model.rowCount() == 10_000

    for n, column in enumerate(COLUMNS):
        model.sort(n, Qt.SortOrder.DescendingOrder)
        order = [model.name_at(row) for row in (0, 9_999)]
        assert None not in order, column
    model.sort(0)
    assert model.name_at(0) == ("R1", "A1")
    assert model.name_at(9_999) == ("R100", "K10")
    everything = [(raft.name, name) for raft in plan.rafts for name in raft.design.holes.names]
    assert model.spans(everything) == [(0, 9_999)]
    assert model.names([(0, 9_999)]) == everything
    assert model.spans([("R100", "A2"), ("R1", "A1"), ("R1", "A2"), ("R9", "nobody")]) == [
        (0, 1), (9_901, 9_901),
    ]  # fmt: skip


def test_a_quarter_of_a_million_rows_make_no_object_each() -> None:
    plan = many(2_500).beds[0]
    rows = HoleRows(plan)

    assert len(rows) == 250_000
    arrays = [value for value in vars(rows).values() if isinstance(value, np.ndarray)]
    assert sum(array.nbytes for array in arrays) <= 250_000 * 60
    order = rows.sorted("x", descending=True)
    assert rows.name(int(order[0]))[1].endswith("10")
    assert rows.gaps is None


def test_rows_grow_with_the_text(sheet: Sheet) -> None:
    view = sheet.table.view
    font = view.font()
    font.setPointSizeF(2 * font.pointSizeF())

    view.setFont(font)

    assert view.rowHeight(0) > view.fontMetrics().height()
