"""The road from older project files to today's: one pure step from each version to the next."""

from collections.abc import Callable, Mapping
from typing import Any, Final

from geometry.tongue import tr
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
        return Fault(
            "", tr("is not a project"), tr('start the file with {"format": "raftwright", …}')
        )
    if raw.get("format") != "raftwright":
        what = tr("is not the format of a project") if "format" in raw else tr("is missing")
        return Fault("/format", what, tr('write "format": "raftwright"'))
    found = raw.get("version")
    if not isinstance(found, int) or isinstance(found, bool) or found < 1:
        what = tr("is no version") if "version" in raw else tr("is missing")
        return Fault("/version", what, tr('write "version": {version}', version=version))
    if found > version:
        return Fault(
            "/version",
            tr(
                "the file is of version {found}, made by a newer program; this one reads {version}",
                found=found,
                version=version,
            ),
            tr("open it with the newer program, nothing was changed here"),
        )
    content = dict(raw)
    for step in range(found, version):
        content = {**steps[step](content), "version": step + 1}
    return content
