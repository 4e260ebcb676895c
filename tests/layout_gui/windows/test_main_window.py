"""The window as a whole: every part shows the same moment."""

import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QToolButton, QWidget
from pytestqt.qtbot import QtBot

from geometry.model.bed import Split
from geometry.model.project import Project
from geometry.units import Length
from layout_gui.canvas.view import Pointer
from layout_gui.dialogs.help_window import HelpWindow
from layout_gui.dialogs.question import Question
from layout_gui.panels.fields import LengthField
from layout_gui.panels.grow_panel import GrowPanel
from layout_gui.panels.leaves import LeafWish
from layout_gui.panels.make_panel import MakePanel
from layout_gui.panels.stations import STATIONS
from layout_gui.project import edits
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_bench, make_project
from tests.layout_gui.windows.open_window import Answers, discard, make_settings, make_window

pytestmark = OFFSCREEN


@pytest.fixture
def asks() -> Answers:
    return Answers()


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    return tmp_path / "bench.raft.json"


@pytest.fixture
def window(qapp: QApplication, tmp_path: Path, bench: Path, asks: Answers) -> Iterator[MainWindow]:
    made = make_window(tmp_path, disk={bench: make_project()}, asks=asks)
    made.drawer.set_open(is_open=False)
    yield made
    discard(made)


def show(qtbot: QtBot, window: MainWindow) -> None:
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()


def test_an_empty_window_asks_for_the_first_bed(window: MainWindow) -> None:
    assert window.stack.currentWidget() is window.start
    assert not window.fields.isVisibleTo(window)
    assert not window.drawer.isVisibleTo(window)
    assert window.last_line.truth.full == ""


def test_a_first_bed_fills_every_part(window: MainWindow) -> None:
    window.start.started.emit(make_project())

    plan = window.document.plan
    assert window.document.is_modified
    assert window.stack.currentWidget() is window.view
    assert window.road.buttons["Holes"].station.figure == f"{plan.plants} plants"
    assert window.last_line.truth.full.startswith(f"{plan.plants} plants · ")


def test_one_change_is_seen_in_every_part_at_once(window: MainWindow) -> None:
    window.document.start(make_project())
    before = window.last_line.truth.full

    window.document.apply(
        "Split", edits.set_bed(window.document.project, "Bench", rafts=Split(4, 1))
    )

    plants = window.document.plan.plants
    assert window.last_line.truth.full != before
    assert window.road.buttons["Holes"].station.figure == f"{plants} plants"
    assert window.road.buttons["Rafts"].station.figure.startswith("4 of ")


def test_each_station_has_its_fields_and_make_has_the_pages(window: MainWindow) -> None:
    window.document.start(make_project())

    for name in STATIONS:
        window.go_to(name)
        assert window.fields.currentWidget() is window.fields.panel(name)
        on_stage = window.make_view if name == "Make" else window.view
        assert window.stack.currentWidget() is on_stage


