"""Names beside the holes of a small drawing: large enough to read, on no rim and no other name."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from geometry.drawing.marks import Box
from geometry.drawing.text_width import CAP_HEIGHT, text_width

HEIGHTS = (4.4, 3.8, 3.2, 2.6)
"""The font sizes that are tried, the largest first."""

_CLEAR_MM = 0.6
_MANY = 600
_MOST = 3000


@dataclass(slots=True)
class _Taken:
    """Boxes that nothing else may be written on."""

    boxes: NDArray[np.float64]
    count: int = field(default=0)

    def add(self, box: Box) -> None:
        self.boxes[self.count] = box
        self.count += 1

    def is_free(self, box: Box) -> bool:
        left, bottom, right, top = self.boxes[: self.count].T
        return not (
            (left < box.right) & (box.left < right) & (bottom < box.top) & (box.bottom < top)
        ).any()


def names_beside(
    names: Sequence[str], rims: NDArray[np.float64], within: Box, keep_off: Sequence[Box]
) -> tuple[float, tuple[Box, ...]] | None:
    """Find the largest font size at which every name stands beside its hole, and where.

    ``rims`` are x, y and radius of each hole on the page, all that is drawn round it included.
    Names stay ``within`` a box and clear of the boxes of ``keep_off``. None where there is no room.
    """
    if not 0 < len(names) <= _MOST:
        return None
    for height in HEIGHTS if len(names) <= _MANY else HEIGHTS[-1:]:
        found = _placed(names, rims, within, keep_off, height)
        if found is not None:
            return height, found
    return None


def _placed(
    names: Sequence[str],
    rims: NDArray[np.float64],
    within: Box,
    keep_off: Sequence[Box],
    height: float,
) -> tuple[Box, ...] | None:
    taken = _Taken(np.empty((2 * len(names) + len(keep_off), 4)))
    for x, y, radius in rims.tolist():
        taken.add(Box(x - radius, y - radius, x + radius, y + radius))
    for box in keep_off:
        taken.add(box)
    placed: list[Box] = []
    tall = height * CAP_HEIGHT
    for name, (x, y, radius) in zip(names, rims.tolist(), strict=True):
        half = text_width(name, height) / 2
        out = radius + _CLEAR_MM
        for middle, bottom in (
            (x, y + out),
            (x, y - out - tall),
            (x + out + half, y - tall / 2),
            (x - out - half, y - tall / 2),
        ):
            box = Box(middle - half, bottom, middle + half, bottom + tall)
            inside = (
                within.left <= box.left
                and box.right <= within.right
                and within.bottom <= box.bottom
                and box.top <= within.top
            )
            if inside and taken.is_free(box.grown(_CLEAR_MM / 2)):
                taken.add(box.grown(_CLEAR_MM / 2))
                placed.append(box)
                break
        else:
            return None
    return tuple(placed)
