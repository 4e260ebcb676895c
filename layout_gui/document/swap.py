"""The one undo command: it puts one frozen project in the place of another."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING  # noqa: TID251  loaded after the window is shown

from PySide6.QtGui import QUndoCommand

if TYPE_CHECKING:
    from geometry.model.project import Project

MERGEABLE = 1


class Swap(QUndoCommand):
    """Swap ``before`` for ``after`` by calling ``switch``, which must not fail.

    Two swaps with the same ``merge_key`` that follow each other become one; when that one ends
    where it began, it disappears from the stack.
    """

    def __init__(
        self,
        text: str,
        before: Project,
        after: Project,
        switch: Callable[[Project], None],
        merge_key: str | None = None,
    ) -> None:
        super().__init__(text)
        self.before = before
        self.after = after
        self.merge_key = merge_key
        self.is_withdrawn = False
        """Whether undoing this takes it off the stack, so that it can't be done again."""
        self._switch = switch

    def redo(self) -> None:
        """Make ``after`` the current project."""
        self._switch(self.after)

    def undo(self) -> None:
        """Make ``before`` the current project again: the identical object."""
        self._switch(self.before)
        self.setObsolete(self.is_withdrawn)

    def id(self) -> int:
        """Tell Qt whether to ask ``mergeWith`` at all."""
        return -1 if self.merge_key is None else MERGEABLE

    def mergeWith(self, other: QUndoCommand) -> bool:
        """Take over the end of the command that follows, if it carries the same key."""
        if not isinstance(other, Swap) or other.merge_key != self.merge_key:
            return False
        self.after = other.after
        self.setObsolete(self.after == self.before)
        return True
