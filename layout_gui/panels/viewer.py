"""Opening what was written in the program that shows such files here."""

import shutil
import tempfile
import time
from contextlib import suppress
from pathlib import Path
from typing import Final

from layout_gui.document.state import state_folder

_KEPT_S: Final = 24 * 3600
"""A viewer may still read a file that was opened a day ago."""


def fresh_folder() -> Path:
    """Make a folder for what a viewer is to read, and clear up those of days before."""
    place = state_folder() / "viewer"
    place.mkdir(parents=True, exist_ok=True)
    with suppress(OSError):
        for old in place.iterdir():
            if old.stat().st_mtime < time.time() - _KEPT_S:
                shutil.rmtree(old, ignore_errors=True)
    return Path(tempfile.mkdtemp(dir=place))
