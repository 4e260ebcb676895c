"""Qt without a screen, and nothing of the person who runs the tests."""

import gc
import multiprocessing
import os
import shutil
import tempfile
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest
from hypothesis import settings

from layout_gui import child_process

# Every run tries the same examples; --hypothesis-profile=explore tries others.
settings.register_profile("steady", derandomize=True, deadline=None, max_examples=50)
settings.register_profile("explore", max_examples=1000, deadline=None)
settings.load_profile("steady")

pytest_plugins = ["pytester"]

ROOT = Path(__file__).parent
HOME = Path(tempfile.mkdtemp(prefix="raftwright-tests-"))
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ["QT_SCALE_FACTOR"] = "1"
for kind in ("CONFIG", "DATA", "STATE", "CACHE"):
    os.environ[f"XDG_{kind}_HOME"] = str(HOME / kind.lower())


# Only the first thread collects, as in the window (layout_gui/windows/collecting.py).
gc.disable()
_run = count(1)
_EVERYTHING_EVERY = 40


LONG_FILES = (
    "layout_gui/test_on_a_screen.py",
    "layout_gui/windows/test_actions.py",
    "tongue/test_window.py",
    "paper/test_every_document.py",
    "layout_gui/panels/test_whatif.py",
    "geometry/test_plan.py",
    "geometry/compare/test_want.py",
)
"""What takes longest comes first, so that no worker is left with it while the others are done."""


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    places = {ROOT / name: place for place, name in enumerate(LONG_FILES)}
    items.sort(key=lambda item: places.get(item.path, len(places)))


def pytest_collection_finish() -> None:
    """What is loaded by now stays for good: no collection need walk through it again."""
    gc.collect()
    gc.freeze()


def pytest_runtest_teardown() -> None:
    gc.collect(1 if next(_run) % _EVERYTHING_EVERY else 2)


CHILDREN_LOAD = [
    "layout_gui.panels.choices",
    "layout_gui.squeezing",
    "layout_gui.cut_searching",
    "geometry.compare.joint_rules",
    "scipy.optimize",
]


@pytest.fixture(scope="session")
def _quick_children() -> Iterator[None]:
    """Child processes branch off one that has loaded all they need: a fresh one costs a second.

    Tests of the start itself say ``fresh_children``.
    """
    patch = pytest.MonkeyPatch()
    if "forkserver" in multiprocessing.get_all_start_methods():
        multiprocessing.set_forkserver_preload(CHILDREN_LOAD)
        patch.setattr(child_process, "_context", multiprocessing.get_context("forkserver"))
    yield
    patch.undo()


@pytest.fixture
def fresh_children(monkeypatch: pytest.MonkeyPatch) -> None:
    """Child processes start as they do for a grower."""
    monkeypatch.setattr(child_process, "_context", multiprocessing.get_context("spawn"))


@pytest.fixture(scope="session")
def qapp_cls(_quick_children: None) -> type:
    """Return the application class, told to keep its files away from the real ones."""
    from PySide6.QtCore import QStandardPaths  # noqa: PLC0415  most tests need no Qt
    from PySide6.QtWidgets import QApplication  # noqa: PLC0415  most tests need no Qt

    QStandardPaths.setTestModeEnabled(True)
    QApplication.setStyle("Fusion")
    return QApplication


def pytest_unconfigure() -> None:
    shutil.rmtree(HOME, ignore_errors=True)
