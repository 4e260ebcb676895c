"""What lies under the pointer, and what is selected, in a few words."""

from collections.abc import Callable
from typing import Literal

from geometry.tongue import tr, tr_n
from geometry.units import Unit, format_length
from layout_gui.canvas.gestures import Touch
from layout_gui.canvas.measuring import between
from layout_gui.canvas.places import Places
from layout_gui.document.selection import Selection
from layout_gui.project.things import Thing

Kind = Literal["hole", "guide line", "obstacle", "zone", "corner", "joint", "raft", "nothing"]


def kind_at(
    places: Places,
    selection: Selection,
    touch: Touch | None,
    line_at: Callable[[Touch], object | None],
) -> tuple[Kind, Thing | None]:
    """Return what lies at a place, the top one; without a place, what is selected.

    Of the things of a bed the thing itself comes along.
    """
    if touch is None:
        if selection.holes:
            return "hole", None
        if selection.thing is not None:
            return _kind_of(selection.thing), selection.thing
        return ("raft" if selection.rafts else "nothing"), None
    if places.hole_at(touch.x, touch.y, 0) is not None:
        return "hole", None
    if line_at(touch) is not None:
        return "guide line", None
    things = places.things.at(touch.x, touch.y, touch.pixel_mm)
    if things:
        return _kind_of(things[0]), things[0]
    return ("raft" if places.raft_at(touch.x, touch.y) is not None else "nothing"), None


def _kind_of(thing: Thing) -> Kind:
    match thing.kind:
        case "along" | "across":
            return "joint"
        case kind:
            return kind


def selection_words(places: Places, selection: Selection, unit: Unit) -> str:
    """Say how many things are selected and how large they are together; empty for nothing.

    Of two things the words tell how far apart they are.
    """
    if selection.holes:
        circles = places.circles(selection.holes)
        if not len(circles):
            return ""
        low = (circles[:, :2] - circles[:, 2:]).min(axis=0)
        high = (circles[:, :2] + circles[:, 2:]).max(axis=0)
        what = tr_n("{n} hole", "{n} holes", len(circles))
        size = float(high[0] - low[0]), float(high[1] - low[1])
    elif selection.rafts:
        rafts = [places.rafts[name] for name in selection.rafts if name in places.rafts]
        if not rafts:
            return ""
        what = tr_n("{n} raft", "{n} rafts", len(rafts))
        shapes = [(raft, raft.design.shape) for raft in rafts]
        left, bottom = min(raft.x for raft in rafts), min(raft.y for raft in rafts)
        right = max(raft.x + float(shape.length) for raft, shape in shapes)
        top = max(raft.y + float(shape.width) for raft, shape in shapes)
        size = right - left, top - bottom
    elif selection.thing in places.things.bodies:
        thing = selection.thing
        left, bottom, right, top = places.things.bodies[thing].box
        what = str(thing.key)
        if thing.kind == "obstacle":
            what = places.bed_plan.bed.obstacles[thing.number].name
        size = right - left, top - bottom
    else:
        return ""
    apart = between(places, selection, unit)
    if apart:
        return tr("{what}, {apart}", what=what, apart=apart)
    return tr(
        "{what}, {length} {times} {width}",
        times="\N{MULTIPLICATION SIGN}",
        what=what,
        length=format_length(size[0], unit),
        width=format_length(size[1], unit),
    )
