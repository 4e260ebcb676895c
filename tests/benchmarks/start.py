"""Start to the first painted window, and on to a sample that is shown, against bare windows.

The floor of each is a PySide6 window with as many actions and as many widgets of each Qt class as
ours has at that moment, and no logic behind them; all in one run, by turns. Processor time is told
beside the time on the clock: on a busy machine only that can be compared.

A bed cannot be shown without numpy, shapely and pydantic: a bare window that loads these three is
measured too.

PYTHONPATH=. python tests/benchmarks/start.py
"""

import json
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
RUNS = 5
LIBRARIES = ("numpy", "shapely", "pydantic")

BARE = """
import json, os, sys
from PySide6 import QtWidgets
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (QApplication, QGraphicsScene, QGraphicsView, QMainWindow,
    QVBoxLayout, QWidget)
counts = json.loads(sys.argv[1])
for name in sys.argv[2:]:
    __import__(name)
app = QApplication(sys.argv[:1])
app.setStyle("Fusion")
window = QMainWindow()
menu = None
for number in range(counts.pop("QAction")):
    if number % 9 == 0:
        menu = window.menuBar().addMenu(f"Menu {number}")
    menu.addAction(f"Action {number}")
inside = QWidget()
box = QVBoxLayout(inside)
for name, count in counts.items():
    made = getattr(QtWidgets, name)
    for number in range(count):
        if issubclass(made, QGraphicsView):
            scene = QGraphicsScene()
            for at in range(40):
                scene.addEllipse(at * 20, 0, 15, 15)
            widget = made(scene)
        else:
            widget = made()
            if hasattr(widget, "setText"):
                widget.setText("200 mm")
            widget.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        box.addWidget(widget)
window.setCentralWidget(inside)
window.resize(1440, 900)
window.show()
QTimer.singleShot(0, lambda: (app.processEvents(), os._exit(0)))
app.exec()
"""

OURS = """
MADE_BY_QT = "QMenu QMenuBar QScrollBar QSplitterHandle QListView QHeaderView".split()
import json, os, sys
from collections import Counter
from pathlib import Path
from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication
from layout_gui.app import run_window
until, counting = sys.argv[1], "count" in sys.argv
path = Path(sys.argv[2]) if len(sys.argv) > 2 and sys.argv[2] != "count" else None

class Eye(QObject):
    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Paint and until == "window":
            QTimer.singleShot(0, self.end)
        return False

    def look(self):
        window = self.window
        if window.document.is_worked_out and window.view.isVisible():
            window.view.viewport().repaint()
            self.end()

    def end(self):
        if counting:
            from PySide6 import QtWidgets
            from PySide6.QtGui import QAction
            counts = Counter()
            for widget in self.window.findChildren(QtWidgets.QWidget):
                kinds = (kind.__name__ for kind in type(widget).__mro__)
                name = next(k for k in kinds if hasattr(QtWidgets, k))
                # Qt makes these by itself, for the floor as well.
                if name not in MADE_BY_QT:
                    counts[name.replace("QAbstract", "Q").replace("QButton", "QToolButton")] += 1
            counts["QAction"] = len(self.window.findChildren(QAction))
            print(json.dumps(counts), flush=True)
        os._exit(0)  # what is still being loaded is not waited for

def begin():
    eye.window = next(w for w in QApplication.topLevelWidgets() if hasattr(w, "document"))
    eye.window.installEventFilter(eye)
    if until == "sample":
        eye.timer.timeout.connect(eye.look)
        eye.timer.start(5)

original = QApplication.exec
def go(*arguments):
    global eye
    eye = Eye()
    eye.timer = QTimer()
    begin()
    return original()
QApplication.exec = go
run_window(path)
"""


def run(code: str, *arguments: str) -> tuple[float, float, str]:
    """Return seconds on the clock, seconds of processor, and what was printed."""
    with tempfile.TemporaryDirectory() as home:
        environment = {name: value for name, value in os.environ.items() if name[:6] != "PYTHON"}
        environment |= {
            "QT_QPA_PLATFORM": "offscreen",
            "PYTHONPATH": str(ROOT),
            # Compiled once, as on a grower's machine, wherever the program lies.
            "PYTHONPYCACHEPREFIX": str(Path(tempfile.gettempdir()) / "start-benchmark-compiled"),
            # As ``main`` does, which is passed by.
            "PYDANTIC_DISABLE_PLUGINS": "__all__",
            "HOME": home,
            "XDG_CONFIG_HOME": home,
            "XDG_STATE_HOME": home,
            "XDG_DATA_HOME": home,
            "XDG_CACHE_HOME": home,
        }
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        start = time.perf_counter()
        done = subprocess.run(
            [sys.executable, "-c", code, *arguments],
            check=True,
            cwd=ROOT,
            env=environment,
            capture_output=True,
            text=True,
        )
        took = time.perf_counter() - start
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        worked = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        return took, worked, done.stdout.strip()


def compare(what: str, ours: list[str], floor: list[str]) -> None:
    """Run ours and its floor by turns; print both and their ratio, best and median."""
    turns = [(run(*ours)[:2], run(*floor)[:2]) for _ in range(RUNS)]
    told = []
    for kind in (0, 1):
        mine, bare = ([turn[who][kind] for turn in turns] for who in (0, 1))
        ratio = statistics.median(one / other for one, other in zip(mine, bare, strict=True))
        told.append(
            f"{1000 * min(mine):.0f} ms against {1000 * min(bare):.0f} ms,"
            f" ratio of the best {min(mine) / min(bare):.2f}, median ratio {ratio:.2f}"
        )
    print(f"{what}\n   on the clock: {told[0]}\n   of processor: {told[1]}")


def main() -> None:
    """Measure."""
    sample = str(ROOT / "sample_projects" / "school-bench.raft.json")
    small = run(OURS, "window", "count")[2]
    whole = run(OURS, "sample", sample, "count")[2]
    for counts in (small, whole):
        numbers = json.loads(counts)
        widgets = sum(numbers.values()) - numbers["QAction"]
        print(f"{numbers['QAction']} actions, {widgets} widgets: {counts}")
        run(BARE, counts)
    compare("first window, empty", [OURS, "window"], [BARE, small])
    compare("first window, a sample on its way", [OURS, "window", sample], [BARE, small])
    compare("a sample shown", [OURS, "sample", sample], [BARE, whole])
    beside = f"a sample shown, against a bare window that loads {', '.join(LIBRARIES)}"
    compare(beside, [OURS, "sample", sample], [BARE, whole, *LIBRARIES])
    whole_floor = "first window, empty, against all actions, fields and views of the full one"
    compare(whole_floor, [OURS, "window"], [BARE, whole])


if __name__ == "__main__":
    main()
