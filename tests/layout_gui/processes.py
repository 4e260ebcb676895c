"""Whether a process is there, for tests of those that must not be."""

import os
import time


def is_there(pid: int) -> bool:
    """A zombie counts as there: nobody has taken note of its end."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


def goes_within(pid: int, seconds: float) -> bool:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        if not is_there(pid):
            return True
        time.sleep(0.01)
    return False
