"""Every action stands in a menu, has its own keys and says when it may be done."""

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QApplication, QMenu

from geometry.model.project import Project
from layout_gui.windows.actions import ROWS, TOOLS
from layout_gui.windows.looking import CANVAS_MENUS
from layout_gui.windows.main_window import MainWindow
from layout_gui.windows.menus.row import MENUS, SUBMENUS
from tests.layout_gui.panels.desk import OFFSCREEN, make_bench, make_project
from tests.layout_gui.windows.open_window import discard, make_window

pytestmark = OFFSCREEN


@pytest.fixture
def window(qapp: QApplication, tmp_path: Path) -> Iterator[MainWindow]:
    made = make_window(tmp_path)
    yield made
    discard(made)


def enabled(window: MainWindow) -> set[str]:
    return {name for name, action in window.actions_.by_id.items() if action.isEnabled()}


def test_keys_and_mnemonics_are_given_once() -> None:
    keys = Counter(
        sequence.toString()
        for row in ROWS
        if row.keys
        for sequence in QKeySequence.listFromString(row.keys)
    )
    keys.update(("Ctrl+Z", "Ctrl+Y", "Ctrl+Shift+Z"))
    assert [key for key, times in keys.items() if times > 1] == []

    titles = [(row.menu, row.text) for row in ROWS] + list(SUBMENUS.values())
    letters = Counter(
        (menu, text[text.index("&") + 1].lower()) for menu, text in titles if "&" in text
    )
    assert [letter for letter, times in letters.items() if times > 1] == []


def test_every_key_can_be_pressed() -> None:
    for row in ROWS:
        if row.keys:
            assert QKeySequence(row.keys).toString(), row.id


def test_every_action_stands_in_its_menu(window: MainWindow) -> None:
    menus = {menu.title(): menu for menu in window.head.menu_bar.findChildren(QMenu)}

    for row in ROWS:
        _, title = SUBMENUS.get(row.menu, ("", f"&{row.menu}"))
        assert window.actions_.by_id[row.id] in menus[title].actions(), row.id
    for parent, title in SUBMENUS.values():
        assert menus[title].menuAction() in menus[f"&{parent}"].actions(), title
    assert {f"&{name}" for name in MENUS} <= set(menus)
    assert set(TOOLS) <= {row.id for row in ROWS}


def test_every_action_of_a_menu_on_the_canvas_stands_in_a_menu_too(window: MainWindow) -> None:
    rows = {row.id: row for row in ROWS}
    by_keys = {row.id for row in ROWS}

    for kind, names in CANVAS_MENUS.items():
        assert 1 <= len(names) <= 5, kind
        assert len(set(names)) == len(names)
        assert set(names) <= by_keys
        shown = [action.objectName() for action in window.looking.menu_for(kind)]
        assert shown == list(names)
        assert all(rows[name].menu in MENUS for name in names)


def test_an_empty_window_offers_what_can_be_done(window: MainWindow) -> None:
    may = enabled(window)

    assert {"new", "open", "keys", "about", "quit", "go-Bed"} <= may
    assert may.isdisjoint({"save", "save-as", "revert", "export", "add-hole", "pin", "fit", "undo"})


def test_what_can_be_done_follows_the_document_and_the_selection(window: MainWindow) -> None:
    document = window.document
    document.start(make_project(make_bench(planting=None)))
    assert {"save", "export", "fit", "units-in"} <= enabled(window)
    assert "select-all" not in enabled(window)

    document.start(make_project())
    assert {"select-all", "add-hole"} <= enabled(window)
    assert "leave-out" not in enabled(window)
    window.selection.set_holes([("R1", "A1")])
    assert {"leave-out", "pin", "select-none"} <= enabled(window)
    document.start(Project(""))
    assert enabled(window).isdisjoint({"leave-out", "select-all", "save"})


def test_undo_and_redo_name_their_step(window: MainWindow) -> None:
    window.document.start(make_project())
    undo, redo = window.actions_.by_id["undo"], window.actions_.by_id["redo"]

    window.actions_.by_id["units-in"].trigger()
    assert undo.text() == "Undo Lengths in in"
    undo.trigger()
    assert redo.text() == "Redo Lengths in in"
    assert not undo.isEnabled()


def test_what_is_on_has_a_mark(window: MainWindow) -> None:
    window.document.start(make_project(units="cm"))
    by_id = window.actions_.by_id

    assert [by_id[f"units-{unit}"].isChecked() for unit in ("mm", "cm", "in")] == [
        False,
        True,
        False,
    ]
    by_id["part-drawer"].trigger()
    assert by_id["part-drawer"].isChecked() is window.whatif.is_open


def test_recent_files_that_are_gone_are_grey(window: MainWindow, tmp_path: Path) -> None:
    here = tmp_path / "here.raft.json"
    here.write_text("{}", "utf-8")

    window.actions_.show_recent([here, tmp_path / "gone.raft.json"])

    first, second = window.actions_.recent_menu.actions()[:2]
    assert (first.isEnabled(), second.isEnabled()) == (True, False)
    window.actions_.show_recent([])
    assert not window.actions_.recent_menu.isEnabled()


def test_the_list_of_keys_names_every_row_that_has_keys(window: MainWindow) -> None:
    listed = [(menu, keys) for menu, _, keys in window.actions_.key_rows()]

    for row in ROWS:
        if row.keys:
            assert (row.menu, row.keys) in listed
    assert ("Edit", "Ctrl+Z") in listed


def test_no_action_fails_on_a_bed_of_its_own(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[Path | None] = []
    monkeypatch.setattr(window.arrivals, "_open_window", opened.append)
    for row in ROWS:
        if row.id in {"quit", "part-full screen"} or row.id.startswith("theme"):
            continue
        window.document.start(make_project())
        window.selection.set_holes([("R1", "A1")])

        window.actions_.by_id[row.id].trigger()

        if row.menu == "Arrange" and row.id.startswith("tool-"):
            window.drawer.set_open(is_open=False)  # what a tool would do is only shown
        assert window.document.plan.project is window.document.project
    assert opened == [None]


def test_hand_edits_are_given_back_to_the_pattern(window: MainWindow) -> None:
    window.document.start(make_project())
    give_back = window.actions_.by_id["give-back"]
    assert not give_back.isEnabled()
    window.selection.set_holes([("R1", "A1")])
    window.actions_.by_id["leave-out"].trigger()
    plants = window.document.plan.plants

    assert give_back.isEnabled()
    give_back.trigger()

    assert window.document.plan.plants == plants + 1
    assert not give_back.isEnabled()


def test_beds_are_walked_through_by_keys(window: MainWindow) -> None:
    window.document.start(make_project(make_bench(), make_bench(name="B"), make_bench(name="C")))
    step, back = window.actions_.by_id["bed-next"], window.actions_.by_id["bed-before"]

    seen = []
    for action in (step, step, step, back):
        action.trigger()
        seen.append(window.selection.bed)

    assert seen == ["B", "C", "Bench", "C"]


def test_samples_stand_in_the_file_menu(window: MainWindow) -> None:
    first = window.actions_.sample_menu.actions()[0]

    assert len(window.actions_.sample_menu.actions()) >= 3
    assert first.text()[0].isupper()
