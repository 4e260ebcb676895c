"""Edits of what stands in a bed: obstacles, zones, corners of its outline, joints.

Like all edits they are orders that turn one project into the next, and raise ``GeometryError``
with a sentence when that cannot be. Places are exact, in bed coordinates.
"""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from itertools import count
from typing import Any, Final

from geometry.beds.outline import exact_box, obstacle_loop
from geometry.errors import GeometryError
from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.curves import Loop
from geometry.model.outlines import Outline, Polygon
from geometry.model.project import Project
from geometry.model.zone import Zone
from geometry.rafts.split import joint_lines, lay_rafts
from geometry.tongue import tr
from geometry.units import Length
from layout_gui.project.bounds import refuse_out_of_bounds
from layout_gui.project.edits import find_bed, find_zone, remove_zone, set_bed, set_zone
from layout_gui.project.edits_locks import PLACING, refuse_locked, renamed_locks
from layout_gui.project.grips import (
    Grip,
    Place,
    Reshaped,
    Way,
    corner_grips,
    grips,
    mirrored,
    nearest_side,
    polygon_of,
    pulled,
    shifted_length,
    turned,
    with_corner,
    without_corner,
)
from layout_gui.project.things import Thing

CLEARANCE: Final = Length.of(25)
"""What a new obstacle keeps free around it, until the grower says otherwise."""

Standing = Obstacle | Zone


def things_of(bed: Bed) -> tuple[Thing, ...]:
    """Return everything of a bed that can be taken hold of, in the order of the keyboard.

    Obstacles and zones come by name, corners and joints by number. An outline that cannot be drawn
    has neither corners nor joints.
    """
    order = sorted(range(len(bed.obstacles)), key=lambda k: (bed.obstacles[k].name, k))
    found = [Thing("obstacle", number) for number in order]
    if bed.planting is not None:
        drawn = (zone.name for zone in bed.zones if zone.shape is not None)
        found += [Thing("zone", name) for name in sorted(drawn)]
    try:
        corners, joints = len(corner_grips(bed.outline)), joint_lines(bed)
    except GeometryError:
        return tuple(found)
    found += [Thing("corner", number) for number in range(corners)]
    found += [Thing("along", number) for number in range(len(joints.along))]
    found += [Thing("across", number) for number in range(len(joints.across))]
    return tuple(found)


def has_thing(bed: Bed, thing: Thing) -> bool:
    """Tell whether a bed has this thing; zones of whole rafts count too."""
    if thing.kind == "zone":
        return any(zone.name == thing.key for zone in bed.zones)
    if thing.kind == "obstacle":
        return 0 <= thing.number < len(bed.obstacles)
    return thing in things_of(bed)


def find_standing(bed: Bed, thing: Thing) -> Standing:
    """Return the obstacle or the zone."""
    if thing.kind == "zone":
        return find_zone(bed, str(thing.key))
    if thing.kind == "obstacle" and 0 <= thing.number < len(bed.obstacles):
        return bed.obstacles[thing.number]
    raise GeometryError(tr("There is nothing like that in “{bed}”.", bed=bed.name))


def thing_words(bed: Bed, thing: Thing) -> str:
    """Name a thing for people."""
    match thing.kind:
        case "obstacle":
            return find_standing(bed, thing).name or tr("obstacle")
        case "zone":
            return tr("zone {name}", name=thing.key)
        case "corner":
            return tr("corner {n}", n=thing.number + 1)
        case "along":
            return tr("joint {n} along", n=thing.number + 1)
        case "across":
            return tr("joint {n} across", n=thing.number + 1)


# -- what stands in the bed: obstacles and zones alike ---------------------------------------------


def fresh_obstacle(bed: Bed, shape: Outline, low: Place) -> Obstacle:
    """Make an obstacle with a free name whose box has its lower left corner at this place.

    What is round is placed by its middle.
    """
    names = {obstacle.name for obstacle in bed.obstacles}
    name = next(name for n in count(1) if (name := tr("obstacle {n}", n=n)) not in names)
    length, width = exact_box(shape)
    if len(grips(shape)) == 4 and not any(grip.is_corner for grip in grips(shape)):
        middle = Spot(Length(low[0] + length / 2), Length(low[1] + width / 2))
        return Obstacle(name, shape, middle, None, CLEARANCE)
    return Obstacle(name, shape, None, Spot(Length(low[0]), Length(low[1])), CLEARANCE)