def test_leaves_are_drawn_at_the_last_station_or_where_they_are_pinned(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[object] = []
    monkeypatch.setattr(window.view, "set_canopy", drawn.append)
    window.document.start(make_project())

    window.go_to("Grow")
    window.go_to("Bed")
    assert drawn == [(250.0,), None]
    window.leaves.pin(is_on=True)
    window.leaves.want(LeafWish("own", own=Length.of(180)))
    window.go_to("Holes")
    assert drawn[2:] == [(250.0,), (180.0,)]
    window.leaves.pin(is_on=False)
    assert drawn[-1] is None


def test_measured_widths_are_noted_and_forgotten_as_steps(window: MainWindow) -> None:
    window.document.start(make_project())
    window.go_to("Grow")
    grow = window.fields.panel("Grow")
    assert isinstance(grow, GrowPanel)

    grow.width_noted.emit(10, Length.of(90))
    grow.width_noted.emit(20, Length.of(190))
    assert window.document.undo_stack.undoText() == "Note the width on day 20"
    window.leaves.want(LeafWish("day", 15))
    assert grow.bar.wide.text() == "140 mm wide"
    assert "Leaves touch from a width of 212 mm on." in grow.touch
    grow.width_dropped.emit(20)

    assert [each.day for each in window.document.project.growth[0].widths] == [10]
    window.document.undo_stack.undo()
    assert len(window.document.project.growth[0].widths) == 2


def test_selecting_a_hole_goes_where_its_fields_are(window: MainWindow) -> None:
    window.document.start(make_project())

    window.selection.set_holes([("R1", "A1")])

    assert window.road.buttons["Holes"].isChecked()
    assert window.fields.panel("Holes").picked_title == "Hole A1 on raft R1"  # type: ignore[attr-defined]


def test_a_bed_keeps_being_shown_when_it_is_renamed_and_back(window: MainWindow) -> None:
    window.document.start(make_project(make_bench(), make_bench(name="Other")))
    window.selection.set_bed("Other")

    window.document.apply("Rename", edits.rename_bed(window.document.project, "Other", "South"))
    assert window.selection.bed == "South"
    window.document.undo_stack.undo()
    assert window.selection.bed == "Other"
    window.document.apply("Remove", edits.remove_bed(window.document.project, "Other"))
    assert window.selection.bed == "Bench"
    window.document.start(Project(""))
    assert window.selection.bed == ""


def test_units_switch_at_any_time_and_move_nothing(window: MainWindow) -> None:
    window.document.start(make_project())
    beds = window.document.project.beds

    window.set_units("in")

    assert window.document.project.beds is beds
    assert window.road.buttons["Bed"].station.figure.endswith(" in")
    window.document.undo_stack.undo()
    assert window.document.project.units == "mm"


def test_the_title_tells_name_and_changes(window: MainWindow, bench: Path) -> None:
    window.files.open_path(bench)
    assert window.windowTitle() == "Bench test[*] \N{EN DASH} Raftwright"
    assert not window.isWindowModified()

    window.set_units("cm")
    assert window.isWindowModified()
    window.document.undo_stack.undo()
    assert not window.isWindowModified()


def test_a_failure_is_said_above_the_bed_until_something_succeeds(window: MainWindow) -> None:
    window.document.start(make_project())
    window.document.failed.emit("The disk is full; choose another folder.")
    assert window.notice.isVisibleTo(window)
    assert "The disk is full" in window.notice.text.text()

    window.set_units("cm")

    assert not window.notice.isVisibleTo(window)


@pytest.mark.parametrize("answer", ["save", "discard", "cancel"])
def test_closing_asks_about_unsaved_changes(
    qtbot: QtBot, window: MainWindow, bench: Path, asks: Answers, answer: str
) -> None:
    window.files.open_path(bench)
    window.show()
    window.set_units("cm")
    asks.unsaved_answer = answer

    window.close()

    assert asks.asked == ["unsaved Bench test"]
    if answer == "cancel":
        QApplication.processEvents()
        assert window.isVisible()
    else:
        qtbot.waitUntil(lambda: not window.isVisible())


def test_a_project_that_is_only_looked_at_says_so(window: MainWindow, bench: Path) -> None:
    window.document.start(make_project(), bench, read_only=True)

    assert window.windowTitle() == "Bench test[*] (read-only) \N{EN DASH} Raftwright"


@pytest.mark.parametrize("answer", ["stop", "cancel"])
def test_closing_while_files_are_written_asks(
    qtbot: QtBot, window: MainWindow, bench: Path, asks: Answers, tmp_path: Path, answer: str
) -> None:
    window.files.open_path(bench)
    window.show()
    window.go_to("Make")
    panel = window.fields.panel("Make")
    assert isinstance(panel, MakePanel)
    go_on = threading.Event()
    panel.set_folder(tmp_path / "out")
    panel._background.ask(lambda _wanted: (go_on.wait(10), ((), ()))[1])
    assert window.fields.is_writing
    asks.choice = answer

    window.close()

    assert "still being written" in asks.asked[0]
    if answer == "stop":
        qtbot.waitUntil(lambda: not window.isVisible())
        assert not window.fields.is_writing
    else:
        QApplication.processEvents()
        assert window.isVisible()
    go_on.set()


def test_closing_without_changes_asks_nothing(
    window: MainWindow, bench: Path, asks: Answers
) -> None:
    window.files.open_path(bench)
    window.show()

    assert window.close()
    assert asks.asked == []


def test_size_and_columns_are_remembered(
    qapp: QApplication, tmp_path: Path, window: MainWindow
) -> None:
    window.show()
    window.resize(900, 700)
    window.close()

    later = make_window(tmp_path, settings=make_settings(tmp_path))

    # The screen of the tests is 800 wide: only the height can be kept.
    assert later.height() == 700
    discard(later)


def drop(path: str) -> QDropEvent:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(path)])
    drop.data = data  # type: ignore[attr-defined]  # the event does not own it
    return QDropEvent(
        QPointF(5, 5),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )


