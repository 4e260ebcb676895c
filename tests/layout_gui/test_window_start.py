"""What the window's start loads: nothing that only beds, files and plots need."""

import os
import subprocess
import sys
from pathlib import Path

HEAVY = (
    "geometry.model.project",
    "geometry.checks.finding",
    "numpy",
    "shapely",
    "scipy",
    "geometry.plan",
    "reportlab",
    "ezdxf",
    "fontTools",
    "pydantic",
    "pyqtgraph",
    "multiprocessing",
    "PySide6.QtSvg",
    "PySide6.QtPrintSupport",
    "PySide6.QtNetwork",
)
BARE = f"""
import sys
from layout_gui.app import make_application, make_window
app = make_application()
window = make_window(furnished=False)
window.show()
app.processEvents()
print([name for name in {HEAVY} if name in sys.modules], window.isVisible())
"""
WHOLE = f"""
import sys
from layout_gui.app import make_application, make_window
app = make_application()
window = make_window()
window.show()
app.processEvents()
print([name for name in {HEAVY[6:]} if name in sys.modules], window.isVisible())
"""
OPENED = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from layout_gui import app
from layout_gui.windows.loading import LATER_PARTS, LATER_WORK
first = []
def look():
    (window,) = [w for w in QApplication.topLevelWidgets() if hasattr(w, "is_furnished")]
    if not first:
        first.append((window.isVisible(), window.is_furnished, "numpy" in sys.modules))
    if window.document.is_worked_out and {*LATER_WORK, *LATER_PARTS} <= {*sys.modules}:
        timer.stop()
        print(*first, window.document.plan.plants > 0, window.stack.currentWidget() is window.view)
        window.close()
timer = QTimer(interval=20)
timer.timeout.connect(look)
app.make_application()
QTimer.singleShot(0, look)
timer.start()
app.run_window(Path(sys.argv[1]))
"""
SAMPLE = Path(__file__).parents[2] / "sample_projects" / "school-bench.raft.json"


def told(tmp_path: Path, code: str, *arguments: str) -> str:
    homes = {f"XDG_{kind}_HOME": str(tmp_path) for kind in ("CONFIG", "DATA", "STATE", "CACHE")}
    done = subprocess.run(
        [sys.executable, "-c", code, *arguments],
        cwd=Path(__file__).parents[2],
        env={**os.environ, **homes, "QT_QPA_PLATFORM": "offscreen", "HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def test_an_empty_window_is_shown_before_anything_heavy_is_loaded(tmp_path: Path) -> None:
    # If this fails: what the window needs for a bed is imported by windows/furniture.py.
    assert told(tmp_path, BARE) == "[] True"


def test_files_plots_and_searches_are_loaded_when_they_are_first_used(tmp_path: Path) -> None:
    assert told(tmp_path, WHOLE) == "[] True"


def test_the_window_stands_there_before_its_file_is_opened_and_what_comes_later_is_loaded(
    tmp_path: Path,
) -> None:
    assert told(tmp_path, OPENED, str(SAMPLE)) == "(True, False, False) True True"


def test_a_file_that_cannot_be_opened_leaves_the_start_page(tmp_path: Path) -> None:
    code = OPENED.replace("window.document.is_worked_out", "window.is_furnished").replace(
        "window.document.plan.plants > 0, window.stack.currentWidget() is window.view",
        "window.notice.isVisible(), window.stack.currentWidget() is window.start",
    )

    assert told(tmp_path, code, "/nowhere/gone.raft.json") == "(True, False, False) True True"
