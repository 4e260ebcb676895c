"""A raft as it was drawn, as text: what the log keeps so that it can be printed once more.

The text is JSON in one line. Places are floats in millimetres and come back to the last bit,
lengths are fractions of a millimetre. ``raft`` is the version of this form; what is older stays
readable.
"""

import json
import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import hypot, isfinite
from typing import Any, Final, get_args

import numpy as np

from geometry.errors import GeometryError
from geometry.holes.sites import Holes
from geometry.made import Drawn
from geometry.model.curves import Arc, Curve, Line, Loop, Point
from geometry.model.edges import end_of, start_of
from geometry.model.planting import IN_USE, Planting
from geometry.model.project import Details
from geometry.plan import PlacedRaft, RaftDesign
from geometry.rafts.layout import RaftShape
from geometry.tongue import tr
from geometry.units import LONGEST_MM, Length, Unit
from layout_gui.project.bounds import MOST_RAFTS, MOST_SITES, text_fault

VERSION: Final = 1
_NUMBER: Final = re.compile(r"[0-9]{1,60}(/[1-9][0-9]{0,59})?")
_JOIN_MM: Final = 1e-3
"""So far the end of one edge may lie from the start of the next."""


def drawn_text(drawn: Drawn) -> str:
    """Write a raft as it was drawn; reading the text gives an equal one."""
    shape, holes = drawn.design.shape, drawn.design.holes
    whole: dict[str, object] = {
        "raft": VERSION,
        "project": drawn.project,
        "units": drawn.units,
        "author": drawn.details.author,
        "revision": drawn.details.revision,
        "date": drawn.details.date,
        "bed": drawn.bed,
        "design": drawn.design.name,
        "rafts": [[each.name, each.x, each.y, each.turned] for each in drawn.rafts],
        "box": [str(shape.length), str(shape.width)],
        "rectangle": shape.is_rectangle,
        "edges": [_edge(curve) for curve in shape.loop.curves],
        "holes": {
            "names": list(holes.names),
            "x": holes.xy[:, 0].tolist(),
            "y": holes.xy[:, 1].tolist(),
            "diameters": holes.diameters.tolist(),
            "pinned": holes.pinned.astype(int).tolist(),
            "plantings": None if holes.plantings is None else holes.plantings.tolist(),
            "plugged": None if holes.plugged is None else holes.plugged.astype(int).tolist(),
        },
        "plantings": [_planting(each) for each in drawn.plantings],
        "thickness": _exact(drawn.thickness),
        "density": None if drawn.density is None else str(drawn.density),
        "saw_depth": _exact(drawn.saw_depth),
    }
    return json.dumps(whole, ensure_ascii=False, separators=(",", ":"), allow_nan=False)


def read_drawn(text: str) -> Drawn:
    """Read a raft as it was drawn.

    Raises:
        GeometryError: it is from a newer version of the program, or no such text.
    """
    try:
        whole = json.loads(text)
        version = whole["raft"]
    except (ValueError, TypeError, KeyError, RecursionError) as error:
        raise _damaged() from error
    if isinstance(version, int) and version > VERSION:
        raise GeometryError(
            tr(
                "This raft was noted by a newer version of the program; open the project with that "
                "one to print the raft as it was made."
            )
        )
    try:
        return _drawn(whole)
    except (ValueError, TypeError, KeyError, IndexError, ArithmeticError) as error:
        raise _damaged() from error


def _damaged() -> GeometryError:
    return GeometryError(
        tr(
            "The drawing of this raft in the log is damaged and cannot be printed; an older copy "
            "of the project may still hold it whole."
        )
    )


def _edge(curve: Curve) -> list[object]:
    match curve:
        case Line(start, end):
            return ["line", *start, *end]
        case Arc(centre, radius, angle, sweep):
            return ["arc", *centre, radius, angle, sweep]


def _exact(length: Length | None) -> str | None:
    return None if length is None else str(length.exact)


def _planting(planting: Planting) -> dict[str, object]:
    return {
        "crop": planting.crop,
        "spacing": _exact(planting.spacing),
        "hole_diameter": _exact(planting.hole_diameter),
        "edge_margin": _exact(planting.edge_margin),
        "web": _exact(planting.web),
        "round_to": _exact(planting.round_to),
        "in_use": planting.in_use,
        "pot": planting.pot,
    }


