"""What the station Make needs from outside: answers of the grower, and a folder to remember."""

from collections.abc import Callable
from pathlib import Path
from typing import Protocol


class AsksForFolder(Protocol):
    """The two things the station asks the grower."""

    def folder(self, start: Path, answer: Callable[[Path], object]) -> None:
        """Ask for a folder."""

    def confirm(self, title: str, text: str, verb: str, answer: Callable[[], object]) -> None:
        """Ask before something that cannot be undone."""


class RemembersMaking(Protocol):
    """Where the folder exported to last and the set-up of the pages are kept."""

    export_folder: Path
    page_texts: tuple[str, ...]
