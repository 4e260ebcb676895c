"""Where the program keeps what is its own, and which program it is."""

from pathlib import Path
from typing import Final

from PySide6.QtCore import QStandardPaths

NAME: Final = "Raftwright"


def state_folder() -> Path:
    """Return the folder for recovery files, locks and the log; it need not be there yet."""
    place = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.StateLocation)
    return Path(place or Path.home() / ".raftwright")


def version() -> str:
    """Return the version of the program, run from its folder or installed."""
    import tomllib  # noqa: PLC0415 - loaded when first used

    try:
        with (Path(__file__).resolve().parents[2] / "pyproject.toml").open("rb") as file:
            return str(tomllib.load(file)["project"]["version"])
    except (OSError, ValueError, KeyError):
        return _installed_version()


def _installed_version() -> str:
    from importlib import metadata  # noqa: PLC0415 - loaded when first used

    try:
        return metadata.version("raftwright")
    except metadata.PackageNotFoundError:
        return "0"
