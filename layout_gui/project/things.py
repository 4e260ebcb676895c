"""What a bed is made of beside rafts and holes, each by its kind and a key."""

from dataclasses import dataclass
from typing import Final, Literal

ThingKind = Literal["obstacle", "zone", "corner", "along", "across"]

THING_KINDS: Final[tuple[ThingKind, ...]] = ("obstacle", "zone", "corner", "along", "across")
"""In the order in which the keyboard goes through them."""


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing of a bed.

    An obstacle, a corner of the outline and a joint are known by their number, from 0; a zone by
    its name. "along" is a joint that the bed's length crosses, "across" one that its width does.
    """

    kind: ThingKind
    key: int | str

    @property
    def number(self) -> int:
        """The number of what has one; -1 for a zone."""
        return self.key if isinstance(self.key, int) else -1

    @property
    def is_joint(self) -> bool:
        """Whether this is a joint between rafts."""
        return self.kind in {"along", "across"}

    @property
    def stands(self) -> bool:
        """Whether this stands in the bed by itself: an obstacle or a zone."""
        return self.kind in {"obstacle", "zone"}
