"""The names of patterns and directions as people read them, on paper and on screen."""

from typing import Final

from geometry.tongue import mark, tr

PATTERN_NAMES: Final = {
    "square": mark("square"),
    "rectangular": mark("rectangular"),
    "hexagonal": mark("hexagonal"),
    "staggered": mark("staggered"),
    "mixed": mark("mixed"),
    "rings": mark("rings"),
    "rows": mark("rows"),
    "best": mark("best"),
}
"""A pattern's own name, by its key in the project file."""

_WAYS: Final = {"along": mark("along"), "across": mark("across")}
_ALONG_THE_BED: Final = {"along": mark("along the bed"), "across": mark("across the bed")}


def pattern_name(pattern: str) -> str:
    """Name a pattern: "staggered"."""
    return tr(PATTERN_NAMES.get(pattern, pattern))


def direction_name(direction: str) -> str:
    """Name the direction of rows: "along", "across", "at 60°"; empty where there is none."""
    if direction in _WAYS:
        return tr(_WAYS[direction])
    if direction.startswith("at "):
        return tr("at {angle}", angle=direction.removeprefix("at "))
    return direction


def along_the_bed(direction: str) -> str:
    """Say which way rows run in the bed: "along the bed"."""
    return tr(_ALONG_THE_BED.get(direction, direction))


def rows_name(pattern: str, direction: str) -> str:
    """Name rows by pattern and direction: "staggered along"."""
    return f"{pattern_name(pattern)} {direction_name(direction)}".rstrip()
