"""Texts that are read and copied."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QPlainTextEdit

from geometry.tongue import tr
from layout_gui.dialogs.question import Question


def text_to_copy(name: str, text: str, height: int) -> QPlainTextEdit:
    """Make a field that is read and copied, not written."""
    edit = QPlainTextEdit(text)
    edit.setAccessibleName(name)
    edit.setReadOnly(True)
    edit.setTextInteractionFlags(
        Qt.TextInteractionFlag.TextSelectableByMouse
        | Qt.TextInteractionFlag.TextSelectableByKeyboard
    )
    edit.setMinimumSize(480, height)
    return edit


def add_copy_button(dialog: Question, text: str, words: str = "") -> None:
    """Offer to copy a text."""
    words = words or tr("Copy the report")
    dialog.add_aside(words, lambda: QGuiApplication.clipboard().setText(text))
