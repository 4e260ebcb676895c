"""Questions: verbs for answers, one answer each, never in anybody's way."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from layout_gui.dialogs.question import Question, Verb
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN

VERBS = (Verb("discard", "Discard"), Verb("save", "Save", is_default=True))


def ask(qtbot: QtBot) -> tuple[Question, list[str]]:
    question = Question("Save the changes?", "They would be lost.", VERBS)
    answers: list[str] = []
    question.answered.connect(answers.append)
    qtbot.addWidget(question)
    with qtbot.waitActive(question):
        question.open()
        question.activateWindow()
    return question, answers


def test_the_pressed_verb_is_the_answer(qtbot: QtBot) -> None:
    question, answers = ask(qtbot)
    assert [button.text() for button in question.buttons.values()] == ["Discard", "Save"]

    question.buttons["discard"].click()

    assert answers == ["discard"]


def test_enter_gives_the_default_and_escape_cancels(qtbot: QtBot) -> None:
    question, answers = ask(qtbot)
    QTest.keyClick(question, Qt.Key.Key_Return)
    assert answers == ["save"]

    question, answers = ask(qtbot)
    QTest.keyClick(question, Qt.Key.Key_Escape)
    assert answers == ["cancel"]


def test_a_button_aside_leaves_the_question_open(qtbot: QtBot) -> None:
    question, answers = ask(qtbot)
    pressed: list[bool] = []

    question.add_aside("Copy", lambda: pressed.append(True)).click()

    assert pressed == [True]
    assert answers == []
    assert question.isVisible()


def test_the_keyboard_begins_at_the_verb_that_enter_gives(qtbot: QtBot) -> None:
    question = Question("Sure?", "Text", (Verb("lose", "Lose"), Verb("keep", "Keep", True)))
    qtbot.addWidget(question)

    question.open()

    assert question.focusWidget() is question.buttons["keep"]


def test_enter_presses_the_button_that_has_the_keyboard(qtbot: QtBot) -> None:
    question, answers = ask(qtbot)

    question.buttons["discard"].setFocus()
    QTest.keyClick(question.buttons["discard"], Qt.Key.Key_Return)

    assert answers == ["discard"]