def add_obstacle(project: Project, bed: str, obstacle: Obstacle) -> Project:
    """Add an obstacle after the others."""
    obstacle_loop(obstacle)
    old = find_bed(project, bed)
    return set_bed(project, bed, obstacles=(*old.obstacles, obstacle))


def set_standing(project: Project, bed: str, thing: Thing, **changes: Any) -> Project:
    """Change values of an obstacle or of a zone, named as in the model."""
    if thing.kind == "zone":
        return set_zone(project, bed, str(thing.key), **changes)
    old = find_bed(project, bed)
    own = find_standing(old, thing)
    made = replace(own, **changes)
    if any(getattr(own, key) != getattr(made, key) for key in PLACING if key in changes):
        refuse_locked(project, bed, "obstacle", [own.name])
    project = renamed_locks(project, bed, "obstacle", own.name, made.name)
    obstacles = tuple(made if each is own else each for each in old.obstacles)
    return set_bed(project, bed, obstacles=obstacles)


def remove_thing(project: Project, bed: str, thing: Thing) -> Project:
    """Take out an obstacle, a zone or a corner of a free outline; a joint cannot be taken out."""
    old = find_bed(project, bed)
    match thing.kind:
        case "zone":
            return remove_zone(project, bed, str(thing.key))
        case "obstacle":
            gone = find_standing(old, thing)
            refuse_locked(project, bed, "obstacle", [gone.name])
            kept = tuple(each for each in old.obstacles if each is not gone)
            return set_bed(project, bed, obstacles=kept)
        case "corner":
            return _with_outline(project, bed, without_corner(old.outline, thing.number))
        case _:
            raise GeometryError(
                tr("A joint goes when the bed is split into fewer rafts; see the station Rafts.")
            )


def box_of(thing: Standing) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    """Return left, bottom, right and top of an obstacle or of a drawn zone, exactly."""
    shape = _shape(thing)
    length, width = exact_box(shape)
    left, bottom = _low(thing)
    return left, bottom, left + length, bottom + width


def grips_of(thing: Standing) -> tuple[Grip, ...]:
    """Return where an obstacle or a drawn zone can be pulled, in bed coordinates."""
    left, bottom = _low(thing)
    found = grips(_shape(thing))
    return tuple(replace(grip, x=grip.x + left, y=grip.y + bottom) for grip in found)


def loop_of(thing: Standing) -> Loop:
    """Return the outline of an obstacle or of a drawn zone in bed coordinates."""
    centre, corner = (
        None if at is None else Spot(*at) for at in (_pair(thing.centre), _pair(thing.corner))
    )
    return obstacle_loop(Obstacle(thing.name, _shape(thing), centre, corner))


def move_standing(project: Project, bed: str, thing: Thing, dx: Fraction, dy: Fraction) -> Project:
    """Move an obstacle or a drawn zone."""
    own = find_standing(find_bed(project, bed), thing)
    return set_standing(project, bed, thing, **_placed(own, Reshaped(_shape(own), dx, dy)))


def pull_grip(
    project: Project, bed: str, thing: Thing, number: int, x: Fraction, y: Fraction
) -> Project:
    """Pull a corner or a side of an obstacle or a zone to a place; what lies opposite stays."""
    own = find_standing(find_bed(project, bed), thing)
    left, bottom = _low(own)
    made = pulled(_shape(own), number, x - left, y - bottom)
    return set_standing(project, bed, thing, **_placed(own, made))


def turn_standing(project: Project, bed: str, thing: Thing, degrees: Fraction) -> Project:
    """Turn an obstacle or a zone counter-clockwise about the middle of its box."""
    own = find_standing(find_bed(project, bed), thing)
    made = turned(_shape(own), degrees)
    return set_standing(project, bed, thing, **_placed(own, made))


