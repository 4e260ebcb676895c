"""The door to the file layer, which is loaded when a project is first opened or saved."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING  # noqa: TID251  loaded after the window is shown

if TYPE_CHECKING:
    from geometry.model.project import Project


def read_project(path: Path) -> Project:
    """Read a project file; raises ValueError or OSError with a sentence for each fault."""
    from layout_gui.project.file import load  # noqa: PLC0415  loaded when first used

    return load(path)


def write_project(path: Path, project: Project) -> None:
    """Write a project file whole or not at all; raises OSError with a sentence."""
    from layout_gui.project.file import save  # noqa: PLC0415  loaded when first used

    save(path, project)


def rewrite_project(path: Path, project: Project) -> None:
    """Write a project file again; the copy of what stood there before the first time stays."""
    from layout_gui.project.file import save  # noqa: PLC0415  loaded when first used

    save(path, project, keeps_previous=False)
