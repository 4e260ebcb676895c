"""Tells a screen reader what came of a command while the keyboard stays where it is."""

from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QWidget


def say_aloud(widget: QWidget, words: str, *, at_once: bool = False) -> None:
    """Let a screen reader say these words; ``at_once`` interrupts what it says now.

    Costs nothing where nobody listens. Nothing is said of what is out of sight.
    """
    if words and is_heard() and widget.isVisible():
        event = QAccessibleAnnouncementEvent(widget, words)
        if at_once:
            event.setPoliteness(QAccessible.AnnouncementPoliteness.Assertive)
        send(event)


def is_heard() -> bool:
    """Tell whether a screen reader listens to this program."""
    return QAccessible.isActive()


def send(event: QAccessibleAnnouncementEvent) -> None:
    """Hand it to the desktop."""
    QAccessible.updateAccessibility(event)
