"""Every test of the window is watched: nothing may keep the window's thread busy for long."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from _pytest.runner import runtestprotocol
from PySide6.QtWidgets import QApplication

from tests.watchdog import Long, Watchdog

_RUNS = 3
"""What is loaded, made or measured once takes its time only once: the best of so many runs."""

_found = pytest.StashKey[list[Long]]()


@pytest.fixture(scope="session")
def watchdog() -> Watchdog:
    """Return the watchdog of all tests."""
    return Watchdog()


@pytest.fixture(autouse=True)
def _nothing_blocks(request: pytest.FixtureRequest) -> Iterator[None]:
    if not {"qapp", "qtbot"} & set(request.fixturenames):
        yield
        return
    dog: Watchdog = request.getfixturevalue("watchdog")
    dog.take()
    dog.is_on = True
    yield
    dog.is_on = False
    request.node.stash[_found] = dog.take()


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_protocol(item: pytest.Item, nextitem: pytest.Item | None) -> bool:
    """Run a test; again where the window was kept busy, and let it fail where it always is."""
    hook = item.ihook
    hook.pytest_runtest_logstart(nodeid=item.nodeid, location=item.location)
    found: list[Long] = []
    for run in range(_RUNS):
        item.stash[_found] = []
        if run:
            item._initrequest()  # type: ignore[attr-defined]
        reports = runtestprotocol(item, nextitem=nextitem, log=False)
        again = item.stash[_found]
        names = {one.what for one in again}
        found = [one for one in found if one.what in names] if run else again
        if not found or any(report.failed for report in reports):
            break
    for report in reports:
        if found and report.when == "call" and report.passed:
            report.outcome = "failed"
            report.longrepr = "\n".join(map(str, found))
        hook.pytest_runtest_logreport(report=report)
    hook.pytest_runtest_logfinish(nodeid=item.nodeid, location=item.location)
    return True


@pytest.fixture(autouse=True)
def _plain_looks() -> Iterator[None]:
    """Take away the style and the font that a test has given the whole program."""
    before = QApplication.font() if QApplication.instance() is not None else None
    yield
    app = QApplication.instance()
    if isinstance(app, QApplication):
        if app.styleSheet():
            app.setStyleSheet("")
        if before is not None and app.font() != before:
            app.setFont(before)


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 64 kB; making one needs rights that not everybody has."""
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = shutil.which("mount")
    if mount is None or os.geteuid() != 0:
        pytest.skip("a small disk can only be made by root")
    made = subprocess.run(
        [mount, "-t", "tmpfs", "-o", "size=64k", "none", disk], check=False, capture_output=True
    )
    if made.returncode:
        pytest.skip("a small disk cannot be made here")
    yield disk
    subprocess.run(["umount", disk], check=True)
