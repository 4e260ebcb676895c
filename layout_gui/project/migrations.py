"""The road from older project files to today's: one pure step from each version to the next."""

from collections.abc import Callable, Mapping
from typing import Any, Final

from layout_gui.project.faults import Fault

VERSION: Final = 1
"""The version that this program writes."""

Step = Callable[[dict[str, Any]], dict[str, Any]]

STEPS: Final[Mapping[int, Step]] = {}
"""By version: the step that turns a file of this version into one of the next."""


def migrate(
    raw: Any, *, version: int = VERSION, steps: Mapping[int, Step] = STEPS
) -> dict[str, Any] | Fault:
    """Bring a file's content to ``version``; a Fault if it is none of ours or too new.

    Decides by the envelope (``format`` and ``version``) alone; the given content is not changed.
    """
    if not isinstance(raw, dict):
        return Fault("", "is not a project", 'start the file with {"format": "raftwright", …}')
    if raw.get("format") != "raftwright":
        what = "is not the format of a project" if "format" in raw else "is missing"
        return Fault("/format", what, 'write "format": "raftwright"')
    found = raw.get("version")
    if not isinstance(found, int) or isinstance(found, bool) or found < 1:
        what = "is no version" if "version" in raw else "is missing"
        return Fault("/version", what, f'write "version": {version}')
    if found > version:
        return Fault(
            "/version",
            f"the file is of version {found}, made by a newer program; this one reads {version}",
            "open it with the newer program, nothing was changed here",
        )
    content = dict(raw)
    for step in range(found, version):
        content = {**steps[step](content), "version": step + 1}
    return content