def test_a_dropped_project_is_opened_and_another_file_is_not(
    window: MainWindow, bench: Path
) -> None:
    window.dropEvent(drop("/pictures/pond.png"))
    assert window.document.path is None
    assert "is a picture" in window.notice.text.text()

    window.dropEvent(drop(str(bench)))

    assert window.document.path == bench


def test_a_narrow_window_folds_the_drawer_and_draws_the_columns_in(
    qtbot: QtBot, window: MainWindow
) -> None:
    window.resize(1440, 900)
    window.show()
    window.document.start(make_project())
    window.drawer.set_open(is_open=True)

    window.resize(1024, 700)

    assert window.width() == 1024
    assert not window.whatif.is_open
    assert window.road.width() < 240
    window.fold("fields")
    assert not window.fields.isVisibleTo(window)
    window.fold("fields")
    assert window.fields.isVisibleTo(window)


def test_everything_is_reached_with_the_keyboard(qtbot: QtBot, window: MainWindow) -> None:
    window.document.start(make_project())
    window.go_to("Holes")
    show(qtbot, window)
    window.road.buttons["Bed"].setFocus()
    seen: list[QWidget] = []

    for _ in range(5):
        window.next_pane()
        seen.append(QApplication.focusWidget())

    panes = (window.stack, window.drawer, window.fields, window.road)
    assert [pane.isAncestorOf(widget) for pane, widget in zip(panes, seen, strict=False)] == [
        True
    ] * 4


def test_every_control_has_a_name_for_a_screen_reader(window: MainWindow) -> None:
    window.document.start(make_project())
    for name in STATIONS:
        window.go_to(name)
    nameless = [
        widget
        for widget in window.findChildren(QWidget)
        if widget.window() is window
        and widget.focusProxy() is None
        and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and not widget.objectName().startswith("qt_")
        and not (widget.accessibleName() or (isinstance(widget, QAbstractButton) and widget.text()))
    ]

    assert nameless == []


def test_typing_in_a_field_of_the_window_is_one_undo_step(qtbot: QtBot, window: MainWindow) -> None:
    window.document.start(make_project())
    window.go_to("Holes")
    show(qtbot, window)
    field = window.fields.panel("Holes").form.editor("spacing")  # type: ignore[attr-defined]
    assert isinstance(field, LengthField)
    field.setFocus()

    QTest.keyClicks(field, "170")
    QTest.keyClick(field, Qt.Key.Key_Return)

    planting = window.document.project.beds[0].planting
    assert planting is not None
    assert planting.spacing == Length.of(170)
    assert window.actions_.by_id["undo"].text() == "Undo Spacing 170 mm"


def test_colours_change_at_once_and_are_remembered(window: MainWindow, tmp_path: Path) -> None:
    window.document.start(make_project())
    window.set_theme("dark")
    dark = window.road.grab().toImage()

    window.set_theme("light")

    assert window.road.grab().toImage() != dark
    assert make_settings(tmp_path).theme == "light"
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    application.setStyleSheet("")


def test_help_opens_without_stopping_the_window(qtbot: QtBot, window: MainWindow) -> None:
    window.show_help("keys")
    window.show_about()

    dialogs = [*window.findChildren(Question), *window.findChildren(HelpWindow)]
    assert len(dialogs) == 2
    assert all(dialog.isVisible() for dialog in dialogs)


def test_the_pointer_is_told_from_the_raft_it_is_on(window: MainWindow) -> None:
    window.document.start(make_project())

    window.view.pointer_moved.emit(Pointer(300, 310, "R1", 290, 300))
    assert window.last_line.place == "x 290 mm  y 300 mm from raft R1"
    window.view.pointer_moved.emit(Pointer(5, 6))
    assert window.last_line.place == "x 5 mm  y 6 mm from the bed's corner"
    window.view.pointer_moved.emit(None)
    assert window.last_line.place == ""


def test_text_is_made_twice_as_large_and_usual_again(qtbot: QtBot, window: MainWindow) -> None:
    window.document.start(make_project())
    window.resize(1440, 900)
    window.show()
    window.set_text(100)
    QApplication.processEvents()
    fields, road = window.fields.width(), window.road.buttons["Bed"].sizeHint().height()
    usual = QApplication.font().pointSizeF()

    window.actions_.by_id["text-200"].trigger()
    QApplication.processEvents()

    assert QApplication.font().pointSizeF() == pytest.approx(2 * usual)
    assert window.road.buttons["Bed"].sizeHint().height() > road + 20
    assert window.actions_.by_id["text-200"].isChecked()
    assert window.fields.width() > fields
    window.actions_.by_id["text-100"].trigger()
    assert QApplication.font().pointSizeF() == pytest.approx(usual)


