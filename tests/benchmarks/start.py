"""Start to the first painted window with a sample open, against a bare PySide6 window.

The floor is a window with as many actions, fields and views and no logic behind them.

python tests/benchmarks/start.py
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
RUNS = 7

BARE = """
import sys
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (QApplication, QDockWidget, QFormLayout, QGraphicsScene,
    QGraphicsView, QLineEdit, QMainWindow, QTreeWidget, QWidget)
app = QApplication(sys.argv)
window = QMainWindow()
for title in "File Edit Bed View Help".split():
    menu = window.menuBar().addMenu(title)
    for number in range(9):
        menu.addAction(f"{title} {number}")
form = QWidget()
fields = QFormLayout(form)
for number in range(40):
    fields.addRow(f"field {number}", QLineEdit("200 mm"))
for widget in (form, QTreeWidget(), QTreeWidget()):
    dock = QDockWidget()
    dock.setWidget(widget)
    window.addDockWidget(Qt.RightDockWidgetArea, dock)
scene = QGraphicsScene()
for number in range(40):
    scene.addEllipse(number * 20, 0, 15, 15)
window.setCentralWidget(QGraphicsView(scene))
window.resize(1440, 900)
window.show()
QTimer.singleShot(0, app.quit)
app.exec()
"""

OURS = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from layout_gui.app import run_window
QTimer.singleShot(0, lambda: None)
original = QApplication.exec
QApplication.exec = lambda *args: (QTimer.singleShot(0, QApplication.quit), original())[1]
run_window(Path(sys.argv[1]))
"""


def seconds(code: str, *arguments: str) -> float:
    with tempfile.TemporaryDirectory() as home:
        environment = {
            **os.environ,
            "QT_QPA_PLATFORM": "offscreen",
            "HOME": home,
            "XDG_CONFIG_HOME": home,
            "XDG_STATE_HOME": home,
            "XDG_DATA_HOME": home,
            "XDG_CACHE_HOME": home,
        }
        start = time.perf_counter()
        subprocess.run(
            [sys.executable, "-c", code, *arguments],
            check=True,
            cwd=ROOT,
            env=environment,
            capture_output=True,
        )
        return time.perf_counter() - start


def main() -> None:
    sample = str(ROOT / "sample_projects" / "school-bench.raft.json")
    pairs = [(seconds(OURS, sample), seconds(BARE)) for _ in range(RUNS + 1)][1:]
    ours, bare = (statistics.median(column) for column in zip(*pairs, strict=True))
    ratio = statistics.median(one / other for one, other in pairs)
    print(
        f"start with a sample: {ours * 1000:.0f} ms, floor {bare * 1000:.0f} ms, ratio {ratio:.2f}"
    )


if __name__ == "__main__":
    main()
