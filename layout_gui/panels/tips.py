"""Tool tips of what people have typed: Qt takes a text with tags in it for markup."""

from PySide6.QtGui import Qt


def plain_tip(text: str) -> str:
    """Return a text so that a tool tip shows it as it stands."""
    return Qt.convertFromPlainText(text) if Qt.mightBeRichText(text) else text
