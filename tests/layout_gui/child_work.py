"""Work for child processes: functions of a module, as they must be."""

import os
import sys
import time
from collections.abc import Callable
from typing import Any

from geometry.errors import GeometryError

Tell = Callable[[Any], None]
Work = Callable[[Tell], None]


def count_up(tell: Tell, most: int) -> int:
    for number in range(most):
        tell(number)
    return most


def burn_for_ever(tell: Tell) -> None:
    """Hold the interpreter lock without a pause, as a solver does."""
    tell(os.getpid())
    while True:
        sum(range(1_000_000))


def refuse(tell: Tell, sentence: str) -> None:
    tell("something")
    raise GeometryError(sentence)


def eat_all_memory(tell: Tell) -> None:
    raise MemoryError


def fall_over(tell: Tell) -> None:
    tell("half of it")
    os._exit(3)


def loaded_modules(tell: Tell) -> list[str]:
    return sorted({name.partition(".")[0] for name in sys.modules})


def sleep_deaf(tell: Tell) -> None:
    """Work that no polite order to end can reach."""
    import signal  # noqa: PLC0415  for this work only

    signal.signal(signal.SIGTERM, signal.SIG_IGN)
    tell(os.getpid())
    time.sleep(60)
