"""Dialogs that only say something: what went wrong, what this program is, which keys there are."""

from pathlib import Path
from typing import Final

from PySide6.QtWidgets import QWidget

from geometry.tongue import mark, tr
from layout_gui.dialogs.copying import add_copy_button, text_to_copy
from layout_gui.dialogs.machine import machine_report
from layout_gui.dialogs.question import Question, Verb
from layout_gui.document.state import NAME, version

_LICENCES: Final = (
    ("Qt for Python", "LGPL 3"),
    ("NumPy", "BSD"),
    ("Shapely", "BSD"),
    ("SciPy", "BSD"),
    ("pydantic", "MIT"),
    ("ReportLab", "BSD"),
    ("ezdxf", "MIT"),
    ("fontTools", "MIT"),
    ("pyqtgraph", "MIT"),
    (
        "DejaVu Sans",
        mark("Bitstream Vera licence, beside the typeface in the program's folder"),
    ),
)


def about_dialog(parent: QWidget | None) -> Question:
    """Say what this program is and what it is made of."""
    licences = "\n".join(f"{name}: {tr(licence)}" for name, licence in _LICENCES)
    text = tr(
        "From a bed as it really measures to rafts that fit, holes in the right places and paper "
        "that can be trusted at the drill.\n\nIt asks the network for nothing."
    )
    dialog = Question(
        f"{NAME} {version()}", text, (Verb("close", tr("Close"), is_default=True),), parent
    )
    dialog.add(text_to_copy(tr("System and licences"), f"{machine_report()}\n\n{licences}", 190))
    add_copy_button(dialog, machine_report())
    return dialog


def problem_dialog(report: str, copy: Path | None, parent: QWidget | None) -> Question:
    """Say that the program made a mistake, where the work is, and offer the report to copy out."""
    text = (
        tr(
            "The last step did not finish; the fault is the program's. Your unsaved work is safe "
            "in {path}; should the program end, it is offered at the next start.",
            path=copy,
        )
        if copy
        else tr(
            "The last step did not finish; the fault is the program's. "
            "There was nothing unsaved to lose."
        )
    )
    dialog = Question(
        tr("Something went wrong"),
        text,
        (Verb("close", tr("Keep working"), is_default=True),),
        parent,
    )
    full = f"{machine_report()}\n\n{report}"
    dialog.add(text_to_copy(tr("Report"), full, 170))
    add_copy_button(dialog, full)
    return dialog
