"""A finished file takes the place of another."""

import errno
import time
from pathlib import Path
from typing import Final

PAUSES_S: Final = (0.05, 0.2)
"""How long to wait after the first and the second refusal before trying once more."""
_HELD: Final = frozenset({errno.EBUSY, errno.ETXTBSY, errno.EACCES, errno.EPERM})


def rename(part: Path, target: Path) -> None:
    """Give a file the place of another in one step, trying again while something holds that.

    Raises:
        OSError: the system does not let us; both files are as they were.
    """
    for pause_s in PAUSES_S:
        try:
            part.replace(target)
        except OSError as error:
            # A sync client or a virus scanner may hold the old file for a moment.
            if error.errno not in _HELD:
                raise
            time.sleep(pause_s)
        else:
            return
    part.replace(target)
