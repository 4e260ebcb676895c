"""Which files a raft of the log can be printed as, just as it was made."""

from collections.abc import Collection
from typing import Final

from geometry.plan import Plan
from geometry.tongue import tr
from layout_gui.output.documents import CUT_SHEET, DOCUMENTS, TEMPLATE
from layout_gui.output.drawings import raft_drawings
from layout_gui.output.export import HOLES, UnknownFileError

_USUAL: Final = frozenset({TEMPLATE, CUT_SHEET, HOLES})
_MORE: Final = frozenset({"labels.pdf"}) | {each.file for each in DOCUMENTS if each.is_template}


def names_as_made(plan: Plan, wanted: Collection[str] | None = None) -> frozenset[str]:
    """Return the files to write of a raft as it was made: the usual ones, or those ``wanted``.

    Raises:
        UnknownFileError: one that is wanted tells of more than that raft.
    """
    usual = _USUAL | frozenset(raft_drawings(plan))
    if wanted is None:
        return usual
    if unknown := sorted(set(wanted) - usual - _MORE):
        raise UnknownFileError(
            tr(
                "Of a raft as it was made there is no file {files}; there are {names}.",
                files=", ".join(unknown),
                names=", ".join(sorted(usual | _MORE)),
            )
        )
    return frozenset(wanted)
