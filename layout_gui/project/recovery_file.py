"""Recovery files: a project kept safe between saves, with what it belongs to.

The first line is a JSON object that says whose work it is; the rest is a project file as it stands,
so that nobody needs this program to get the work out.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final  # noqa: TID251  loaded after the window is shown

from geometry.tongue import tr
from layout_gui.project.faults import Fault, ProjectFileError
from layout_gui.project.writing import replace_file

if TYPE_CHECKING:
    from geometry.model.project import Project

ENDING: Final = ".recovery"
_LONGEST_HEAD: Final = 64 * 1024


@dataclass(frozen=True, slots=True)
class Head:
    """Whose work a recovery file holds.

    ``id`` is the document's own, ``path`` the file it was opened from or saved to ("" when it was
    never saved), ``time`` seconds since 1970, ``program`` the version that wrote it.
    """

    id: str
    name: str
    path: str
    time: float
    program: str


def write_recovery(path: Path, head: Head, project: Project) -> None:
    """Write a recovery file in full, or leave everything as it was.

    Raises:
        OSError: the system does not let us.
    """
    from layout_gui.project.canonical import project_text  # noqa: PLC0415  not at the start

    first = json.dumps({"recovery": "raftwright", **asdict(head)})
    path.parent.mkdir(parents=True, exist_ok=True)
    replace_file(path, f"{first}\n{project_text(project)}".encode())


def read_head(path: Path) -> Head | None:
    """Read whose work a recovery file holds; None if it is no recovery file of ours.

    Raises:
        OSError: the system does not let us.
    """
    with path.open("rb") as file:
        line = file.readline(_LONGEST_HEAD)
    try:
        found = json.loads(line)
        if found.pop("recovery") != "raftwright":
            return None
        head = Head(**found)
        texts = (head.id, head.name, head.path, head.program)
        is_sound = all(isinstance(text, str) for text in texts)
        return head if is_sound and isinstance(head.time, int | float) else None
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return None


def read_work(path: Path) -> Project:
    """Read the project of a recovery file.

    Raises:
        ProjectFileError: it is none, or what it holds is no project.
        OSError: the system does not let us.
    """
    from layout_gui.project.file import loads  # noqa: PLC0415  loaded when first used

    with path.open("rb") as file:
        file.readline(_LONGEST_HEAD)
        data = file.read()
    if not data:
        raise ProjectFileError(
            path.name, [Fault("", tr("is no recovery file"), tr("choose another"))]
        )
    return loads(data, path.name)
