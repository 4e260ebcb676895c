"""A project as text in one fixed shape: key order, line breaks and numbers.

Every value that says how the job is done is written, defaults included; what is absent (no
obstacle, no hand edit, no row spacing) is left out.
"""

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import date
from fractions import Fraction
from typing import Any

from geometry.errors import GeometryError, LengthError
from geometry.model.bed import Bed, Fit, Obstacle, One, RaftRule, Split
from geometry.model.guide_line import GuideLine
from geometry.model.outlines import (
    Disc,
    LShape,
    Measured,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.model.planting import Planting
from geometry.model.project import Choice, Project
from geometry.model.sheet import Sheet
from geometry.model.supplies import (
    Coverage,
    Supplies,
    Volume,
    parse_coverage,
    parse_volume,
)
from geometry.model.wanted import Density, wanted_text
from geometry.model.zone import Zone, ZoneRules
from geometry.units import Length, finite_decimal, parse_length
from layout_gui.project.migrations import VERSION

Node = str | Sequence["Node"] | Mapping[str, "Node"]
"""A piece of JSON: finished text, a list or an object."""

_WIDTH = 100


def project_text(project: Project) -> str:
    """Write a project; reading the text gives an equal project."""
    return _written(_project(project), "", depth=0) + "\n"


def value_text(value: object) -> str:
    """Write one value of the model on a line, as it stands in a project."""
    return _flat(_plain(value))


def _written(node: Node, indent: str, *, depth: int, before: int = 0) -> str:
    """Write a node, on one line if it fits; the first three levels open up to be read easily."""
    if isinstance(node, str):
        return node
    parts = list(node.values()) if isinstance(node, Mapping) else list(node)
    is_open = depth < 3 and any(not isinstance(part, str) for part in parts)
    if not is_open:
        flat = _flat(node)
        if len(indent) + before + len(flat) < _WIDTH:
            return flat
    deeper = indent + "  "
    if isinstance(node, Mapping):
        lines = [
            f"{deeper}{_text(key)}: "
            + _written(part, deeper, depth=depth + 1, before=len(_text(key)) + 2)
            for key, part in node.items()
        ]
        return "{\n" + ",\n".join(lines) + f"\n{indent}}}"
    lines = [deeper + _written(part, deeper, depth=depth + 1) for part in parts]
    return "[\n" + ",\n".join(lines) + f"\n{indent}]"


def _flat(node: Node) -> str:
    if isinstance(node, str):
        return node
    if isinstance(node, Mapping):
        return "{" + ", ".join(f"{_text(key)}: {_flat(part)}" for key, part in node.items()) + "}"
    return "[" + ", ".join(map(_flat, node)) + "]"


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _flag(flag: bool) -> str:  # noqa: FBT001  # the value itself, not a switch
    return "true" if flag else "false"


def _length(length: Length) -> str:
    """Write a length as typed, or as the shortest exact decimal of mm, or as a fraction of mm."""
    if length.typed and _reads_as(length.typed, length.exact):
        return _text(length.typed)
    return finite_decimal(length.exact) or _text(f"{length.exact} mm")


def _reads_as(typed: str, exact: Fraction) -> bool:
    try:
        return parse_length(typed, None).exact == exact
    except LengthError:
        return False


def _lengths(*lengths: Length) -> list[Node]:
    return [_length(length) for length in lengths]


def _project(project: Project) -> dict[str, Node]:
    node: dict[str, Node] = {
        "format": _text("raftwright"),
        "version": str(VERSION),
        "name": _text(project.name),
        "units": _text(project.units),
        "beds": [_bed(bed) for bed in project.beds],
    }
    if project.sheets:
        node["sheets"] = [_sheet(sheet) for sheet in project.sheets]
    cutting: dict[str, Node] = {
        "kerf": _length(project.cutting.kerf),
        "trim": _length(project.cutting.trim),
        "turn": _flag(project.cutting.turn),
        "aim": _text(project.cutting.aim),
        "keep_offcut": _length(project.cutting.keep_offcut),
    }
    if project.cutting.saw_depth:
        cutting["saw_depth"] = _length(project.cutting.saw_depth)
    node["cutting"] = cutting
    if project.choices:
        node["choices"] = [_choice(choice) for choice in project.choices]
    if project.accepted:
        node["accepted"] = [
            {"key": _text(accepted.key), "note": _text(accepted.note)}
            for accepted in project.accepted
        ]
    if project.guide_lines:
        node["guide_lines"] = [_guide_line(line) for line in project.guide_lines]
    if project.locks:
        node["locks"] = [
            {"bed": _text(lock.bed), "kind": _text(lock.kind), "name": _text(lock.name)}
            for lock in project.locks
        ]
    if project.growth:
        node["growth"] = [
            {
                "crop": _text(record.crop),
                "widths": [
                    {"day": f"{each.day}", "width": _length(each.width)} for each in record.widths
                ],
            }
            for record in project.growth
        ]
    details = {
        key: _text(text)
        for key in ("author", "revision", "date", "notes")
        if (text := getattr(project.details, key))
    }
    if details:
        node["details"] = details
    if project.supplies != Supplies():
        node["supplies"] = _supplies(project.supplies)
    for key in ("pots", "crops", "limits", "allowances", "runs", "log"):
        if part := _plain(getattr(project, key)):
            node[key] = part
    return node


def _plain(value: object) -> Node:
    """Write a value of the model key by key, what is as usual left out."""
    match value:
        case Length():
            return _length(value)
        case Volume():
            return _paint_text(value, value.litres, parse_volume)
        case Fraction():
            return _decimal(value)
        case bool():
            return _flag(value)
        case int():
            return str(value)
        case date():
            return _text(value.isoformat())
        case tuple():
            return [_plain(each) for each in value]
        case _ if is_dataclass(value):
            return {
                each.name: _plain(found)
                for each in fields(value)
                if (found := getattr(value, each.name)) != _usual(each) and found is not None
            }
        case _:
            return _text(str(value))


def _usual(field: Field[Any]) -> object:
    return field.default if field.default_factory is MISSING else field.default_factory()


def _bed(bed: Bed) -> dict[str, Node]:
    node: dict[str, Node] = {
        "name": _text(bed.name),
        "outline": _outline(bed.outline),
        "clearance": _length(bed.clearance),
        "joint_gap": _length(bed.joint_gap),
    }
    if bed.obstacles:
        node["obstacles"] = [_obstacle(obstacle) for obstacle in bed.obstacles]
    node["rafts"] = _rafts(bed.rafts)
    if bed.planting:
        node["planting"] = _planting(bed.planting)
    if bed.zones:
        node["zones"] = [_zone(zone) for zone in bed.zones]
    if water := _plain(bed.water):
        node["water"] = water
    if bed.edge_seal:
        node["edge_seal"] = _flag(bed.edge_seal)
    if bed.pushed != "no":
        node["pushed"] = _text(bed.pushed)
    return node


def _outline(outline: Outline) -> dict[str, Node]:
    node: dict[str, Node]
    match outline:
        case Rectangle(length, width, corner_radius):
            node = _sized("rectangle", length=length, width=width)
            if corner_radius.exact:
                node["corner_radius"] = _length(corner_radius)
            return node
        case Measured(widths, lengths, diagonals):
            node = {"kind": _text("measured")}
            node |= {"widths": _lengths(*widths), "lengths": _lengths(*lengths)}
            if diagonals:
                node["diagonals"] = _lengths(*diagonals)
            return node
        case Disc(diameter):
            return _sized("disc", diameter=diameter)
        case RoundEnded(length, width):
            return _sized("round-ended", length=length, width=width)
        case LShape(length, width, notch_length, notch_width):
            return _sized(
                "L", length=length, width=width, notch_length=notch_length, notch_width=notch_width
            )
        case Tapered(length, width_start, width_end):
            return _sized("tapered", length=length, width_start=width_start, width_end=width_end)
        case Polygon(points):
            node = {"kind": _text("polygon")}
            node["points"] = [_lengths(*point) for point in points]
            return node


def _sized(kind: str, **lengths: Length) -> dict[str, Node]:
    node: dict[str, Node] = {"kind": _text(kind)}
    node |= {key: _length(length) for key, length in lengths.items()}
    return node


def _obstacle(obstacle: Obstacle) -> dict[str, Node]:
    shape = _outline(obstacle.shape)
    if obstacle.centre:
        shape["centre"] = _lengths(obstacle.centre.x, obstacle.centre.y)
    if obstacle.corner:
        shape["corner"] = _lengths(obstacle.corner.x, obstacle.corner.y)
    node: dict[str, Node] = {
        "name": _text(obstacle.name),
        "shape": shape,
        "clearance": _length(obstacle.clearance),
    }
    return node if obstacle.above is None else node | {"above": _length(obstacle.above)}


def _rafts(rule: RaftRule) -> dict[str, Node]:
    match rule:
        case Split(along, across, shift_along, shift_across):
            node: dict[str, Node] = {"kind": _text("split")}
            node |= {"along": str(along), "across": str(across)}
            shifts = (("shift_along", shift_along), ("shift_across", shift_across))
            return node | {key: _length(shift) for key, shift in shifts if shift.exact}
        case Fit(length, width):
            return _sized("fit", length=length, width=width)
        case One():
            return {"kind": _text("one")}


def _planting(planting: Planting) -> dict[str, Node]:
    node: dict[str, Node] = {
        "crop": _text(planting.crop),
        "pattern": _text(planting.pattern),
        "rows": _text(planting.rows),
        "spacing": _length(planting.spacing),
    }
    if planting.row_spacing:
        node["row_spacing"] = _length(planting.row_spacing)
    node |= {
        "edge_margin": _length(planting.edge_margin),
        "web": _length(planting.web),
        "hole_diameter": _length(planting.hole_diameter),
        "joints": _text(planting.joints),
        "spread": _flag(planting.spread),
    }
    if planting.round_to:
        node["round_to"] = _length(planting.round_to)
    if planting.pot:
        node["pot"] = _text(planting.pot)
    if planting.in_use != "all":
        node["in_use"] = _text(planting.in_use)
    if planting.pins:
        node["pins"] = [
            {"raft": _text(pin.raft), "x": _length(pin.x), "y": _length(pin.y)}
            | ({"home": _lengths(*pin.home)} if pin.home else {})
            for pin in planting.pins
        ]
    if planting.blanks:
        node["blanks"] = [
            {"raft": _text(blank.raft), "x": _length(blank.x), "y": _length(blank.y)}
            for blank in planting.blanks
        ]
    return node


def _zone(zone: Zone) -> dict[str, Node]:
    node: dict[str, Node] = {"name": _text(zone.name)}
    if zone.shape is not None:
        shape = _outline(zone.shape)
        for key, spot in (("centre", zone.centre), ("corner", zone.corner)):
            if spot is not None:
                shape[key] = _lengths(*spot)
        node["shape"] = shape
    if zone.rafts:
        node["rafts"] = [_text(raft) for raft in zone.rafts]
    rules: dict[str, Node] = {}
    for field in fields(ZoneRules):
        match getattr(zone.rules, field.name):
            case Length() as length:
                rules[field.name] = _length(length)
            case bool() as flag:
                rules[field.name] = _flag(flag)
            case str() as text:
                rules[field.name] = _text(text)
            case _:
                pass
    return node | {"planting": rules}


def _sheet(sheet: Sheet) -> dict[str, Node]:
    node: dict[str, Node] = {
        "name": _text(sheet.name),
        "length": _length(sheet.length),
        "width": _length(sheet.width),
    }
    if sheet.thickness:
        node["thickness"] = _length(sheet.thickness)
    if sheet.price is not None:
        node["price"] = _decimal(sheet.price)
    node["quantity"] = "null" if sheet.quantity is None else str(sheet.quantity)
    if sheet.tolerance.exact:
        node["tolerance"] = _length(sheet.tolerance)
    if sheet.offcut:
        node["offcut"] = _flag(sheet.offcut)
    if sheet.score is not None:
        lines = {"across": sheet.score.across, "along": sheet.score.along}
        node["score"] = {key: _length(gap) for key, gap in lines.items() if gap is not None}
    if sheet.density is not None:
        node["density"] = finite_decimal(sheet.density) or str(float(sheet.density))
    return node


def _supplies(supplies: Supplies) -> dict[str, Node]:
    node: dict[str, Node] = {}
    if supplies.saws:
        node["saws"] = _lengths(*supplies.saws)
    node["spares"] = str(supplies.spares)
    for key, packed in (("pots", supplies.pots), ("plugs", supplies.plugs)):
        pack = None if packed.pack is None else str(packed.pack)
        node[key] = _known({"pack": pack}, packed.price)
    strip, paint = supplies.strip, supplies.paint
    roll = None if strip.roll is None else _length(strip.roll)
    node["strip"] = _known({"roll": roll}, strip.price)
    node["paint"] = _known(
        {
            "coverage": _paint_text(paint.coverage, paint.coverage.m2_per_litre, parse_coverage),
            "coats": str(paint.coats),
            "tin": None
            if paint.tin is None
            else _paint_text(paint.tin, paint.tin.litres, parse_volume),
        },
        paint.price,
    )
    return {key: part for key, part in node.items() if part}


def _known(parts: Mapping[str, str | None], price: Fraction | None) -> dict[str, Node]:
    node: dict[str, Node] = {key: part for key, part in parts.items() if part is not None}
    return node if price is None else node | {"price": _decimal(price)}


def _paint_text(
    amount: Coverage | Volume,
    exact: Fraction,
    read: Callable[[str, None], Coverage | Volume],
) -> str:
    """Write an amount as typed, or as the number of litres or of m² a litre that it is."""
    if amount.typed:
        try:
            if read(amount.typed, None) == amount:
                return _text(amount.typed)
        except GeometryError:
            pass  # typed in a way that files do not know
    return _decimal(exact)


def _decimal(number: Fraction) -> str:
    return finite_decimal(number) or str(float(number))


def _choice(choice: Choice) -> dict[str, Node]:
    node: dict[str, Node] = {"name": _text(choice.name), "bed": _text(choice.bed)}
    for key in ("pattern", "rows"):
        if value := getattr(choice, key):
            node[key] = _text(value)
    for key in ("spacing", "row_spacing", "edge_margin"):
        if value := getattr(choice, key):
            node[key] = _length(value)
    if choice.count is not None:
        node["count"] = str(choice.count)
    if choice.density is not None:
        node["density"] = _density(choice.density)
    return node


def _guide_line(line: GuideLine) -> dict[str, Node]:
    node: dict[str, Node] = {"bed": _text(line.bed), line.axis: _length(line.at)}
    if line.locked:
        node["locked"] = _flag(True)
    return node


def _density(density: Density) -> str:
    """Write a density as typed, or as a number per square metre, or per square foot."""
    if not density.typed and (decimal := finite_decimal(density.per_m2)):
        return decimal
    return _text(wanted_text(density, "mm"))
