"""Where the program keeps what is its own, and which program it is."""

from pathlib import Path

from PySide6.QtCore import QStandardPaths


def state_folder() -> Path:
    """Return the folder for recovery files, locks and the log; it need not be there yet."""
    place = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.StateLocation)
    return Path(place or Path.home() / ".raftwright")


def version() -> str:
    """Return the version of the program."""
    from importlib import metadata  # noqa: PLC0415 - loaded when first used

    try:
        return metadata.version("raftwright")
    except metadata.PackageNotFoundError:
        return "0"
