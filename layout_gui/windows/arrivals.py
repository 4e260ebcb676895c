"""Files that come from outside: dropped onto the window or named when the program is started."""

import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

from PySide6.QtCore import QMimeData, QObject

from geometry.tongue import tr, tr_n
from layout_gui.panels.notice import Notice, Way
from layout_gui.windows.files import Files

_PICTURES: Final = frozenset(
    {".png", ".jpg", ".jpeg", ".gif", ".webp", ".bmp", ".tif", ".tiff", ".svg", ".heic", ".avif"}
)
_MADE_HERE: Final = frozenset({".pdf", ".dxf", ".svg", ".csv"})
_ROOT: Final = Path(__file__).resolve().parents[2]

OpenWindow = Callable[[Path | None], object]


def open_window(path: Path | None) -> None:
    """Start the program once more, with a window of its own."""
    from PySide6.QtCore import QProcess  # noqa: PLC0415  loaded when first used

    process = QProcess()
    process.setProgram(sys.executable)
    process.setArguments(["-m", "layout_gui", *([str(path.absolute())] if path else [])])
    process.setWorkingDirectory(str(_ROOT))
    process.startDetached()


class Arrivals(QObject):
    """Opens what comes, or says why not and how to go on; it never takes anything in silence."""

    def __init__(
        self,
        files: Files,
        notice: Notice,
        parent: QObject | None = None,
        *,
        open_window: OpenWindow = open_window,
    ) -> None:
        super().__init__(parent)
        self._files = files
        self._notice = notice
        self._open_window = open_window

    def take_dropped(self, data: QMimeData) -> None:
        """Take what was dropped onto the window."""
        urls = data.urls()
        paths = [Path(url.toLocalFile()) for url in urls if url.isLocalFile()]
        if paths:
            self.take(paths)
        else:
            self._say(tr("Only files on this machine can be opened; save it here first."))

    def take(self, paths: Sequence[Path]) -> None:
        """Open one project, or offer to open several."""
        if len(paths) == 1:
            self._take_one(paths[0])
            return
        projects = [path for path in paths if path.suffix == ".json"]
        if not projects:
            count = len(paths)
            self._say(
                tr_n(
                    "This file is no project; projects end in .raft.json.",
                    "None of these {n} files is a project; projects end in .raft.json.",
                    count,
                )
            )
            return
        here = tr("Open {file} here", file=projects[0].name)
        ways: list[Way] = [(here, lambda: self._files.open_path(projects[0]))]
        if len(projects) > 1:
            ways.append((tr("Open each in its own window"), lambda: self._spread(projects)))
        count = len(projects)
        self._notice.say(
            tr_n(
                "One of these files is a project.",
                "These are {n} projects, and a window holds one.",
                count,
            ),
            ways,
        )

    def open_others(self, paths: Sequence[Path]) -> None:
        """Open each file in a window of its own."""
        for path in paths:
            self._open_window(path)

    def open_fresh(self) -> None:
        """Open another window with nothing in it."""
        self._open_window(None)

    def _take_one(self, path: Path) -> None:
        ending = path.suffix.lower()
        if path.is_dir():
            words = tr("“{name}” is a folder; a project is a file in it.", name=path.name)
            look = tr("Look into it…")
            self._notice.say(words, ((look, lambda: self._files.open_in(path)),))
        elif path.name.endswith(".json~"):
            self._files.open_sample(path)  # the version kept beside a project: never saved over
        elif ending == ".json" or not ending:
            self._files.open_path(path)
        elif ending in _PICTURES:
            self._say(
                tr(
                    "“{name}” is a picture and tells no sizes: measure the bed and type them.",
                    name=path.name,
                )
            )
        elif ending in _MADE_HERE:
            self._say(
                tr(
                    "“{name}” can be written, not read: open the project it was made from.",
                    name=path.name,
                )
            )
        else:
            words = tr("“{name}” is no project; projects end in .raft.json.", name=path.name)
            self._say(words)

    def _spread(self, projects: Sequence[Path]) -> None:
        self._files.open_path(projects[0])
        self.open_others(projects[1:])

    def _say(self, sentence: str) -> None:
        self._notice.say(sentence, ((tr("Open a project…"), self._files.open),))
