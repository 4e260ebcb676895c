"""Keys of one's own: chosen in the dialog, told where they clash, kept, and given back."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from layout_gui.dialogs.keys_dialog import KeysDialog
from layout_gui.document.selection import Selection
from layout_gui.windows import shortcuts
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_document
from tests.layout_gui.windows.open_window import Answers, discard, make_settings

pytestmark = OFFSCREEN

CTRL, SHIFT, ALT = (
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.AltModifier,
)


def make_bare(folder: Path) -> MainWindow:
    return MainWindow(
        make_document(), Selection(), make_settings(folder), Answers(), furnished=False
    )


@pytest.fixture
def window(tmp_path: Path) -> Iterator[MainWindow]:
    made = make_bare(tmp_path)
    yield made
    discard(made)


@pytest.fixture
def dialog(qtbot: QtBot, window: MainWindow) -> KeysDialog:
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    window.actions_.by_id["own-keys"].trigger()
    (made,) = window.findChildren(KeysDialog)
    qtbot.waitUntil(made.isVisible)
    return made


def shown(window: MainWindow, name: str) -> str:
    return window.actions_.by_id[name].shortcut().toString()


def test_keys_are_pressed_told_taken_kept_and_given_back(
    qtbot: QtBot, window: MainWindow, dialog: KeysDialog, tmp_path: Path
) -> None:
    # By keys alone: find, down to it, to the field, press.
    QTest.keyClicks(dialog.search, "guide")
    dialog.pick("guide")
    QTest.keyClick(dialog.commands, Qt.Key.Key_Return)
    assert dialog.field.hasFocus()
    QTest.keyClick(dialog.field, Qt.Key.Key_B, CTRL)
    assert dialog.message.text() == "“Whole bed” has these keys; it would be left without."
    dialog.use.click()
    assert (shown(window, "guide"), shown(window, "fit")) == ("Ctrl+B", "")
    assert window.actions_.by_id["guide"].toolTip().endswith(" (Ctrl+B)")
    assert ("Help", "Guide", "Ctrl+B") in window.actions_.key_rows()

    dialog.accept()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    QTest.keyClick(window, Qt.Key.Key_B, CTRL)
    assert window.is_guided

    again = make_bare(tmp_path)
    assert (shown(again, "guide"), shown(again, "fit")) == ("Ctrl+B", "")
    again.actions_.shortcuts.give_back("fit")
    assert (shown(again, "guide"), shown(again, "fit")) == ("", "Ctrl+B")
    again.actions_.shortcuts.give_all_back()
    assert again.actions_.key_rows() == make_usual(again)
    assert make_settings(tmp_path).names("own-keys") == ()
    discard(again)


def make_usual(window: MainWindow) -> tuple[tuple[str, str, str], ...]:
    assert not any(each.is_own for each in window.actions_.commands())
    return window.actions_.key_rows()


@pytest.mark.parametrize(
    ("name", "key", "modifiers", "said"),
    [
        ("guide", Qt.Key.Key_G, Qt.KeyboardModifier.NoModifier, shortcuts.WRITING),
        ("guide", Qt.Key.Key_G, SHIFT, shortcuts.WRITING),
        ("guide", Qt.Key.Key_Left, Qt.KeyboardModifier.NoModifier, shortcuts.MOVING),
        ("measure", Qt.Key.Key_Z, Qt.KeyboardModifier.NoModifier, shortcuts.BED_KEY),
        ("measure", Qt.Key.Key_T, Qt.KeyboardModifier.NoModifier, "These keys are free."),
        ("guide", Qt.Key.Key_F, ALT, "These keys open the menu File."),
        ("guide", Qt.Key.Key_F12, Qt.KeyboardModifier.NoModifier, "These keys are free."),
        ("save", Qt.Key.Key_S, CTRL, "These keys are free."),
    ],
)
def test_keys_that_cannot_be_are_refused_with_a_reason(
    dialog: KeysDialog, name: str, key: Qt.Key, modifiers: Qt.KeyboardModifier, said: str
) -> None:
    dialog.pick(name)
    QTest.keyClick(dialog.field, key, modifiers)
    assert dialog.message.text() == said
    assert dialog.use.isEnabled() == ("free" in said)


def test_nobody_is_caught_in_the_field(dialog: KeysDialog) -> None:
    dialog.field.setFocus()
    QTest.keyClick(dialog.field, Qt.Key.Key_Tab)
    assert not dialog.field.hasFocus()
    dialog.field.setFocus()
    QTest.keyClick(dialog.field, Qt.Key.Key_Escape)
    assert not dialog.isVisible()


def test_rubbish_in_the_settings_leaves_the_usual_keys(tmp_path: Path) -> None:
    settings = make_settings(tmp_path)
    settings.set_names("own-keys", ["nonsense", "gone=Ctrl+G", "fit=Rubbish+Q", "keys=F12"])
    window = make_bare(tmp_path)
    assert (shown(window, "fit"), shown(window, "keys")) == ("Ctrl+B", "F12")
    assert window.actions_.shortcuts.owner("save", QKeySequence("F12")) == "keys"
    discard(window)
