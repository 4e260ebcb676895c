"""Tool tips show what was typed, never what it would mean as markup."""

from PySide6.QtCore import QObject
from PySide6.QtGui import QTextDocument

from layout_gui.panels.tips import plain_tip


def test_tags_in_a_name_are_shown_as_they_were_typed(qapp: QObject) -> None:
    name = "<b>North</b> &amp; <img src=x>"
    shown = QTextDocument()
    shown.setHtml(plain_tip(name))
    assert shown.toPlainText() == name


def test_other_names_stay_as_they_are() -> None:
    for name in ("North bench", "x < y > z", "\u05d7\u05e1\u05d4 & 2", ""):
        assert plain_tip(name) == name
