"""Pots to start from, so that a grower has something to measure the own ones against.

Common practice, no source: makers differ, so each is to be measured before a raft is drilled. A
"2 in" pot has its name from its rim (job map, section 6). The plug is the one of the research
boards of Rutgers University (horticultural engineering, lettuce production): held in a washer-like
collar in holes of 32 mm while young and 38 mm later; the sizes of the collar are ours.
"""

from typing import Final

from geometry.model.pot import Pot
from geometry.tongue import mark
from geometry.units import ZERO, Length


def _pot(name: str, *sizes: str, collar: str = "", bore: str = "") -> Pot:
    body, depth, foot, rim, height = (Length.of(size) if size != "0" else ZERO for size in sizes)
    return Pot(
        name,
        body,
        depth,
        foot,
        rim,
        height,
        collar=Length.of(collar) if collar else ZERO,
        collar_hole=Length.of(bore) if bore else ZERO,
    )


STARTING_POTS: Final = (
    _pot(mark("net pot, 2 in rim"), "43.5 mm", "50 mm", "32 mm", "2 in", "2 mm"),
    _pot(mark("net pot, 3 in rim"), "62.5 mm", "75 mm", "48 mm", "3 in", "2 mm"),
    _pot(
        mark("25 mm plug in a collar"), "25 mm", "40 mm", "25 mm", "0", "3 mm",
        collar="55 mm", bore="24 mm",
    ),
)  # fmt: skip
"""Their names are marked."""
