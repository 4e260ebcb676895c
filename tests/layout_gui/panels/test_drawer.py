"""The drawer: one leaf at a time, its words and its Stop in the bar."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QLabel, QPushButton, QToolButton
from pytestqt.qtbot import QtBot

from layout_gui.panels.drawer import Drawer, Leaf
from layout_gui.panels.now import Now
from layout_gui.screen.theme import DARK, Theme
from tests.layout_gui.panels.desk import OFFSCREEN, make_document, make_project, now_of

pytestmark = OFFSCREEN


class Page(Leaf):
    """A leaf that keeps what it is told."""

    def __init__(self, key: str) -> None:
        super().__init__(key, f"The {key}", f"About the {key}")
        self.heard: list[object] = []
        self.words = f"words of the {key}"
        self.works = False

    @property
    def about(self) -> str:
        return self.words

    @property
    def is_working(self) -> bool:
        return self.works

    def set_open(self, *, is_open: bool) -> None:
        super().set_open(is_open=is_open)
        self.heard.append("open" if is_open else "folded")

    def stop(self) -> None:
        self.works = False
        self.about_changed.emit()

    def show_now(self, now: Now) -> None:
        self.heard.append(now)

    def set_theme(self, theme: Theme) -> None:
        self.heard.append(theme)


class Shell:
    def __init__(self, qtbot: QtBot) -> None:
        self.one, self.two = Page("one"), Page("two")
        self.drawer = Drawer([self.one, self.two])
        qtbot.addWidget(self.drawer)
        self.drawer.resize(700, 400)
        self.drawer.show()

    def handle(self, key: str) -> QToolButton:
        found = self.drawer.findChild(QToolButton, key)
        assert isinstance(found, QToolButton)
        return found

    def is_said(self, words: str) -> bool:
        return any(each.text() == words for each in self.drawer.findChildren(QLabel))

    @property
    def in_sight(self) -> tuple[bool, bool]:
        return self.one.isVisible(), self.two.isVisible()


@pytest.fixture
def shell(qtbot: QtBot) -> Shell:
    return Shell(qtbot)


def test_a_folded_drawer_is_its_bar(shell: Shell) -> None:
    assert shell.drawer.open_leaf is None
    assert shell.in_sight == (False, False)
    assert shell.drawer.maximumHeight() < 100
    assert shell.handle("one").isVisible()


def test_one_leaf_takes_the_place_of_the_other(shell: Shell, qtbot: QtBot) -> None:
    qtbot.mouseClick(shell.handle("one"), Qt.MouseButton.LeftButton)
    assert shell.in_sight == (True, False)

    qtbot.mouseClick(shell.handle("two"), Qt.MouseButton.LeftButton)
    assert shell.in_sight == (False, True)
    assert (shell.handle("one").isChecked(), shell.handle("two").isChecked()) == (False, True)
    assert shell.one.heard == ["open", "folded"]
    assert shell.drawer.minimumHeight() >= 200

    qtbot.mouseClick(shell.handle("two"), Qt.MouseButton.LeftButton)
    assert shell.in_sight == (False, False)
    assert shell.two.heard == ["open", "folded"]


def test_without_a_name_the_leaf_that_was_open_last_comes_back(shell: Shell) -> None:
    shell.drawer.toggle("two")
    shell.drawer.set_open(is_open=False)

    shell.drawer.set_open(is_open=True)

    assert shell.drawer.open_leaf is shell.two


def test_every_turn_is_told(shell: Shell, qtbot: QtBot) -> None:
    with qtbot.waitSignal(shell.drawer.folded, timeout=1000):
        shell.drawer.toggle("one")
    with qtbot.waitSignal(shell.drawer.folded, timeout=1000):
        shell.drawer.toggle("two")


def test_the_bar_says_what_the_open_leaf_is_about(shell: Shell) -> None:
    shell.drawer.toggle("one")
    assert shell.is_said("words of the one")

    shell.one.words = "other words"
    shell.one.about_changed.emit()
    assert shell.is_said("other words")

    shell.drawer.set_open(is_open=False)
    assert not shell.is_said("other words")


def test_stop_ends_the_work_of_the_open_leaf(shell: Shell) -> None:
    stop = next(b for b in shell.drawer.findChildren(QPushButton) if b.text() == "Stop")
    shell.one.works = shell.two.works = True
    shell.drawer.toggle("one")
    assert stop.isVisible()

    stop.click()

    assert not stop.isVisible()
    assert (shell.one.works, shell.two.works) == (False, True)


def test_all_leaves_hear_of_the_moment_and_the_colours(shell: Shell) -> None:
    now = now_of(make_document(make_project()))

    shell.drawer.show_now(now)
    shell.drawer.set_theme(DARK)

    assert shell.one.heard == shell.two.heard == [now, DARK]


def test_words_for_the_view_stand_at_the_right_end(shell: Shell, qtbot: QtBot) -> None:
    action = QAction("Whole bed", shell.drawer)
    shell.drawer.add_view_actions([action])

    tools = [t for t in shell.drawer.findChildren(QToolButton) if t.defaultAction() is action]
    assert len(tools) == 1
    qtbot.waitUntil(lambda: tools[0].x() > shell.handle("two").x() + 200)


def test_words_for_the_view_make_room_for_those_of_the_leaf(shell: Shell) -> None:
    action = QAction("Whole bed", shell.drawer)
    shell.drawer.add_view_actions([action])
    (tool,) = [t for t in shell.drawer.findChildren(QToolButton) if t.defaultAction() is action]
    shell.drawer.toggle("one")
    assert tool.isVisible()

    shell.one.words = "a good many words that nobody wants to see cut off " * 2
    shell.one.about_changed.emit()

    assert not tool.isVisible()
