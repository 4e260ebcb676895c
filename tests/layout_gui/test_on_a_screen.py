"""Starts an X server and a window manager and runs the tests of ``tests/screen`` there."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
NEEDED = ("Xvfb", "openbox", "xdotool")
MISSING = [name for name in NEEDED if shutil.which(name) is None]


@pytest.fixture
def display(tmp_path: Path) -> Iterator[str]:
    """A screen of 1600 × 1000 that nobody sees, with a window manager."""  # noqa: RUF002
    reading, writing = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1600x1000x24", "-nolisten", "tcp"],
        pass_fds=(writing,),
        stderr=subprocess.DEVNULL,
    )
    os.close(writing)
    with os.fdopen(reading) as told:
        name = f":{told.readline().strip()}"
    env = {**os.environ, "DISPLAY": name, "HOME": str(tmp_path)}
    manager = subprocess.Popen(
        ["openbox"], env=env, stderr=subprocess.DEVNULL, stdout=subprocess.DEVNULL
    )
    yield name
    for process in (manager, server):
        process.terminate()
        process.wait(10)


@pytest.mark.skipif(bool(MISSING), reason=f"not installed here: {', '.join(MISSING)}")
def test_the_window_works_on_a_real_screen(display: str, tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-m", "screen", "-q", "tests/screen"],
        cwd=ROOT,
        env={**os.environ, "DISPLAY": display, "QT_QPA_PLATFORM": "xcb", "LC_ALL": "C.UTF-8"},
        capture_output=True,
        text=True,
        check=False,
        timeout=400,
    )

    sys.stdout.write(done.stdout)
    assert done.returncode == 0, done.stdout[-6000:]
    assert "passed" in done.stdout.splitlines()[-1]
    assert "skipped" not in done.stdout.splitlines()[-1]
