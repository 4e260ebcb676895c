"""The composition root: builds the parts, hands them to each other, and catches what slips."""

import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Final

from PySide6.QtCore import (
    QMessageLogContext,
    QTimer,
    QtMsgType,
    qInstallMessageHandler,
    qVersion,
)
from PySide6.QtWidgets import QApplication

from layout_gui import log
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.document.state import NAME, state_folder, version
from layout_gui.screen.theme import pick_theme, system_is_dark, system_wants_contrast
from layout_gui.windows.collecting import Collector
from layout_gui.windows.language import LanguageChoice, speak
from layout_gui.windows.loading import Loading
from layout_gui.windows.look import colour, dress, follow_desktop, load_fonts
from layout_gui.windows.main_window import MainWindow
from layout_gui.windows.settings import Settings

_TURN_S: Final = 0.001


def make_application() -> QApplication:
    """Return the application, named, in our style and with our typeface."""
    found = QApplication.instance()
    app = found if isinstance(found, QApplication) else QApplication(sys.argv[:1])
    app.setOrganizationName(NAME)
    app.setApplicationName(NAME)
    app.setApplicationDisplayName(NAME)
    app.setDesktopFileName(NAME.lower())
    app.setStyle("Fusion")
    load_fonts()
    return app


def make_window(settings: Settings | None = None, *, furnished: bool = True) -> MainWindow:
    """Return a window around a new, empty document; see ``MainWindow`` for ``furnished``."""
    settings = settings if settings is not None else Settings()
    follow_desktop(settings.theme)
    theme = pick_theme(
        settings.theme,
        system_is_dark=system_is_dark(),
        system_wants_contrast=system_wants_contrast(),
    )
    colour(theme, settings.text_percent)
    window = MainWindow(Document(), Selection(), settings, furnished=furnished)
    # Last: with a style sheet on, every part is styled anew wherever it is put into another one.
    dress(theme, settings.text_percent)
    return window


def run_window(path: Path | None, *others: Path, language: LanguageChoice | None = None) -> int:
    """Open the window, on a project file or on nothing, and stay until it is closed.

    Other files get windows of their own. Without a ``language`` it speaks the one that was chosen
    in the window.
    """
    # Workers and window share one interpreter: shorter turns keep the window lively.
    sys.setswitchinterval(_TURN_S)
    app = make_application()
    Collector(app)
    begin_log()
    speak(language or Settings().language, app)
    window = make_window(furnished=False)
    hook = ProblemHook(window)
    sys.excepthook = hook

    def go_on() -> None:
        note_start()
        set_pages_up()
        window.furnish()
        if path is not None:
            window.files.open_path(path)
        window.arrivals.open_others(others)
        QTimer.singleShot(0, window.keeping.begin)

    if path is not None:
        window.expect(path)
    document = window.document
    Loading(window, go_on, lambda: document.is_busy or document.is_at_the_disk)
    window.show()
    status = app.exec()
    log.note("ended")
    return status


def set_pages_up() -> None:
    """Let pages set words in any script with the fonts of this computer."""
    from geometry.drawing.outlining import set_outliner  # noqa: PLC0415  after the first picture
    from layout_gui.screen.outlines import outline_text  # noqa: PLC0415  the same

    set_outliner(outline_text)


def begin_log() -> None:
    """Write down from now on what the program does, and what Qt complains of."""
    log.start(state_folder())
    said_before: list[Callable[..., object] | None] = []

    def on_message(kind: QtMsgType, context: QMessageLogContext, text: str) -> None:
        if kind is not QtMsgType.QtDebugMsg:
            log.note(f"{kind.name}: {text}")
        if said_before and said_before[0] is not None:
            said_before[0](kind, context, text)
        else:
            sys.stderr.write(f"{text}\n")

    said_before.append(qInstallMessageHandler(on_message))


def note_start() -> None:
    """Write down which program runs where; looking up its version is not for the first picture."""
    log.note(
        f"started {version()}, Python {sys.version.split()[0]}, Qt {qVersion()}, "
        f"{QApplication.platformName()} on {sys.platform}"
    )


class ProblemHook:
    """What happens when the program makes a mistake: the work is kept safe, and it is said.

    One dialog at a time: a mistake that repeats with every move of the mouse is told once.
    """

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self._is_telling = False

    def __call__(
        self,
        kind: type[BaseException],
        error: BaseException,
        trace: TracebackType | None,
    ) -> None:
        """Print the report, keep the work safe and open the dialog."""
        report = "".join(traceback.format_exception(kind, error, trace))
        sys.stderr.write(report)
        log.note_error(kind, error)
        if issubclass(kind, KeyboardInterrupt):
            QApplication.quit()
        elif not self._is_telling:
            self._is_telling = True
            from layout_gui.dialogs.reading import problem_dialog  # noqa: PLC0415  rarely used

            dialog = problem_dialog(report, self._window.keeping.keep_now(), self._window)
            dialog.finished.connect(self._on_told)
            dialog.open()

    def _on_told(self) -> None:
        self._is_telling = False
