"""What holes can be arranged by, with the words for it: orders without numbers, and tools."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from geometry.tongue import mark
from layout_gui.project import arrange
from layout_gui.project.arrange import Group, Place

Values = Mapping[str, Fraction]
"""What the fields of a tool say: lengths in mm, counts, degrees, 1 and 0 for yes and no."""

Kind = Literal["length", "step", "radius", "count", "angle", "switch"]


@dataclass(frozen=True, slots=True)
class Order:
    """Something done at once. ``one`` and ``many`` name the step for one hole and for ``{n}``."""

    key: str
    words: str
    tip: str
    places: Callable[[Group], list[Place]]
    one: str
    many: str


@dataclass(frozen=True, slots=True)
class Entry:
    """One field of a tool. A step begins as the spacing, a radius too; others as ``start``."""

    key: str
    words: str
    kind: Kind
    start: int = 0


@dataclass(frozen=True, slots=True)
class Tool:
    """Something done with typed numbers. ``copies`` tells whether holes are added by it."""

    key: str
    words: str
    entries: tuple[Entry, ...]
    places: Callable[[Group, Values], list[Place]]
    one: str
    many: str
    copies: Callable[[Values], bool] = lambda _values: False


ORDERS: Final[tuple[Order, ...]] = (
    Order(
        "left", mark("Left"), mark("All as far left as the leftmost"),
        lambda group: arrange.aligned(group, "along", "low"),
        mark("Line up {n} hole at the left"), mark("Line up {n} holes at the left"),
    ),
    Order(
        "right", mark("Right"), mark("All as far right as the rightmost"),
        lambda group: arrange.aligned(group, "along", "high"),
        mark("Line up {n} hole at the right"), mark("Line up {n} holes at the right"),
    ),
    Order(
        "bottom", mark("Bottom"), mark("All as low as the lowest"),
        lambda group: arrange.aligned(group, "across", "low"),
        mark("Line up {n} hole at the bottom"), mark("Line up {n} holes at the bottom"),
    ),
    Order(
        "top", mark("Top"), mark("All as high as the highest"),
        lambda group: arrange.aligned(group, "across", "high"),
        mark("Line up {n} hole at the top"), mark("Line up {n} holes at the top"),
    ),
    Order(
        "line-along", mark("Along"), mark("All in one line along the bed, in their middle"),
        lambda group: arrange.aligned(group, "across", "middle"),
        mark("Line up {n} hole along the bed"), mark("Line up {n} holes along the bed"),
    ),
    Order(
        "line-across", mark("Across"), mark("All in one line across the bed, in their middle"),
        lambda group: arrange.aligned(group, "along", "middle"),
        mark("Line up {n} hole across the bed"), mark("Line up {n} holes across the bed"),
    ),
    Order(
        "steps-along", mark("Steps along"),
        mark("Equal steps from centre to centre along the bed; the first and the last stay"),
        lambda group: arrange.distributed(group, "along", "centres"),
        mark("Spread {n} hole along the bed"), mark("Spread {n} holes along the bed"),
    ),
    Order(
        "steps-across", mark("Steps across"),
        mark("Equal steps from centre to centre across the bed; the first and the last stay"),
        lambda group: arrange.distributed(group, "across", "centres"),
        mark("Spread {n} hole across the bed"), mark("Spread {n} holes across the bed"),
    ),
    Order(
        "foam-along", mark("Foam along"),
        mark("Equal foam from rim to rim along the bed; the first and the last stay"),
        lambda group: arrange.distributed(group, "along", "gaps"),
        mark("Even out the foam along of {n} hole"), mark("Even out the foam along of {n} holes"),
    ),
    Order(
        "foam-across", mark("Foam across"),
        mark("Equal foam from rim to rim across the bed; the first and the last stay"),
        lambda group: arrange.distributed(group, "across", "gaps"),
        mark("Even out the foam across of {n} hole"), mark("Even out the foam across of {n} holes"),
    ),
)  # fmt: skip
"""The first six line up, the others spread."""

LINING_UP: Final = 6


def _axis(values: Values) -> arrange.Axis:
    return "across" if values["across"] else "along"


TOOLS: Final[tuple[Tool, ...]] = (
    Tool(
        "move", mark("Move by"),
        (Entry("dx", mark("along"), "length", 10), Entry("dy", mark("across"), "length")),
        lambda group, v: arrange.shifted(group, v["dx"], v["dy"]),
        mark("Move {n} hole by typed lengths"), mark("Move {n} holes by typed lengths"),
    ),
    Tool(
        "step", mark("Set the step"),
        (Entry("step", mark("step"), "step"), Entry("across", mark("across the bed"), "switch")),
        lambda group, v: arrange.spaced(group, _axis(v), v["step"]),
        mark("Set the step of {n} hole"), mark("Set the step of {n} holes"),
    ),
    Tool(
        "copy", mark("Copy by"),
        (
            Entry("dx", mark("along"), "step"), Entry("dy", mark("across"), "length"),
            Entry("times", mark("times"), "count", 1),
        ),
        lambda group, v: arrange.repeated(group, v["dx"], v["dy"], int(v["times"])),
        mark("Copy {n} hole"), mark("Copy {n} holes"), lambda _values: True,
    ),
    Tool(
        "rows", mark("Rows and columns"),
        (
            Entry("columns", mark("columns"), "count", 3), Entry("rows", mark("rows"), "count", 2),
            Entry("dx", mark("step along"), "step"), Entry("dy", mark("step across"), "step"),
            Entry("staggered", mark("staggered"), "switch"),
        ),
        lambda group, v: arrange.in_rows(
            group, int(v["columns"]), int(v["rows"]), v["dx"], v["dy"],
            staggered=bool(v["staggered"]),
        ),
        mark("Copy {n} hole in rows"), mark("Copy {n} holes in rows"), lambda _values: True,
    ),
    Tool(
        "ring", mark("Ring"),
        (
            Entry("count", mark("holes"), "count", 6), Entry("radius", mark("radius"), "radius"),
            Entry("first", mark("first at"), "angle"),
        ),
        lambda group, v: arrange.in_ring(group, int(v["count"]), v["radius"], v["first"]),
        mark("Ring about {n} hole"), mark("Ring about {n} holes"), lambda _values: True,
    ),
    Tool(
        "mirror", mark("Mirror"),
        (
            Entry("across", mark("bottom to top"), "switch"),
            Entry("raft", mark("about the middle of the raft"), "switch", 1),
            Entry("keep", mark("keep the old ones"), "switch"),
        ),
        lambda group, v: arrange.mirrored(
            group, _axis(v), "raft" if v["raft"] else "selection"
        ),
        mark("Mirror {n} hole"), mark("Mirror {n} holes"), lambda values: bool(values["keep"]),
    ),
    Tool(
        "turn", mark("Turn"),
        (
            Entry("angle", mark("by"), "angle", 90),
            Entry("keep", mark("keep the old ones"), "switch"),
        ),
        lambda group, v: arrange.turned(group, v["angle"]),
        mark("Turn {n} hole"), mark("Turn {n} holes"), lambda values: bool(values["keep"]),
    ),
)  # fmt: skip