def type_spacing(qtbot: QtBot, window: MainWindow, bench: Path, text: str) -> LengthField:
    window.document.open(bench)
    window.go_to("Holes")
    show(qtbot, window)
    field = window.fields.findChild(LengthField, "spacing")
    assert isinstance(field, LengthField)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    return field


def test_what_stands_typed_is_saved_too(qtbot: QtBot, window: MainWindow, bench: Path) -> None:
    field = type_spacing(qtbot, window, bench, "200")

    window.actions_.by_id["save"].trigger()

    assert field.hasFocus()
    planting = window.document.project.beds[0].planting
    assert planting is not None
    assert planting.spacing == Length.of(200)
    assert window.document.saved == window.document.project


def test_what_stands_typed_is_asked_about_when_the_window_is_closed(
    qtbot: QtBot, window: MainWindow, bench: Path, asks: Answers
) -> None:
    type_spacing(qtbot, window, bench, "200")

    window.close()

    assert window.isVisible()
    assert [question.split()[0] for question in asks.asked] == ["unsaved"]


def test_what_cannot_be_a_length_stays_typed_while_the_rest_is_saved(
    qtbot: QtBot, window: MainWindow, bench: Path
) -> None:
    field = type_spacing(qtbot, window, bench, "abc")

    window.actions_.by_id["save"].trigger()

    assert field.text() == "abc"
    assert not window.document.is_modified


def test_large_text_leaves_the_bar_of_an_open_drawer_whole(
    qtbot: QtBot, window: MainWindow
) -> None:
    window.resize(900, 600)
    window.document.start(make_project())
    window.go_to("Holes")
    show(qtbot, window)
    window.actions_.by_id["text-200"].trigger()

    window.drawer.toggle("table")
    QApplication.processEvents()

    handle = window.drawer.findChild(QToolButton, "table")
    assert isinstance(handle, QToolButton)
    bar = handle.parentWidget()
    assert bar is not None
    assert bar.height() >= bar.sizeHint().height()
    window.actions_.by_id["text-100"].trigger()


def test_the_keyboard_goes_along_when_the_pages_take_the_place_of_the_bed(
    qtbot: QtBot, window: MainWindow
) -> None:
    show(qtbot, window)
    window.document.start(make_project())
    assert window.focusWidget() is window.view

    window.go_to("Make")
    qtbot.waitUntil(lambda: window.make_view.pages.count() > 0, timeout=20_000)
    window.make_view.pages.setFocus()
    window.go_to("Bed")

    assert window.focusWidget() is window.view


def test_pages_are_printed_from_any_station_once_they_are_drawn(
    qtbot: QtBot, window: MainWindow, tmp_path: Path
) -> None:
    window.document.start(make_project())
    show(qtbot, window)
    window.go_to("Holes")
    panel = window.fields.panel("Make")
    assert isinstance(panel, MakePanel)

    def choose(printer: QPrinter, file: str, _parent: object, go_on: Callable[[], object]) -> None:
        printer.setOutputFileName(str(tmp_path / file))
        go_on()

    panel.outlet._choose = choose

    window.actions_.by_id["print"].trigger()
    qtbot.waitUntil((tmp_path / "template.pdf").exists, timeout=30_000)

    pages = len(PdfReader(tmp_path / "template.pdf").pages)
    assert pages == window.make_view.pages.count() > 1
    for row in range(1, pages):
        window.make_view.pages.item(row).setCheckState(Qt.CheckState.Unchecked)
    window.actions_.by_id["print"].trigger()
    qtbot.waitUntil(lambda: not window.fields.is_writing, timeout=30_000)
    assert len(PdfReader(tmp_path / "template.pdf").pages) == 1
    assert panel.outlet.result.text().startswith("1 page sent to ")


def test_a_leaf_that_is_opened_by_its_key_has_the_keyboard(
    qtbot: QtBot, window: MainWindow
) -> None:
    window.document.start(make_project())
    show(qtbot, window)

    window.actions_.by_id["part-table"].trigger()

    leaf = window.drawer.open_leaf
    assert leaf is not None
    assert leaf.isAncestorOf(window.focusWidget())
