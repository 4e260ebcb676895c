"""Another program on the same screen: drags a file onto a place, or holds and reads the clipboard.

drag FILE X Y X Y: opens near the first place and drags the file from there to the second.
copy TEXT: puts a text into the clipboard, and prints what is in it half a second later.
read: prints the text in the clipboard.
"""

import subprocess
import sys
from pathlib import Path

from PySide6.QtCore import QMimeData, QPoint, Qt, QTimer, QUrl
from PySide6.QtGui import QDrag, QMouseEvent
from PySide6.QtWidgets import QApplication, QWidget


class Source(QWidget):
    """A small window from which a file can be dragged."""

    def __init__(self, file: Path) -> None:
        super().__init__(None, Qt.WindowType.FramelessWindowHint)
        self._file = file

    def mouseMoveEvent(self, _event: QMouseEvent) -> None:  # noqa: N802  Qt's own name
        data = QMimeData()
        data.setUrls([QUrl.fromLocalFile(str(self._file))])
        drag = QDrag(self)
        drag.setMimeData(data)
        drag.exec(Qt.DropAction.CopyAction)
        QTimer.singleShot(300, QApplication.quit)


def drag(file: Path, start: QPoint, end: QPoint) -> None:
    app = QApplication([])
    source = Source(file)
    source.setGeometry(start.x(), start.y(), 80, 80)
    source.show()

    def go() -> None:
        here = source.mapToGlobal(source.rect().center())
        moves = ["mousemove", str(here.x()), str(here.y()), "mousedown", "1"]
        for step in range(1, 21):
            at = here + (end - here) * step / 20
            moves += ["sleep", "0.03", "mousemove", str(at.x()), str(at.y())]
        moves += ["sleep", "0.3", "mouseup", "1"]
        subprocess.Popen(["xdotool", *moves])

    QTimer.singleShot(600, go)
    QTimer.singleShot(9000, app.quit)
    app.exec()


def main() -> None:
    task, *rest = sys.argv[1:]
    if task == "drag":
        x, y, to_x, to_y = map(int, rest[1:])
        drag(Path(rest[0]), QPoint(x, y), QPoint(to_x, to_y))
        return
    app = QApplication([])
    if task == "copy":
        app.clipboard().setText(rest[0])
        QTimer.singleShot(4000, app.quit)
        app.exec()
    else:
        QTimer.singleShot(300, app.quit)
        app.exec()
        sys.stdout.write(app.clipboard().text())


if __name__ == "__main__":
    main()
