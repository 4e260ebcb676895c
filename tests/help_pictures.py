"""Makes the pictures of the help from the program itself, in both palettes.

Run by hand after the window has changed: ``python tests/help_pictures.py``.
"""

import os
import shutil
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ["QT_SCALE_FACTOR"] = "1"
for kind in ("CONFIG", "DATA", "STATE", "CACHE"):
    os.environ[f"XDG_{kind}_HOME"] = tempfile.mkdtemp()
os.environ["HOME"] = tempfile.mkdtemp()
ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

import numpy as np  # noqa: E402  after the platform is chosen
from PySide6.QtCore import QRect, QStandardPaths, Qt  # noqa: E402  after the platform is chosen
from PySide6.QtGui import QImage, QPixmap  # noqa: E402
from PySide6.QtTest import QTest  # noqa: E402
from PySide6.QtWidgets import QApplication  # noqa: E402

from layout_gui.app import make_application, make_window  # noqa: E402
from layout_gui.dialogs.help_pages import FOLDER  # noqa: E402
from layout_gui.panels.make_panel import MakePanel  # noqa: E402
from layout_gui.windows.main_window import MainWindow  # noqa: E402

SAMPLE = ROOT / "sample_projects" / "school-bench.raft.json"
WIDTH, HEIGHT = 1240, 780
SHOWN = 760
"""Pictures are this many pixels wide at most, so that they fit the page."""


def until(happened: Callable[[], object], seconds: float = 60) -> None:
    """Let the window go on until something has happened."""
    for _ in range(int(seconds * 50)):
        if happened():
            break
        QTest.qWait(20)
    QTest.qWait(400)


def open_sample(window: MainWindow) -> None:
    copy = Path(tempfile.mkdtemp()) / SAMPLE.name
    window.files.open_path(Path(shutil.copy(SAMPLE, copy)))
    document = window.document
    until(lambda: document.is_worked_out and not document.is_busy and document.plan.plants)


def keep(pixmap: QPixmap, folder: Path, name: str) -> None:
    """Save a picture small: scaled, in few colours."""
    image = pixmap.toImage()
    if image.width() > SHOWN:
        image = image.scaledToWidth(SHOWN, Qt.TransformationMode.SmoothTransformation)
    few = image.convertToFormat(
        QImage.Format.Format_Indexed8,
        _frequent_colours(image),
        Qt.ImageConversionFlag.ThresholdDither | Qt.ImageConversionFlag.AvoidDither,
    )
    folder.mkdir(parents=True, exist_ok=True)
    few.save(str(folder / f"{name}.png"), "PNG", 0)


def _frequent_colours(image: QImage) -> list[int]:
    """Return the 256 colours that stand for most of a picture; of like ones the most frequent."""
    pixels = np.frombuffer(image.convertToFormat(QImage.Format.Format_RGB32).constBits(), np.uint32)
    colours, counts = np.unique(pixels, return_counts=True)
    by_count = np.argsort(-counts, kind="stable")
    _, first = np.unique(colours[by_count] & 0xF0F0F0, return_index=True)
    return [int(colour) for colour in colours[by_count[np.sort(first)]][:256]]


def pictures(palette: str) -> None:
    """Make all pictures in one palette."""
    folder = FOLDER / "pictures" / palette
    window = make_window()
    window.set_theme(palette)
    window.resize(WIDTH, HEIGHT)
    window.show()
    window.actions_.by_id["guide"].trigger()
    QTest.qWait(600)
    keep(window.grab(), folder, "guide")
    window.actions_.by_id["guide"].trigger()
    open_sample(window)
    window.go_to("Holes")
    window.drawer.set_open(is_open=False)
    QTest.qWait(600)
    keep(window.grab(), folder, "window")
    window.view.zoom_in()
    window.view.zoom_in()
    window.view.zoom_in()
    window.selection.set_holes([("R2", "B2")])
    QTest.qWait(300)
    middle = window.stack
    keep(window.grab(QRect(middle.mapTo(window, middle.rect().topLeft()), middle.size())), folder,
         "drawing")  # fmt: skip
    window.view.fit()
    window.drawer.set_open(is_open=True)
    until(lambda: window.whatif.inside is not None)
    QTest.qWait(6000)
    drawer = window.drawer
    keep(drawer.grab(), folder, "what-if")
    window.go_to("Make")
    panel = window.fields.panel("Make")
    assert isinstance(panel, MakePanel)
    panel.set_folder(Path("rafts"))  # and no folder of the machine that makes the picture
    until(lambda: window.make_view.pages.count() > 0)
    keep(window.grab(), folder, "make")
    window.close()


if __name__ == "__main__":
    QStandardPaths.setTestModeEnabled(True)
    app = make_application()
    for each in ("light", "dark"):
        pictures(each)
    QApplication.quit()
