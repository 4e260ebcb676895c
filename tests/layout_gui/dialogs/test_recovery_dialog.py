"""Left-over work is shown with its name, place, time and differences, and nothing goes unasked."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from layout_gui.dialogs.question import Question
from layout_gui.dialogs.recovery_dialog import Card, RecoveryDialog
from layout_gui.document.recovery import LeftOver
from layout_gui.project.recovery_file import Head
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN


@pytest.fixture
def window(qtbot: QtBot) -> QWidget:
    made = QWidget()
    qtbot.addWidget(made)
    made.show()
    return made


def left(name: str, path: Path | str = "") -> LeftOver:
    return LeftOver(Path(f"/state/{name}.recovery"), Head(name, name, str(path), 1.7e9, "0.1.0"))


def words(card: Card) -> str:
    return "\n".join(label.text() for label in card.findChildren(QLabel) if label.isVisibleTo(card))


def test_each_card_says_what_it_is(window: QWidget, tmp_path: Path) -> None:
    saved = tmp_path / "bench.raft.json"
    saved.touch()
    there, fresh, gone = left("North", saved), left("", ""), left("South", tmp_path / "gone")

    dialog = RecoveryDialog((there, fresh, gone), window)

    assert words(dialog.cards[there]).startswith(
        f"North\nbench.raft.json in {tmp_path}\nKept safe "
    )
    assert words(dialog.cards[fresh]).startswith("New project\nIt was never saved.")
    assert "Its file is gone" in words(dialog.cards[gone])
    visible = [card.open.isVisibleTo(dialog) for card in dialog.cards.values()]
    assert visible == [True, False, False]
    assert dialog.cards[there].recover.accessibleName() == "Recover “North”"


def test_differences_are_listed_when_they_are_known(window: QWidget, tmp_path: Path) -> None:
    one, same, never, bad = (left(name, tmp_path / name) for name in "abcd")
    dialog = RecoveryDialog((one, same, never, bad), window)

    dialog.show_differences({one: ("the sheets", "the name"), same: (), never: None, bad: "No."})

    assert dialog.cards[one].differs.text().endswith("\N{EN DASH} the sheets\n\N{EN DASH} the name")
    assert dialog.cards[same].differs.text() == "The saved file holds the same."
    assert not dialog.cards[never].differs.isVisibleTo(dialog)
    assert dialog.cards[bad].differs.text() == "It cannot be read: No."


@pytest.mark.parametrize("verb", ["recover", "open"])
def test_a_verb_closes_the_dialog_and_says_which_work(
    window: QWidget, tmp_path: Path, verb: str
) -> None:
    saved = tmp_path / "x"
    saved.touch()
    one, other = left("one", saved), left("two", saved)
    dialog = RecoveryDialog((one, other), window)
    said: list[object] = []
    dialog.answered.connect(said.append)
    dialog.recover_wanted.connect(lambda each: said.append(("recover", each)))
    dialog.open_wanted.connect(lambda each: said.append(("open", each)))
    dialog.open()

    getattr(dialog.cards[other], verb).click()

    assert said == ["taken", (verb, other)]


def test_putting_off_says_so(window: QWidget) -> None:
    said: list[str] = []
    for close in (lambda d: d.buttons["later"].click(), lambda d: d.reject()):
        dialog = RecoveryDialog((left("one"),), window)
        dialog.answered.connect(said.append)
        dialog.open()
        close(dialog)
    assert said == ["later", "cancel"]


@pytest.mark.parametrize("agrees", [True, False])
def test_throwing_away_asks_first(window: QWidget, agrees: bool) -> None:
    one, other = left("one"), left("two")
    dialog = RecoveryDialog((one, other), window)
    thrown: list[LeftOver] = []
    dialog.throw_wanted.connect(thrown.append)
    dialog.open()

    dialog.cards[one].throw.click()
    (question,) = dialog.findChildren(Question)
    assert question.buttons["cancel"].isDefault()
    question.buttons["throw" if agrees else "cancel"].click()

    assert thrown == ([one] if agrees else [])
    assert dialog.isVisible()


def test_with_the_last_card_the_dialog_closes(window: QWidget) -> None:
    one, other = left("one"), left("two")
    dialog = RecoveryDialog((one, other), window)
    dialog.open()

    dialog.take_away(one)
    assert dialog.isVisible()
    dialog.take_away(other)

    assert not dialog.isVisible()


def test_enter_recovers_what_the_keyboard_is_on(window: QWidget) -> None:
    one = left("one")
    dialog = RecoveryDialog((one,), window)
    wanted: list[object] = []
    dialog.recover_wanted.connect(wanted.append)
    dialog.open()

    QTest.keyClick(dialog.cards[one].recover, Qt.Key.Key_Return)

    assert wanted == [one]
