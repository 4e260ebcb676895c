"""Things that a grower wants left where they are until further notice."""

from dataclasses import dataclass
from typing import Final, Literal

LockKind = Literal["raft", "obstacle", "zone"]

LOCK_KINDS: Final[tuple[LockKind, ...]] = ("raft", "obstacle", "zone")


@dataclass(frozen=True, slots=True)
class Lock:
    """The thing of this name in the named bed stays as it is by hand.

    A locked obstacle or zone keeps its place and shape; a locked raft keeps the holes that its
    pattern gives it, moved and left out as they are. Patterns go their own way.
    """

    bed: str
    kind: LockKind
    name: str
