"""What the window remembers between two runs. Nothing of a project is kept here."""

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from PySide6.QtCore import QByteArray, QSettings, QStandardPaths

from geometry.errors import LengthError
from geometry.units import Length, exact_text, parse_length
from layout_gui.screen.theme import ThemeChoice
from layout_gui.windows.language import LANGUAGE_CHOICES, LanguageChoice

MOST_RECENT: Final = 8
TEXT_PERCENTS: Final = (100, 125, 150, 200)
_CHOICES: Final[tuple[ThemeChoice, ...]] = ("system", "light", "dark", "contrast")


class Settings:
    """Typed access to the preferences of this person on this machine."""

    def __init__(self, store: QSettings | None = None) -> None:
        self._store = store if store is not None else QSettings()

    @property
    def recent(self) -> tuple[Path, ...]:
        """Project files opened or saved last, the newest first."""
        stored = self._store.value("recent")
        texts = [stored] if isinstance(stored, str) else stored or ()
        return tuple(Path(str(text)) for text in texts)[:MOST_RECENT]

    def remember(self, path: Path) -> None:
        """Put a file first among the recent ones, and its folder as the last folder."""
        paths = (path, *(known for known in self.recent if known != path))
        self._set_recent(paths[:MOST_RECENT])
        self._store.setValue("folder", str(path.parent))

    def forget_recent(self) -> None:
        """Clear the list of recent files."""
        self._set_recent(())

    def _set_recent(self, paths: Sequence[Path]) -> None:
        self._store.setValue("recent", [str(path) for path in paths])

    @property
    def folder(self) -> Path:
        """The folder used last; the documents folder at first."""
        return self._path("folder", _documents())

    @property
    def export_folder(self) -> Path:
        """The folder exported to last."""
        return self._path("export-folder", self.folder)

    @export_folder.setter
    def export_folder(self, folder: Path) -> None:
        self._store.setValue("export-folder", str(folder))

    def _path(self, key: str, otherwise: Path) -> Path:
        stored = self._store.value(key)
        path = Path(stored) if isinstance(stored, str) and stored else otherwise
        return path if path.is_dir() else otherwise

    @property
    def page_texts(self) -> tuple[str, ...]:
        """How pages are put on paper, in words that ``panels.page_setup`` reads; empty at first."""
        stored = self._store.value("page-setup")
        return tuple(map(str, stored)) if isinstance(stored, list) else ()

    @page_texts.setter
    def page_texts(self, texts: tuple[str, ...]) -> None:
        self._store.setValue("page-setup", list(texts))

    @property
    def theme(self) -> ThemeChoice:
        """Light, dark, or as the desktop wishes."""
        stored = self._store.value("theme")
        return next((choice for choice in _CHOICES if choice == stored), "system")

    @theme.setter
    def theme(self, choice: ThemeChoice) -> None:
        self._store.setValue("theme", choice)

    @property
    def text_percent(self) -> int:
        """How large text is, beside the size it has at first."""
        stored = str(self._store.value("text-percent"))
        return int(stored) if stored in map(str, TEXT_PERCENTS) else TEXT_PERCENTS[0]

    @text_percent.setter
    def text_percent(self, percent: int) -> None:
        self._store.setValue("text-percent", percent)

    def names(self, key: str) -> tuple[str, ...]:
        """Return the names stored under a key."""
        stored = self._store.value(key)
        return (stored,) if isinstance(stored, str) else tuple(map(str, stored or ()))

    def set_names(self, key: str, names: Sequence[str]) -> None:
        """Store names under a key."""
        if tuple(names) != self.names(key):
            self._store.setValue(key, list(names))

    @property
    def language(self) -> LanguageChoice:
        """The language of the window, or as the desktop wishes."""
        stored = self._store.value("language")
        return next((choice for choice in LANGUAGE_CHOICES if choice == stored), "desktop")

    @language.setter
    def language(self, choice: LanguageChoice) -> None:
        self._store.setValue("language", choice)

    def flag(self, key: str, otherwise: bool) -> bool:  # noqa: FBT001  what stands there
        """Return a switch stored under a name."""
        stored = self._store.value(key)
        return str(stored).lower() == "true" if stored is not None else otherwise

    def set_flag(self, key: str, flag: bool) -> None:  # noqa: FBT001  the value itself
        """Store a switch under a name."""
        self._store.setValue(key, flag)

    def length(self, key: str) -> Length | None:
        """Return a length stored under a name; None if there is none."""
        stored = self._store.value(key)
        try:
            return parse_length(stored, None) if isinstance(stored, str) and stored else None
        except LengthError:
            return None

    def set_length(self, key: str, length: Length | None) -> None:
        """Store a length under a name."""
        self._store.setValue(key, exact_text(length, "mm") if length is not None else "")

    def bytes(self, key: str) -> QByteArray:
        """Return a geometry or splitter state stored under a name; empty if there is none."""
        stored = self._store.value(key)
        return stored if isinstance(stored, QByteArray) else QByteArray()

    def set_bytes(self, key: str, state: QByteArray) -> None:
        """Store a geometry or splitter state under a name."""
        self._store.setValue(key, state)


def _documents() -> Path:
    found = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
    return Path(found) if found and Path(found).is_dir() else Path.home()