def mirror_standing(project: Project, bed: str, thing: Thing, way: Way) -> Project:
    """Mirror an obstacle or a zone to the other half of the bed: "along" swaps left and right."""
    old = find_bed(project, bed)
    own = find_standing(old, thing)
    left, bottom, right, top = box_of(own)
    length, width = exact_box(old.outline)
    dx, dy = (length - left - right, 0) if way == "along" else (0, width - bottom - top)
    made = Reshaped(mirrored(_shape(own), way), Fraction(dx), Fraction(dy))
    return set_standing(project, bed, thing, **_placed(own, made))


def duplicate_standing(
    project: Project, bed: str, thing: Thing, dx: Fraction, dy: Fraction
) -> tuple[Project, Thing]:
    """Put a copy beside an obstacle or a zone; return the project and the copy.

    The copy has a name of its own. One of a zone lies on top of all zones.
    """
    old = find_bed(project, bed)
    own = find_standing(old, thing)
    others: Iterable[Standing] = old.zones if isinstance(own, Zone) else old.obstacles
    name = _free_name(own.name, [each.name for each in others])
    copy = replace(own, name=name, **_placed(own, Reshaped(_shape(own), dx, dy)))
    refuse_out_of_bounds(copy)
    if isinstance(copy, Zone):
        return set_bed(project, bed, zones=(*old.zones, copy)), Thing("zone", name)
    return add_obstacle(project, bed, copy), Thing("obstacle", len(old.obstacles))


def duplicate_beside(project: Project, bed: str, thing: Thing) -> tuple[Project, Thing]:
    """Put a copy at the right of an obstacle or a zone, or at its left where the bed ends."""
    old = find_bed(project, bed)
    left, _, right, _ = box_of(find_standing(old, thing))
    length, _ = exact_box(old.outline)
    by = right - left
    if right + by > length and left - by >= 0:
        by = -by
    return duplicate_standing(project, bed, thing, by, Fraction(0))


# -- the outline -----------------------------------------------------------------------------------


def pull_corner(project: Project, bed: str, number: int, x: Fraction, y: Fraction) -> Project:
    """Pull a corner of the bed's outline to a place; obstacles and zones stay where they are."""
    return _with_outline(project, bed, pulled_outline(find_bed(project, bed), number, x, y))


def pulled_outline(bed: Bed, number: int, x: Fraction, y: Fraction) -> Reshaped:
    """Return a bed's outline with a corner pulled, and where its box then begins in the old one."""
    found = corner_grips(bed.outline)
    if not 0 <= number < len(found):
        raise GeometryError(tr("This outline is held as the tape found it: type its measures."))
    return pulled(bed.outline, grips(bed.outline).index(found[number]), x, y)


def set_outline(project: Project, bed: str, outline: Outline) -> Project:
    """Give a bed another outline; a free one that stays one leaves what stands in it in place."""
    old = find_bed(project, bed).outline
    made = Reshaped(outline)
    if isinstance(old, Polygon) and isinstance(outline, Polygon):
        before, after = _own_low(old), _own_low(outline)
        made = Reshaped(outline, after[0] - before[0], after[1] - before[1])
    return _with_outline(project, bed, made, may_be_empty=True)


def add_corner(project: Project, bed: str, x: Fraction, y: Fraction) -> tuple[Project, Thing]:
    """Give the outline one corner more at a place, in its nearest side; return it as well.

    An outline with straight sides becomes one of any corners by this.
    """
    outline = find_bed(project, bed).outline
    side = nearest_side(polygon_of(outline), float(x), float(y))
    made = _with_outline(project, bed, with_corner(outline, side, x, y))
    return made, Thing("corner", side + 1)


def _with_outline(
    project: Project, bed: str, made: Reshaped, *, may_be_empty: bool = False
) -> Project:
    """Another outline. Places are counted from its box: what stands in the water must be told."""
    changed = set_bed(project, bed, outline=made.outline)
    if made.x or made.y:
        old = find_bed(project, bed)
        back = (-made.x, -made.y)
        obstacles = tuple(_moved(each, *back) for each in old.obstacles)
        zones = tuple(_moved(each, *back) if each.shape else each for each in old.zones)
        changed = set_bed(changed, bed, obstacles=obstacles, zones=zones)
    if not may_be_empty:
        _refuse_without_rafts(find_bed(changed, bed))
    return changed


