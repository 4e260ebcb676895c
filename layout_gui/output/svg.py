"""SVG: one drawing in millimetres, for machines and drawing programs."""

import re
from collections.abc import Iterator
from html import escape
from math import cos, pi, sin

from geometry.drawing.marks import Circle, Drawing, Group, Mark, Path, Text
from geometry.drawing.outlining import subpaths
from geometry.drawing.styles import PENS, Pen, Style
from geometry.drawing.text_width import harmless
from geometry.drawing.whole_bed import extent_of
from geometry.model.curves import Arc, Line, Point
from geometry.watch import look_up
from layout_gui.output.letters import Letters, placed

_BORDER_MM = 10.0
_REFERENCE_MM = 100.0
_REFERENCE_ID = "reference-line-100-mm"
_LETTERS = "letters"
_STEPS = {"move": "M", "line": "L", "curve": "C"}
_ANCHORS = {"left": "start", "middle": "middle", "right": "end"}


def render_svg(
    drawing: Drawing, *, width: float, height: float, title: str, letters: Letters = "text"
) -> bytes:
    """Write a drawing whose thing fills ``width`` by ``height`` mm from the origin.

    One user unit is one millimetre. x counts from the datum corner to the right; y counts from the
    upper side downwards, as SVG has it: a hole at y in the raft stands at ``height - y``. Each
    group carries its name as an id, made safe and unique, and as a title; each mark the layer of
    its meaning as a class. Words are text, or paths along their letters. A line of exactly 100 mm
    below the drawing shows whether another program reads the size as meant.
    """
    low_x, low_y, high_x, high_y = extent_of(drawing)
    left, top = min(0.0, low_x) - _BORDER_MM, min(0.0, height - high_y) - _BORDER_MM
    full_width = max(width, _REFERENCE_MM, high_x) + _BORDER_MM - left
    low = min(0.0, low_y)
    full_height = height - low + 2 * _BORDER_MM - top
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<svg xmlns="http://www.w3.org/2000/svg" version="1.1"',
        f'width="{_number(full_width)}mm" height="{_number(full_height)}mm"',
        f'viewBox="{_number(left)} {_number(top)} {_number(full_width)} {_number(full_height)}">',
        f"<title>{_escaped(title)}</title>",
        "<desc>Millimetres. x counts from the datum corner,",
        f"y from the upper side: {_number(height)} less the distance from the lower side.</desc>",
        f"<style>{''.join(_rules(drawing))}</style>",
    ]
    ids: set[str] = set()
    below = Point(0, low - 1.5 * _BORDER_MM)
    reference = Group(
        _REFERENCE_ID,
        (
            Path((Line(below, Point(_REFERENCE_MM, below.y)),), Style.REFERENCE),
            Text(Point(0, below.y + 1.5), "100 mm", 3.5, Style.REFERENCE),
        ),
    )
    # The line is looked for by its name, so a group of the same name has to take another.
    reference_id = _unique_id(reference.id, ids)
    for number, group in enumerate(drawing.groups):
        look_up(number / len(drawing.groups))
        lines.extend(_group(group, _unique_id(group.id, ids), height, letters))
    lines.extend(_group(reference, reference_id, height, letters))
    lines += ["</svg>", ""]
    return "\n".join(lines).encode()


def _group(group: Group, unique: str, height: float, letters: Letters) -> Iterator[str]:
    yield f'<g id="{unique}"><title>{_escaped(group.id)}</title>'
    for mark in group.marks:
        yield _element(mark, height, letters)
    yield "</g>"


def _rules(drawing: Drawing) -> Iterator[str]:
    used = {mark.style for group in drawing.groups for mark in group.marks}
    for style in Style:
        if style in used or style is Style.REFERENCE:
            pen = PENS[style]
            yield f".{pen.layer}{{{_rule(pen)}}}"
    yield 'text{font-family:"DejaVu Sans",sans-serif;stroke:none;white-space:pre}'
    for style in Style:
        if style in used or style is Style.REFERENCE:
            layer, shade = PENS[style].layer, _shade(PENS[style])
            yield f"text.{layer}{{fill:{shade}}}.{_LETTERS}.{layer}{{fill:{shade};stroke:none}}"


