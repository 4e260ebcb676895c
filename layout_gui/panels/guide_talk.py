"""What the pages of the guide know together: the shape picked, and the bed before its walls lean.

The project keeps the inside at the water that decides, its levels and its walls as seen from there.
The measures it was reckoned from are kept here, by the outline and the water they led to, so that
undo and redo find them again; where they are lost, they are told as if from the highest water.
"""

from dataclasses import dataclass, replace

from geometry.beds.levels import at_working_level, lean_at, may_lean, narrowed
from geometry.beds.outline import exact_box
from geometry.beds.shapes import ShapeName, shape_of
from geometry.errors import GeometryError
from geometry.model.bed import Bed
from geometry.model.outlines import Outline, Polygon
from geometry.model.project import Project
from geometry.model.water import Walls, Water
from geometry.tongue import tr
from geometry.units import ZERO, Length, Unit
from layout_gui.panels.now import Now
from layout_gui.project import edits
from layout_gui.project.first import with_shape


@dataclass(frozen=True, slots=True)
class Lean:
    """How the walls lean, as measured so far; None for what is not measured yet.

    ``length`` and ``width`` are inside measures ``depth`` below the first ones; ``highest`` and
    ``lowest`` are how far below those the water stands.
    """

    depth: Length | None = None
    length: Length | None = None
    width: Length | None = None
    highest: Length | None = ZERO
    lowest: Length | None = None

    @property
    def walls(self) -> Walls | None:
        """The second measuring, once all of it is known."""
        if self.depth is None or self.length is None or self.width is None:
            return None
        return Walls(self.depth, self.length, self.width)

    @property
    def levels(self) -> tuple[Length, ...]:
        """The highest and the lowest water, once both are known."""
        if self.highest is None or self.lowest is None:
            return ()
        return (self.highest, self.lowest)


class Talk:
    """The guide's memory while it is open. ``unit`` counts until there is a bed."""

    def __init__(self, unit: Unit) -> None:
        self.unit = unit
        self._shape: ShapeName = "rectangle"
        self._before: dict[_Inside, tuple[Outline, Lean]] = {}

    def units(self, now: Now) -> Unit:
        """Return the unit that lengths are typed in."""
        return now.project.units if now.bed else self.unit

    def outline(self, now: Now) -> Outline | None:
        """Return the outline as it was measured, before any lean of the walls."""
        if now.bed is None:
            return None
        kept = self._kept(now.bed)
        return kept[0] if kept else now.bed.outline

    def lean(self, now: Now) -> Lean | None:
        """Return how the walls were found to lean; None while they stand straight."""
        kept = self._kept(now.bed) if now.bed else None
        return kept[1] if kept else None

    def _kept(self, bed: Bed) -> tuple[Outline, Lean] | None:
        return self._before.get(_inside(bed)) or _told_anew(bed)

    def shape(self, now: Now) -> ShapeName:
        """Return the shape of the bed; the picked one as long as it can be that."""
        outline = self.outline(now)
        if outline is None or (self._shape == "free" and isinstance(outline, Polygon)):
            return self._shape
        return shape_of(outline)

    def pick(self, shape: ShapeName) -> None:
        """Take note of the shape that was picked."""
        self._shape = shape

    def shaped(self, now: Now) -> Project:
        """Return the project with the picked shape."""
        project, bed = now.project, now.bed
        if bed is None:
            return with_shape(edits.set_units(project, self.unit), None, self._shape)
        outline = self.outline(now) or bed.outline
        straight = edits.set_bed(
            project, bed.name, outline=outline, water=replace(bed.water, walls=None)
        )
        return with_shape(straight, edits.find_bed(straight, bed.name), self._shape)

    def measured(self, now: Now, outline: Outline) -> Project:
        """Return the project with other measures; walls that lean, lean as before.

        Raises:
            GeometryError: The measures cannot be right.
        """
        lean = self.lean(now)
        if not isinstance(outline, Polygon):
            _refuse_what_cannot_be(outline, now)
        if lean is not None:
            return self.leaned(now, lean, outline)
        return edits.set_outline(now.project, _bed(now).name, outline)

    def leaned(self, now: Now, lean: Lean | None, outline: Outline | None = None) -> Project:
        """Return the project with the inside at the water that decides; None for straight walls.

        A lean that is not measured in full changes nothing.

        Raises:
            GeometryError: The measures cannot be right.
        """
        before = outline or self.outline(now)
        if before is None or (lean is not None and not (lean.walls and lean.levels)):
            return now.project
        bed = _bed(now)
        if lean is None or lean.walls is None:
            water = replace(bed.water, walls=None)
            if self.lean(now) is not None:
                water = replace(water, low=ZERO, high=ZERO)
            self._before.pop(_inside(replace(bed, outline=before, water=water)), None)
            return edits.set_bed(now.project, bed.name, outline=before, water=water)
        highest, lowest = lean.levels
        after, water = at_working_level(before, lean.walls, highest, lowest, bed.water)
        project = edits.set_bed(now.project, bed.name, outline=after, water=water)
        self._before[_inside(replace(bed, outline=after, water=water))] = (before, lean)
        return project


_Inside = tuple[Outline, Water]


def _inside(bed: Bed) -> _Inside:
    """What a lean led to: outline and levels, whatever else is known of the water."""
    return bed.outline, Water(low=bed.water.low, high=bed.water.high, walls=bed.water.walls)


def _told_anew(bed: Bed) -> tuple[Outline, Lean] | None:
    """The bed as if it was measured at its highest water; None where that leads elsewhere."""
    water = bed.water
    if water.walls is None or not may_lean(bed.outline):
        return None
    up = water.high.exact
    depth, lowest = Length(water.walls.depth.exact + up), Length(water.low.exact + up)
    lean = Lean(depth, water.walls.length, water.walls.width, ZERO, lowest)
    try:
        top = narrowed(bed.outline, lean_at(bed.outline, water.walls, -up))
        found = lean.walls and at_working_level(top, lean.walls, ZERO, lowest, water)
    except GeometryError:
        return None
    return (top, lean) if found == (bed.outline, water) else None


def _refuse_what_cannot_be(outline: Outline, now: Now) -> None:
    edits.set_outline(now.project, _bed(now).name, outline)
    exact_box(outline)


def _bed(now: Now) -> Bed:
    if now.bed is None:
        raise GeometryError(tr("There is no bed yet."))
    return now.bed
