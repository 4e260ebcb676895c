"""What other programs do to the file of the document while it is open."""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal  # noqa: TID251  loaded after the window is shown

from PySide6.QtCore import QFileSystemWatcher, QObject, QTimer, Signal

from layout_gui.document.document import Document
from layout_gui.document.post import Post

if TYPE_CHECKING:
    from geometry.model.project import Project

SETTLE_S: Final = 0.4
"""How long after the last sign of a change the file is looked at: replacing takes two steps."""

Kind = Literal["same", "changed", "broken", "gone"]
Signature = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class News:
    """What a look at the file found: another project, no project, no file, or the same again."""

    path: Path
    kind: Kind
    project: Project | None = None
    digest: bytes = b""
    signature: Signature | None = None


class Outside(QObject):
    """Watches the file of the document. ``heard`` carries the News that the grower must know.

    A touch, or a rewrite that means the same project, is no news. What was taken in or kept out
    with ``settle`` is none any more; "same" follows news that has turned out to be over.
    """

    heard = Signal(object)
    looked = Signal(object, int)
    """Every look: the News, also of none, and at which state of the document it was aimed."""

    def __init__(
        self, document: Document, *, settle_s: float = SETTLE_S, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._path: Path | None = None
        self._signature: Signature | None = None
        self._known = b""
        self._told: Kind = "same"
        self._round = 0
        self._worker = worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="outside")
        self.destroyed.connect(lambda: worker.shutdown(wait=False, cancel_futures=True))
        self._watcher = QFileSystemWatcher(self)
        self._pause = QTimer(self, interval=round(settle_s * 1000), singleShot=True)
        self._pause.timeout.connect(self.look)
        self._watcher.fileChanged.connect(self._pause.start)
        self._watcher.directoryChanged.connect(self._pause.start)
        self.looked.connect(self._on_looked)
        self._post = Post(self)
        document.started.connect(self.follow)
        document.written.connect(self.follow)

    def follow(self) -> None:
        """Take the file as it is now for the one the document knows, and watch it."""
        self._path = self._document.path
        self._signature = _signature(self._path)
        self._known = b""
        self._told = "same"
        self._round += 1
        self._watch()

    def look(self) -> None:
        """Look at the file in a worker."""
        self._watch()
        if self._document.is_at_the_disk:
            self._pause.start()
        elif self._path is not None:
            path, signature, known = self._path, self._signature, self._known
            saved = self._document.saved
            # Nothing to look for before the file was ever there.
            if signature is not None or self._told != "same":
                work = self._worker.submit(_look, path, signature, known, saved)
                work.add_done_callback(partial(self._announce, self._round))

    def look_now(self) -> News | None:
        """Look before a save that would replace what another program has written; None if none."""
        if self._path is None or self._signature is None:
            return None
        news = _look(self._path, self._signature, self._known, self._document.saved)
        return news if news.kind in {"changed", "broken"} else None

    def settle(self, news: News) -> None:
        """Take note that the grower has decided about these news."""
        self._signature, self._known, self._told = news.signature, news.digest, "same"
        self._round += 1

    def _watch(self) -> None:
        old = [*self._watcher.files(), *self._watcher.directories()]
        wanted = [] if self._path is None else [self._path, self._path.parent]
        # A file that was replaced is another one under the same name, and is watched anew.
        new = [str(path) for path in wanted if path.exists()]
        if gone := [path for path in old if path not in new]:
            self._watcher.removePaths(gone)
        if fresh := [path for path in new if path not in old]:
            self._watcher.addPaths(fresh)

    def _announce(self, asked: int, future: Future[News]) -> None:
        if not future.cancelled() and future.exception() is None:
            self._post.send(lambda: self.looked.emit(future.result(), asked))

    def _on_looked(self, news: News, asked: int) -> None:
        # Saved or opened since, or just now.
        if asked != self._round or self._document.is_at_the_disk:
            self._pause.start()
            return
        if news.kind == "same":
            if news.digest:
                self._signature, self._known = news.signature, news.digest
            if self._told != "same":
                self._told = "same"
                self.heard.emit(news)
        elif news.kind != "gone" or self._told != "gone":
            self._told = news.kind
            self.heard.emit(news)


def _look(path: Path, signature: Signature | None, known: bytes, saved: Project | None) -> News:
    """Compare a file with what is known of it: how it looked, what stood in it, what it meant."""
    import hashlib  # noqa: PLC0415  loaded when first used

    from layout_gui.project.file import LARGEST_BYTES, loads  # noqa: PLC0415  the same

    found = _signature(path)
    if found == signature and found is not None:
        return News(path, "same")
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        return News(path, "gone")
    except OSError:  # a network that sleeps, a program that writes: the next sign tells more
        return News(path, "same")
    digest = hashlib.sha256(data).digest()
    if digest == known:
        return News(path, "same", None, digest, found)
    try:
        project = loads(data, path.name)
    except ValueError:
        return News(path, "broken", None, digest, found)
    kind: Kind = "same" if project == saved else "changed"
    return News(path, kind, project, digest, found)


def _signature(path: Path | None) -> Signature | None:
    if path is None:
        return None
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_ino, found.st_size, found.st_mtime_ns