def _rule(pen: Pen) -> str:
    if pen.filled:
        return f"fill:{_shade(pen)};stroke:none"
    rule = f"fill:none;stroke:{_shade(pen)};stroke-width:{_number(pen.width_mm)}"
    if pen.dash_mm:
        rule += f";stroke-dasharray:{' '.join(map(_number, pen.dash_mm))}"
    return rule + (";font-weight:bold" if pen.bold else "")


def _shade(pen: Pen) -> str:
    level = round(pen.grey * 255)
    return f"#{level:02x}{level:02x}{level:02x}"


def _element(mark: Mark, height: float, letters: Letters) -> str:
    layer = PENS[mark.style].layer
    match mark:
        case Circle(centre, radius):
            if mark.style is Style.HOLE:
                layer += f" {layer}-{_number(2 * radius).replace('.', '_')}mm"
            return (
                f'<circle class="{layer}" cx="{_number(centre.x)}" '
                f'cy="{_number(height - centre.y)}" r="{_number(radius)}"/>'
            )
        case Path(curves, _, closed):
            return f'<path class="{layer}" d="{_path(curves, height)}{"Z" if closed else ""}"/>'
        case Text(_, text) if letters == "outlines":
            return (
                f'<path class="{_LETTERS} {layer}" aria-label="{_escaped(text)}" '
                f'd="{"".join(_letters(mark, height))}"/>'
            )
        case Text(at, text, size, _, anchor, angle):
            x, y = _number(at.x), _number(height - at.y)
            turn = f' transform="rotate({_number(-angle)} {x} {y})"' if angle else ""
            return (
                f'<text class="{layer}" x="{x}" y="{y}" font-size="{_number(size)}" '
                f'text-anchor="{_ANCHORS[anchor]}"{turn}>{_escaped(text)}</text>'
            )


def _path(curves: tuple[Line | Arc, ...], height: float) -> str:
    first = curves[0]
    start = first.start if isinstance(first, Line) else _on(first, first.angle)
    steps = [f"M{_pair(start, height)}"]
    for curve in curves:
        match curve:
            case Line(_, end):
                steps.append(f"L{_pair(end, height)}")
            case Arc(_, radius, angle, sweep):
                steps.extend(
                    f"A{_number(radius)} {_number(radius)} 0 0 {0 if sweep > 0 else 1} "
                    f"{_pair(_on(curve, angle + sweep * part), height)}"
                    for part in _parts(sweep)
                )
    return "".join(steps)


def _parts(sweep: float) -> tuple[float, ...]:
    """Cut an arc so that no part reaches half round, where SVG no longer knows the centre."""
    count = int(abs(sweep) / (0.75 * pi)) + 1
    return tuple((number + 1) / count for number in range(count))


def _on(arc: Arc, angle: float) -> Point:
    return Point(arc.centre.x + arc.radius * cos(angle), arc.centre.y + arc.radius * sin(angle))


def _pair(point: Point, height: float) -> str:
    return f"{_number(point.x)},{_number(height - point.y)}"


def _number(value: float) -> str:
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _letters(mark: Text, height: float) -> Iterator[str]:
    from layout_gui.output.glyphs import lettered  # noqa: PLC0415 - fonts, where they are wanted

    outline = lettered(mark.text, bold=PENS[mark.style].bold)
    for shape in subpaths(placed(mark, outline)):
        for kind, points in shape:
            yield _STEPS[kind] + " ".join(_pair(point, height) for point in points)
        yield "Z"


def _escaped(text: str) -> str:
    """Write a text so that nothing in it counts as markup or is beyond XML."""
    return escape(_clean(harmless(text)))


def _clean(text: str) -> str:
    """Leave out what XML cannot hold."""
    return re.sub("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", "", text)


def _unique_id(name: str, taken: set[str]) -> str:
    """Make a name that is unique and XML-safe; "A1" stays "A1"."""
    safe = re.sub(r"[^A-Za-z0-9_.-]", lambda found: f"_{ord(found[0]):x}_", name)
    if not re.match(r"[A-Za-z_]", safe):
        safe = f"_{safe}"
    unique, number = safe, 2
    while unique in taken:
        unique, number = f"{safe}_{number}", number + 1
    taken.add(unique)
    return unique
