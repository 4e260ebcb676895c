"""Nothing is lost: recovery files, what crashed runs have left, and what others do to the file."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from geometry.tongue import tr
from layout_gui import log
from layout_gui.dialogs.asker import Asks
from layout_gui.dialogs.question import Verb
from layout_gui.dialogs.recovery_dialog import RecoveryDialog
from layout_gui.document.autosave import Autosave
from layout_gui.document.document import Document
from layout_gui.document.outside import News
from layout_gui.document.recovery import FOLDER, LeftOver, left_over, what_differs
from layout_gui.panels.background import Background, IsWanted
from layout_gui.panels.notice import Notice, Way
from layout_gui.windows.files import Files
from layout_gui.windows.settings import Settings

_KEY: Final = "not-now"


class Keeping(QObject):
    """Keeps the work of one window safe. ``notice`` tells what other programs did to its file."""

    def __init__(
        self, document: Document, files: Files, settings: Settings, asks: Asks, window: QWidget
    ) -> None:
        super().__init__(window)
        self._document = document
        self._files = files
        self._settings = settings
        self._asks = asks
        self._window = window
        self._folder = files.state / FOLDER
        self._dialog: RecoveryDialog | None = None
        self._is_troubled = False
        self.autosave = Autosave(document, self._folder, parent=self)
        self.notice = Notice()
        self._compare = Background(self)
        self._compare.done.connect(self._on_compared)
        self.autosave.troubled.connect(self._on_troubled)
        files.outside.heard.connect(self._on_heard)
        document.started.connect(self.notice.hide)
        document.written.connect(self.notice.hide)

    def begin(self) -> None:
        """Offer what crashed runs have left, but for what was put off before."""
        put_off = self._settings.names(_KEY)
        left = left_over(self._folder)
        self._settings.set_names(_KEY, [one.file.name for one in left if one.file.name in put_off])
        if any(one.file.name not in put_off for one in left):
            self._offer(left)

    def offer(self) -> None:
        """Offer all that crashed runs have left."""
        if left := left_over(self._folder):
            self._offer(left)
        else:
            self._files.said.emit(tr("No work is waiting to be recovered"))

    def keep_now(self) -> Path | None:
        """Keep unsaved work safe at once; return where, or None if there is none."""
        return self.autosave.write_now()

    def ask_to_stop_writing(self, then: Callable[[], object]) -> None:
        """Ask before closing stops files that are being written."""
        verbs = (Verb("stop", tr("Stop and close")), Verb("cancel", tr("Stay"), is_default=True))
        self._asks.choose(
            tr("Files are still being written"),
            tr("Closing now stops that; the files in the folder stay as they were before."),
            verbs,
            lambda answer: then() if answer == "stop" else None,
        )

    def finish(self) -> None:
        """The window is closed: what it held is saved, or given up on purpose."""
        self.autosave.finish()
        self._files.release()

    def _offer(self, left: tuple[LeftOver, ...]) -> None:
        if self._dialog is not None:
            return
        self._dialog = dialog = RecoveryDialog(left, self._window)
        dialog.recover_wanted.connect(self.recover)
        dialog.open_wanted.connect(self._open_saved)
        dialog.throw_wanted.connect(self._throw)
        dialog.answered.connect(lambda key: self._on_answered(key, left))
        dialog.open()

        def work(is_wanted: IsWanted) -> dict[LeftOver, tuple[str, ...] | str | None]:
            found: dict[LeftOver, tuple[str, ...] | str | None] = {}
            for one in left:
                if not is_wanted():
                    break
                try:
                    found[one] = what_differs(one)
                except (OSError, ValueError) as error:
                    found[one] = str(error)
            return found

        self._compare.ask(work)

    def recover(self, left: LeftOver) -> None:
        """Go on with left-over work, after asking about what is open now."""
        self._files.guarded(lambda: self._recover(left))

    def _recover(self, left: LeftOver) -> None:
        try:
            project = left.read()
        except (OSError, ValueError) as error:
            words = tr("{reason} The file stays where it is: {path}", reason=error, path=left.file)
            self._document.failed.emit(words)
            return
        slot = left.claim()
        if slot is None:
            self._document.failed.emit(tr("Another window has recovered this work already."))
            return
        log.note(f"recovered {left.file.name} of {left.path}")
        self._files.start_recovered(project, left.path)
        self.autosave.adopt(slot)

    def _open_saved(self, left: LeftOver) -> None:
        if left.path is not None:
            self._put_off((left,))
            self._files.open_path(left.path)

    def _throw(self, left: LeftOver) -> None:
        log.note(f"thrown away {left.file.name} of {left.path}")
        if left.throw_away() and self._dialog is not None:
            self._dialog.take_away(left)

    def _on_answered(self, key: str, left: tuple[LeftOver, ...]) -> None:
        self._dialog = None
        self._compare.forget()
        if key != "taken":
            self._put_off(left)

    def _put_off(self, left: tuple[LeftOver, ...]) -> None:
        names = {one.file.name for one in left if one.file.exists()}
        self._settings.set_names(_KEY, sorted({*self._settings.names(_KEY), *names}))

    def _on_compared(self, found: Mapping[LeftOver, tuple[str, ...] | str | None]) -> None:
        if self._dialog is not None:
            self._dialog.show_differences(found)

    def _on_troubled(self, reason: str) -> None:
        is_over, self._is_troubled = self._is_troubled and not reason, bool(reason)
        if is_over:
            self.notice.hide()
        if not reason:
            return
        log.note(f"not kept safe: {reason}")
        words = tr("Unsaved work cannot be kept safe between saves: {reason}.", reason=reason)
        self.notice.say(words, ((tr("Save now"), self._files.save),))

    def _on_heard(self, news: News) -> None:
        file = news.path.name
        self._is_troubled = False
        log.note(f"{news.kind} outside: {news.path}")
        if news.kind == "same":
            self.notice.hide()
            return
        if news.kind == "changed":
            words = (
                tr(
                    "“{file}” was changed by another program, and it has changes here too.",
                    file=file,
                )
                if self._document.is_modified
                else tr("“{file}” was changed by another program.", file=file)
            )
            ways: tuple[Way, ...] = (
                (tr("Read it again"), lambda: self._take_in(news)),
                (tr("Keep mine"), lambda: self._keep_mine(news)),
            )
        elif news.kind == "broken":
            words = tr(
                "“{file}” was changed by another program and is no project any more. "
                "The work here is unharmed.",
                file=file,
            )
            ways = ((tr("Save mine over it"), lambda: self._save_mine(news)),)
        else:
            words = tr(
                "“{file}” is no longer there: moved, renamed or deleted. The work is still here.",
                file=file,
            )
            ways = ((tr("Save it there again"), self._files.save),)
        if news.kind != "changed":
            self._document.mark_unsaved()
            ways = (*ways, (tr("Save elsewhere…"), self._files.save_as))
        self.notice.say(words, ways)

    def _take_in(self, news: News) -> None:
        if news.project is not None:
            self._files.outside.settle(news)
            self._document.take_in(tr("Read the file again"), news.project)

    def _keep_mine(self, news: News) -> None:
        self._files.outside.settle(news)
        self._document.mark_unsaved()

    def _save_mine(self, news: News) -> None:
        self._files.outside.settle(news)
        self._files.save()