def _drawn(whole: Mapping[str, Any]) -> Drawn:
    units = _one_of(whole["units"], get_args(Unit))
    plantings = tuple(_read_planting(each) for each in whole["plantings"])
    design = RaftDesign(
        _text(whole["design"]), _shape(whole), _holes(whole["holes"], len(plantings))
    )
    rafts = tuple(
        PlacedRaft(_text(name), design, _mm(x), _mm(y), _flag(turned))
        for name, x, y, turned in whole["rafts"]
    )
    if not 0 < len(rafts) <= MOST_RAFTS:
        raise ValueError
    density = whole["density"]
    return Drawn(
        _text(whole["project"]),
        units,
        Details(**{key: _text(whole[key]) for key in ("author", "revision", "date")}),
        _text(whole["bed"]),
        design,
        rafts,
        plantings,
        _length(whole["thickness"]),
        None if density is None else _fraction(density),
        _length(whole["saw_depth"]),
    )


def _shape(whole: Mapping[str, Any]) -> RaftShape:
    length, width = map(_fraction, whole["box"])
    loop = Loop(tuple(map(_curve, whole["edges"])))
    for curve, following in zip(loop.curves, (*loop.curves[1:], *loop.curves[:1]), strict=True):
        end, start = end_of(curve), start_of(following)
        if hypot(end.x - start.x, end.y - start.y) > _JOIN_MM:
            raise ValueError
    if not loop.curves or not (0 < length <= LONGEST_MM and 0 < width <= LONGEST_MM):
        raise ValueError
    return RaftShape(loop, length, width, _flag(whole["rectangle"]))


def _curve(edge: Sequence[Any]) -> Curve:
    kind, figures = edge[0], [_mm(figure) for figure in edge[1:]]
    match kind, figures:
        case "line", [x0, y0, x1, y1]:
            return Line(Point(x0, y0), Point(x1, y1))
        case "arc", [x, y, radius, angle, sweep] if radius > 0:
            return Arc(Point(x, y), radius, angle, sweep)
        case _:
            raise ValueError


def _holes(node: Mapping[str, Any], plantings: int) -> Holes:
    names = tuple(map(_text, node["names"]))
    count = len(names)
    if len(set(names)) < count or count > MOST_SITES:
        raise ValueError
    x, y, diameters = (_column(node[key], count) for key in ("x", "y", "diameters"))
    numbers = node["plantings"]
    if numbers is not None:
        numbers = np.array([int(number) for number in numbers], np.int64)
        if len(numbers) != count or not all(0 <= number < plantings for number in numbers):
            raise ValueError
    if count and (not plantings or min(diameters) <= 0):
        raise ValueError
    return Holes(
        np.column_stack((x, y)).reshape(count, 2),
        np.array(diameters, np.float64),
        names,
        _flags(node["pinned"], count),
        numbers,
        None if node["plugged"] is None else _flags(node["plugged"], count),
    )


def _column(values: Sequence[Any], count: int) -> list[float]:
    column = [_mm(value) for value in values]
    if len(column) != count:
        raise ValueError
    return column


def _flags(values: Sequence[Any], count: int) -> Any:
    if len(values) != count or not set(values) <= {0, 1}:
        raise ValueError
    return np.array(values, np.bool_)


def _read_planting(node: Mapping[str, Any]) -> Planting:
    spacing, hole = _length(node["spacing"]), _length(node["hole_diameter"])
    margin, web = _length(node["edge_margin"]), _length(node["web"])
    if spacing is None or hole is None or margin is None or web is None:
        raise ValueError
    return Planting(
        spacing,
        hole,
        _text(node["crop"]),
        edge_margin=margin,
        web=web,
        round_to=_length(node["round_to"]),
        in_use=_one_of(node["in_use"], IN_USE),
        pot=_text(node["pot"]),
    )


def _one_of(value: object, allowed: Sequence[str]) -> Any:
    if value not in allowed:
        raise ValueError
    return value


def _text(value: object) -> str:
    if not isinstance(value, str) or text_fault(value):
        raise ValueError
    return value


def _flag(value: object) -> bool:
    if not isinstance(value, bool):
        raise TypeError
    return value


def _mm(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError
    if not (isfinite(value) and abs(value) <= LONGEST_MM):
        raise ValueError
    return float(value)


def _fraction(value: object) -> Fraction:
    if not isinstance(value, str) or not _NUMBER.fullmatch(value):
        raise ValueError
    return Fraction(value)


def _length(value: object) -> Length | None:
    if value is None:
        return None
    exact = _fraction(value)
    if exact > LONGEST_MM:
        raise ValueError
    return Length(exact)