# -- joints ----------------------------------------------------------------------------------------


def joint_place(bed: Bed, thing: Thing) -> Fraction:
    """Return where the middle line of a joint runs."""
    lines = joint_lines(bed)
    places = lines.along if thing.kind == "along" else lines.across
    if not (thing.is_joint and 0 <= thing.number < len(places)):
        raise GeometryError(tr("There is no such joint in “{bed}”.", bed=bed.name))
    return places[thing.number]


def move_joint(project: Project, bed: str, thing: Thing, to: Fraction) -> Project:
    """Move the middle line of a joint to a place; all joints of its kind move alike.

    Rafts split by their largest size become a split into so many equal parts by this: then their
    joints can be moved.
    """
    old = find_bed(project, bed)
    by = to - joint_place(old, thing)
    rule = as_split(old)
    if thing.kind == "along":
        rule = replace(rule, shift_along=shifted_length(rule.shift_along, by))
    else:
        rule = replace(rule, shift_across=shifted_length(rule.shift_across, by))
    changed = set_bed(project, bed, rafts=rule)
    _refuse_without_rafts(find_bed(changed, bed))
    return changed


def as_split(bed: Bed) -> Split:
    """Return the split that leaves the joints of a bed where they are."""
    if isinstance(bed.rafts, Split):
        return bed.rafts
    lines = joint_lines(bed)
    return Split(len(lines.along) + 1, len(lines.across) + 1)


def _refuse_without_rafts(bed: Bed) -> None:
    if not lay_rafts(bed).rafts:
        raise GeometryError(tr("No raft would be left; pull it the other way."))


# --------------------------------------------------------------------------------------------------


def _shape(thing: Standing) -> Outline:
    if thing.shape is None:
        raise GeometryError(
            tr("“{name}” is made of whole rafts; it has no place of its own.", name=thing.name)
        )
    return thing.shape


def _pair(at: Spot | tuple[Length, Length] | None) -> tuple[Length, Length] | None:
    return (at.x, at.y) if isinstance(at, Spot) else at


def _low(thing: Standing) -> Place:
    """Where the lower left corner of the box lies."""
    shape = _shape(thing)
    if (corner := _pair(thing.corner)) is not None:
        return corner[0].exact, corner[1].exact
    if (centre := _pair(thing.centre)) is not None:
        length, width = exact_box(shape)
        return centre[0].exact - length / 2, centre[1].exact - width / 2
    return _own_low(shape)


def _own_low(shape: Outline) -> Place:
    """Where an obstacle's box lies that was given no place: a free outline at its own corners."""
    points = getattr(shape, "points", ())
    if not points:
        return Fraction(0), Fraction(0)
    return min(x.exact for x, _ in points), min(y.exact for _, y in points)


def _placed(old: Standing, made: Reshaped) -> dict[str, Any]:
    """The values of an obstacle or a zone that has become this, placed by what it was placed by."""
    dx, dy = made.x, made.y
    if old.centre is not None:
        before, after = exact_box(_shape(old)), exact_box(made.outline)
        dx, dy = dx + (after[0] - before[0]) / 2, dy + (after[1] - before[1]) / 2
        name, at = "centre", _pair(old.centre)
    else:
        name, at = "corner", _pair(old.corner)
    x, y = at or (Length(value) for value in _low(old))
    x, y = shifted_length(x, dx), shifted_length(y, dy)
    return {"shape": made.outline, name: Spot(x, y) if isinstance(old, Obstacle) else (x, y)}


def _moved(thing: Standing, dx: Fraction, dy: Fraction) -> Any:
    return replace(thing, **_placed(thing, Reshaped(_shape(thing), dx, dy)))


def _free_name(name: str, taken: Iterable[str]) -> str:
    """The name with the next free number behind it."""
    known = set(taken)
    stem = name.rstrip("0123456789").rstrip() or name
    return next(made for n in count(2) if (made := f"{stem} {n}") not in known)
