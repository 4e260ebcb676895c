"""What a person who is to help wants to know about this machine; nothing about who uses it."""

import sys
from typing import Final

from PySide6.QtCore import QLocale, QObject, qVersion
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget

from geometry.tongue import spoken, tr
from layout_gui.dialogs.copying import add_copy_button, text_to_copy
from layout_gui.dialogs.question import Question, Verb
from layout_gui.document.state import NAME, version

_LIBRARIES: Final = (
    "PySide6-Essentials", "numpy", "shapely", "scipy", "pydantic", "reportlab", "ezdxf",
    "fonttools", "pyqtgraph",
)  # fmt: skip
_CALLS: Final = 2_000
_SLACK: Final = 50


def keeps_references() -> bool:
    """Tell whether Qt gives None back as often as it borrows it.

    PySide6 6.12.0 on Python 3.11 loses one reference a call, and the program stops in the end.
    """
    thing = QObject()
    before = sys.getrefcount(None)
    for _ in range(_CALLS):
        thing.setObjectName("x")
    return sys.getrefcount(None) > before - _SLACK


def machine_report() -> str:
    """Return the versions, the screens and the language, a line each; not translated."""
    import platform  # noqa: PLC0415  loaded when first used
    from importlib import metadata  # noqa: PLC0415  loaded when first used

    def version_of(name: str) -> str:
        try:
            return f"{name} {metadata.version(name)}"
        except metadata.PackageNotFoundError:
            return f"{name} (not found)"

    screens = [
        f"{screen.size().width()} x {screen.size().height()} at {screen.devicePixelRatio():g}, "
        f"{screen.logicalDotsPerInch():.0f} dpi"
        for screen in QGuiApplication.screens()
    ]
    hints = QGuiApplication.styleHints()
    colours = hints.colorScheme().name.lower()
    references = "kept" if keeps_references() else "LOST: another version of Qt is needed"
    return "\n".join(
        (
            f"{NAME} {version()}",
            f"Python {platform.python_version()}, {platform.python_implementation()}",
            f"Qt {qVersion()}, {', '.join(map(version_of, _LIBRARIES))}",
            f"System {platform.platform()}",
            f"Window system {QGuiApplication.platformName()}",
            f"Screens {'; '.join(screens)}",
            f"Colours {colours}, text {QGuiApplication.font().pointSizeF():g} pt",
            f"Language {QLocale.system().name()}, shown {spoken().language}",
            f"References {references}",
        )
    )


def machine_dialog(parent: QWidget | None) -> Question:
    """Show the report, to be copied."""
    report = machine_report()
    text = tr(
        "Whoever helps you wants to know this. It names nothing of you or your projects, and the "
        "program sends it nowhere: copy it."
    )
    verbs = (Verb("close", tr("Close"), is_default=True),)
    dialog = Question(tr("Report about this machine"), text, verbs, parent)
    dialog.add(text_to_copy(tr("Report"), report, 230))
    add_copy_button(dialog, report)
    return dialog


def log_dialog(text: str, path: str, parent: QWidget | None) -> Question:
    """Show the log, the newest lines in sight."""
    words = tr(
        "What the program did, newest last. Names of files and folders stand in it, nothing else "
        "of yours. It lies in {path}.",
        path=path,
    )
    dialog = Question(tr("Log"), words, (Verb("close", tr("Close"), is_default=True),), parent)
    edit = text_to_copy(tr("Log"), text or tr("Nothing is written yet."), 330)
    edit.setMinimumWidth(640)
    edit.moveCursor(edit.textCursor().MoveOperation.End)
    dialog.add(edit)
    add_copy_button(dialog, text, tr("Copy the log"))
    return dialog
