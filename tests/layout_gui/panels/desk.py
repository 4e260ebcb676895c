"""A document with real plans but no files, and the smallest projects to work on."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.outlines import Disc, Outline, Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.sheet import Cutting, Sheet
from geometry.units import Length, Unit
from layout_gui.document.document import Document
from layout_gui.panels.now import Hole, Now

OFFSCREEN = pytest.mark.qt_log_ignore(
    r"This plugin does not support (propagateSizeHints|raise)\(\)", extend=True
)
"""Qt without a screen says so of every window that is shown with a least size."""


def make_bench(*, outline: Outline | None = None, **changes: Any) -> Bed:
    """Two square rafts with nine holes each, and a standpipe that is in nobody's way."""
    return replace(
        Bed(
            "Bench",
            outline or Rectangle(Length.of(1200), Length.of(600)),
            clearance=Length.of(10),
            joint_gap=Length.of(5),
            obstacles=(
                Obstacle(
                    "pipe",
                    Disc(Length.of(20)),
                    centre=Spot(Length.of(20), Length.of(20)),
                    clearance=Length.of(10),
                ),
            ),
            rafts=Split(2, 1),
            planting=Planting(
                Length.of(190),
                Length.of(50),
                crop="lettuce, head",
                pattern="square",
                edge_margin=Length.of(60),
                web=Length.of(25),
            ),
        ),
        **changes,
    )


def make_project(*beds: Bed, units: Unit = "mm", name: str = "Bench test") -> Project:
    board = Sheet("board", Length.of(1250), Length.of(600), Length.of(50))
    return Project(name, units, beds or (make_bench(),), (board,), Cutting(Length.of(3)))


def make_document(
    project: Project | None = None,
    *,
    files: dict[Path, Project] | None = None,
    patience_s: float = 10,
) -> Document:
    """A document that reads and writes the dictionary ``files`` instead of a disk."""
    stored = files if files is not None else {}

    def read(path: Path) -> Project:
        if path not in stored:
            raise OSError(f"{path.name} is not there; choose another file.")
        return stored[path]

    def write(path: Path, project: Project) -> None:
        if path.parent == Path("/locked"):
            raise OSError("The folder is locked; choose another one.")
        stored[path] = project

    document = Document(read=read, write=write, patience_s=patience_s)
    if project is not None:
        document.start(project)
    return document


def now_of(
    document: Document, *, rafts: frozenset[str] = frozenset(), holes: frozenset[Hole] = frozenset()
) -> Now:
    beds = document.project.beds
    return Now(document.project, document.plan, beds[0].name if beds else "", rafts, holes)


def keep_showing(document: Document, show: Callable[[Now], None]) -> None:
    """Show every moment of the document from now on, as the window does."""
    show(now_of(document))
    document.plan_changed.connect(lambda _plan: show(now_of(document)))
