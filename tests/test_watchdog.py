"""The watchdog bites: it finds what blocks the window's thread, and nothing else."""

import time
from collections.abc import Callable
from pathlib import Path
from threading import Thread

import pytest

from tests.watchdog import LIMIT_S, Watchdog, slowness

SLOT = """
def slot(seconds):
    end = time.thread_time() + seconds
    while time.thread_time() < end:
        pass
"""
WINDOW = "/somewhere/layout_gui/panels/made_up.py"


def made(code: str, name: str) -> Callable[..., object]:
    """A function that seems to stand in a file of the window."""
    found: dict[str, Callable[..., object]] = {}
    exec(compile(code, WINDOW, "exec"), {"time": time, "Thread": Thread}, found)  # noqa: S102
    return found[name]


def spin(seconds: float) -> None:
    end = time.thread_time() + seconds
    while time.thread_time() < end:
        pass


@pytest.fixture(scope="module")
def dog() -> Watchdog:
    return Watchdog()


def watched(dog: Watchdog, do: Callable[[], object]) -> list[str]:
    dog.take()
    dog.is_on = True
    do()
    dog.is_on = False
    return [one.what for one in dog.take()]


def test_a_function_of_the_window_that_blocks_is_found_with_its_place(dog: Watchdog) -> None:
    slot = made("def slot(spin, s):\n    spin(s)\n", "slot")
    long = LIMIT_S * 3 * max(1.0, slowness())
    dog.is_on = True
    slot(spin, long)
    dog.is_on = False

    (found,) = dog.take()

    assert found.what == "made_up.py slot"
    assert found.seconds > LIMIT_S
    assert "made_up.py:2 slot" in str(found)


def test_waiting_is_not_blocking(dog: Watchdog) -> None:
    slot = made("def slot():\n    time.sleep(0.4)\n", "slot")

    assert watched(dog, slot) == []


def test_work_of_another_thread_does_not_count(dog: Watchdog) -> None:
    code = (
        "def slot(spin):\n    t = Thread(target=spin, args=(0.4,))\n    t.start()\n    t.join()\n"
    )
    slot = made(code, "slot")

    assert watched(dog, lambda: slot(spin)) == []


def test_what_was_before_it_was_asked_to_look_does_not_count(dog: Watchdog) -> None:
    slot = made("def slot(spin):\n    spin(0.03)\n", "slot")
    for _ in range(5):
        spin(0.3)
        assert watched(dog, lambda: slot(spin)) == []


def test_many_short_turns_are_not_one_long_one(dog: Watchdog) -> None:
    slot = made("def slot(spin):\n    spin(0.02)\n", "slot")

    assert watched(dog, lambda: [slot(spin) for _ in range(20)]) == []


def test_what_is_not_the_window_s_may_take_its_time(dog: Watchdog) -> None:
    assert watched(dog, lambda: spin(0.3)) == []


def test_a_test_that_blocks_the_window_fails_and_says_where(
    pytester: pytest.Pytester, request: pytest.FixtureRequest
) -> None:
    root = Path(__file__).parents[1]
    pytester.makeconftest((root / "tests/layout_gui/conftest.py").read_text("utf-8"))
    pytester.makepyfile(
        f"""
        import time
        import pytest

        @pytest.fixture
        def qapp():
            return None

        exec(compile({SLOT!r}, {WINDOW!r}, "exec"))

        def test_short(qapp):
            slot(0.01)

        def test_long(qapp):
            slot(1.0)

        runs = []

        def test_long_only_once(qapp):
            runs.append(1)
            if len(runs) == 1:
                slot(1.0)
        """
    )

    done = pytester.runpytest_inprocess("-p", "no:cacheprovider", "-p", "no:pytest-qt")

    done.assert_outcomes(passed=2, failed=1)
    done.stdout.fnmatch_lines(["*made_up.py slot kept the window busy for * ms (at most *"])
