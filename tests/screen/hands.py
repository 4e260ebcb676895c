"""Mouse and keyboard as the X server sends them: through xdotool, not through Qt."""

import subprocess
from collections.abc import Callable, Sequence

from PySide6.QtCore import QPoint, QPointF
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from layout_gui.windows.main_window import MainWindow

STEPS = 12
PAUSE_S = "0.03"
"""Between two steps of a drag, so that each is seen."""


class Hands:
    """Moves the real pointer and presses real keys; the window's events run in between."""

    def __init__(self, qtbot: QtBot, window: MainWindow) -> None:
        self.qtbot = qtbot
        self.window = window

    def to(self, widget: QWidget, at: QPoint | None = None) -> None:
        """Move the pointer onto a place of a widget, its middle unless another is given."""
        place = widget.mapToGlobal(at if at is not None else widget.rect().center())
        self.tell("mousemove", str(place.x()), str(place.y()))

    def click(self, widget: QWidget, at: QPoint | None = None, *, button: int = 1) -> None:
        """Press and let go on a widget."""
        self.to(widget, at)
        self.tell("click", str(button))

    def drag(
        self,
        widget: QWidget,
        start: QPoint,
        end: QPoint,
        *,
        button: int = 1,
        before_release: Callable[[], object] | None = None,
    ) -> None:
        """Press, move in small steps, let go."""
        self.to(widget, start)
        self.tell("mousedown", str(button))
        moves: list[str] = []
        for step in range(1, STEPS + 1):
            place = widget.mapToGlobal(start + (QPointF(end - start) * step / STEPS).toPoint())
            moves += ["mousemove", str(place.x()), str(place.y()), "sleep", PAUSE_S]
        self.tell(*moves)
        if before_release is not None:
            before_release()
        self.tell("mouseup", str(button))

    def wheel(self, widget: QWidget, at: QPoint, notches: int) -> None:
        """Turn the wheel: up for more than zero."""
        self.to(widget, at)
        for _ in range(abs(notches)):
            self.tell("click", "4" if notches > 0 else "5")

    def press(self, *keys: str) -> None:
        """Press keys one after the other; combinations such as "ctrl+s"."""
        for key in keys:
            self.tell("key", key)

    def hold(self, key: str) -> None:
        """Press a key and keep it down."""
        self.tell("keydown", key)

    def release(self, key: str) -> None:
        """Let a held key go."""
        self.tell("keyup", key)

    def type(self, text: str) -> None:
        """Type a text."""
        self.tell("type", "--delay", "15", text)

    def wait(self, happened: Callable[[], object], *, timeout: int = 10_000) -> None:
        """Wait until something has happened."""
        self.qtbot.waitUntil(lambda: bool(happened()), timeout=timeout)

    def idle(self) -> None:
        """Wait until the plan of what was done is there."""
        document = self.window.document
        self.wait(lambda: document.is_worked_out and not document.is_busy, timeout=20_000)

    def let_go(self) -> None:
        """Move the pointer to where it is in nobody's way."""
        self.tell("mousemove", "1590", "990")

    def active(self) -> QWidget | None:
        """Return the window that has the keyboard."""
        return QApplication.activeWindow()

    def tell(self, *words: str) -> None:
        """Let the X server have what xdotool makes of these words."""
        run_while_alive(["xdotool", *words], self.qtbot)


def run_while_alive(command: Sequence[str], qtbot: QtBot) -> str:
    """Run a command while Qt goes on, let what it caused come in, and return what it printed."""
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdout=pipe, stderr=pipe, text=True) as process:
        qtbot.waitUntil(lambda: process.poll() is not None, timeout=15_000)
        assert process.stdout is not None
        assert process.stderr is not None
        assert process.returncode == 0, process.stderr.read()
        said = process.stdout.read()
    for _ in range(3):
        QGuiApplication.sync()
    return said
