"""The bed as one drawing for machines: the water, what stands in it, and every raft in place."""

from collections.abc import Iterator

from geometry.drawing.bed import draw_bed, obstacle_loops
from geometry.drawing.marks import Circle, Drawing, Group, Mark, Path, Text
from geometry.drawing.raft import draw_raft
from geometry.drawing.styles import PENS, Style
from geometry.drawing.text_width import CAP_HEIGHT, drawable, text_width
from geometry.drawing.transforms import Shift, half_turn
from geometry.model.bed import Obstacle
from geometry.model.curves import Loop, Point
from geometry.model.measure import bounds, bounds_of
from geometry.plan import BedPlan, PlacedRaft
from geometry.watch import look_up

_NAME_MM = 12.0
_NAME_IN_MM = 3.0
_OBSTACLE_MM = 6.0


def draw_whole_bed(plan: BedPlan) -> Drawing:
    """Draw a bed with all its rafts at true size, the bed's datum corner at the origin.

    The groups of ``draw_bed`` come first, then for each raft its outline, datum corner and name
    under its own name, and its holes under the names of raft and hole ("R1 A1").
    """
    names = {f"obstacle {each.name}": _named(each, loop) for each, loop in obstacle_loops(plan.bed)}
    groups = [
        Group(group.id, (*group.marks, *names.get(group.id, ()))) for group in draw_bed(plan).groups
    ]
    for number, raft in enumerate(plan.rafts):
        look_up(number / len(plan.rafts))
        groups.extend(_raft_groups(raft))
    return Drawing(tuple(groups))


def extent_of(drawing: Drawing) -> tuple[float, float, float, float]:
    """Return the left, lower, right and upper end of what is drawn, in mm; four zeros of nothing.

    A turned text counts as if it reached its length each way.
    """
    boxes = [box for group in drawing.groups for mark in group.marks for box in _boxes(mark)]
    if not boxes:
        return 0.0, 0.0, 0.0, 0.0
    left, bottom, right, top = zip(*boxes, strict=True)
    return min(left), min(bottom), max(right), max(top)


def _named(obstacle: Obstacle, loop: Loop) -> tuple[Text, ...]:
    left, bottom, right, top = bounds(loop)
    middle = Point((left + right) / 2, (bottom + top) / 2)
    return (Text(middle, obstacle.name, _OBSTACLE_MM, Style.LABEL, "middle"),)


def _raft_groups(raft: PlacedRaft) -> Iterator[Group]:
    shape = raft.design.shape
    length, width = float(shape.length), float(shape.width)
    place = half_turn(length, width, raft.x, raft.y) if raft.turned else Shift(raft.x, raft.y)
    holes = set(raft.design.holes.names)
    own: list[Mark] = []
    drilled: list[Group] = []
    for group in draw_raft(raft.design).groups:
        marks = tuple(_placed(mark, place) for mark in group.marks)
        if group.id in holes:
            drilled.append(Group(f"{raft.name} {group.id}", marks))
        else:
            own.extend(marks)
    height = min(_NAME_MM, length / 8, width / 8)
    room = min(_NAME_IN_MM, height / 2)
    own.append(Text(Point(raft.x + room, raft.y + room), raft.name, height, Style.TITLE))
    yield Group(raft.name, tuple(own))
    yield from drilled


def _placed(mark: Mark, place: Shift) -> Mark:
    """Move a mark. Words of a turned raft keep upright, in the middle of where they go."""
    moved = place.mark(mark)
    if isinstance(moved, Text) and place.quarters:
        return Text(
            Point(moved.at.x, moved.at.y - moved.height * CAP_HEIGHT),
            moved.text, moved.height, moved.style, moved.anchor, moved.angle,
        )  # fmt: skip
    return moved


def _boxes(mark: Mark) -> Iterator[tuple[float, float, float, float]]:
    match mark:
        case Circle((x, y), radius):
            yield x - radius, y - radius, x + radius, y + radius
        case Path(curves):
            if curves:
                yield bounds_of(curves)
        case Text((x, y), text, height, style, anchor, angle):
            wide = text_width(drawable(text), height, bold=PENS[style].bold)
            if angle:
                yield x - wide, y - wide, x + wide, y + wide
            else:
                left = x - wide * {"left": 0.0, "middle": 0.5, "right": 1.0}[anchor]
                yield left, y, left + wide, y + height * CAP_HEIGHT
