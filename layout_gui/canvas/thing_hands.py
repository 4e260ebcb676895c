"""What pointer and keys do with obstacles, zones, corners of the outline and joints."""

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from geometry.errors import GeometryError
from geometry.model.bed import Bed
from geometry.model.outlines import Polygon
from geometry.model.project import Project
from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.canvas.gestures import THRESHOLD_PX, Gesture, MoveHoles, Table, Touch
from layout_gui.canvas.scene import BedScene
from layout_gui.canvas.thing_gestures import (
    MoveJoint,
    MoveStanding,
    Pull,
    PullCorner,
    PullGrip,
    ThingTable,
    joint_text,
)
from layout_gui.canvas.thing_places import ThingPlaces
from layout_gui.canvas.thing_tools import (
    DrawBox,
    DrawCorners,
    DrawnForm,
    DrawnKind,
    DrawOutlineCorner,
    Tool,
)
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.project import edits, edits_things
from layout_gui.project.edits_locks import locked_names
from layout_gui.project.grips import polygon_of
from layout_gui.project.things import Thing, ThingKind

STEPS: Final[dict[Unit, tuple[Fraction, Fraction, Fraction]]] = {
    "mm": (Fraction(1), Fraction(10), Fraction(1, 10)),
    "cm": (Fraction(1), Fraction(10), Fraction(1, 10)),
    "in": (Fraction(254, 160), Fraction(254, 10), Fraction(254, 640)),
}
"""How far an arrow key moves a thing: alone, with Shift, with Ctrl."""

CYCLES: Final[dict[Qt.Key, tuple[ThingKind, ...]]] = {
    Qt.Key.Key_O: ("obstacle",),
    Qt.Key.Key_Z: ("zone",),
    Qt.Key.Key_C: ("corner",),
    Qt.Key.Key_J: ("along", "across"),
}
"""The keys that select the next thing of a kind."""

Typing = Pull | MoveHoles | Tool


class ThingHands:
    """Decides what a press or a key means for things; ``Hands`` asks it first.

    The ``tool`` in hand draws with the next press.
    """

    def __init__(
        self,
        document: Document,
        selection: Selection,
        scene: BedScene,
        say: Callable[[str], None],
        disarm: Callable[[], None],
    ) -> None:
        self._document = document
        self._selection = selection
        self._marks = scene.thing_marks
        self._say = say
        self._disarm = disarm
        self.tool: Tool | None = None
        self._pulled: PullCorner | None = None
        self._counted: tuple[Thing, int] | None = None

    # -- pointer ---------------------------------------------------------------------------------

    def press(self, table: Table, touch: Touch, *, on_hole: bool) -> Gesture | None:
        """Begin what a press means; None when it means no thing."""
        things = table.places.things
        picked = self._selection.thing
        desk = ThingTable(table, things, self._marks)
        self.rest()
        if touch.ctrl:
            under = () if on_hole else things.at(touch.x, touch.y, touch.pixel_mm, picked)
            standing = next((thing for thing in under if thing.stands), None)
            return None if standing is None else MoveStanding(desk, standing, touch)
        if picked is not None and picked.stands and not on_hole:
            grip = things.grip_at(picked, touch.x, touch.y, touch.pixel_mm)
            if grip is not None:
                return PullGrip(desk, picked, grip, touch)
        found = things.at(touch.x, touch.y, touch.pixel_mm, picked)
        if picked in found:
            return self._pull(desk, picked, touch)
        if on_hole or not found:
            return None
        return self._pull(desk, found[0], touch)

    def point(self, things: ThingPlaces, touch: Touch, *, on_hole: bool) -> bool:
        """Show what a press would take hold of; tell whether that is a thing."""
        picked = self._selection.thing
        if picked is not None and picked.stands and not on_hole:
            grip = things.grip_at(picked, touch.x, touch.y, touch.pixel_mm)
            if grip is not None:
                self._marks.show_pointed(things, picked, grip)
                return True
        found = things.at(touch.x, touch.y, touch.pixel_mm, picked)
        over = picked if picked in found else (found[0] if found and not on_hole else None)
        self._marks.show_pointed(things, over)
        return over is not None

    def rest(self) -> None:
        """Show nothing under the pointer any more."""
        self._marks.show_pointed(None, None)

    # -- tools -----------------------------------------------------------------------------------

    def arm(self, table: Table, kind: DrawnKind, form: DrawnForm, x: float, y: float) -> None:
        """Take a tool in hand that draws a zone or an obstacle."""
        desk = ThingTable(table, table.places.things, self._marks)
        if kind == "zone" and desk.bed.planting is None:
            self._say(tr("Plant the bed first; a zone is planted otherwise than the rest"))
            return
        if form == "corners":
            self.tool = DrawCorners(desk, kind, x, y, self._disarm)
        else:
            self.tool = DrawBox(desk, kind, form, x, y, self._disarm)

    def arm_corner(self, table: Table, x: float, y: float) -> None:
        """Take a tool in hand that gives the outline one corner more."""
        desk = ThingTable(table, table.places.things, self._marks)
        try:
            polygon_of(desk.bed.outline)
        except GeometryError as error:
            self._say(str(error))
            return
        self.tool = DrawOutlineCorner(desk, x, y, self._disarm)
        self.tool.show()

    # -- keys ------------------------------------------------------------------------------------

    def typing(self, gesture: Gesture | None) -> Typing | None:
        """Return what takes typed numbers now."""
        if isinstance(gesture, Pull | MoveHoles) and gesture.is_dragged:
            return gesture
        return self.tool

    def key(self, event: QKeyEvent, gesture: Gesture | None) -> bool:
        """Do what a key means while something is dragged or drawn; tell whether it meant that."""
        typing = self.typing(gesture)
        if typing is None:
            return False
        key = Qt.Key(event.key())
        if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            typing.finish()
        elif key == Qt.Key.Key_Backspace:
            typing.take_back()
        else:
            return typing.type(event.text())
        return True

    def arrow(self, table: Table | None, right: int, up: int, kind: int, merge_key: str) -> bool:
        """Move what hangs on the pointer or the selected thing; tell whether there is one."""
        step = STEPS[self._document.project.units][kind]
        if self.tool is not None:
            self.tool.nudge(right * step, up * step)
            return True
        thing = self._selection.thing
        if thing is None:
            return False
        if table is not None:
            self._nudge(table, thing, (right * step, up * step), merge_key)
        return True

    def next_of(self, kinds: Sequence[ThingKind], things: ThingPlaces) -> bool:
        """Select the next thing of these kinds; tell whether there is one."""
        found = [thing for thing in things.all if thing.kind in kinds]
        if not found:
            self._say(tr("This bed has none of them"))
            return True
        picked = self._selection.thing
        at = found.index(picked) + 1 if picked in found else 0
        self._selection.set_thing(found[at % len(found)])
        return True

    def tab(self, things: ThingPlaces, step: int) -> Thing | None:
        """Return the next thing in order, or the one before; None beyond either end."""
        picked = self._selection.thing
        found = things.all
        if picked not in found:
            at = 0 if step > 0 else len(found) - 1
        else:
            at = found.index(picked) + step
        return found[at] if 0 <= at < len(found) else None

    def remove(self, table: Table) -> None:
        """Take the selected thing out, if it can be."""
        thing, bed = self._selection.thing, table.places.bed_plan.bed
        if thing is None:
            return
        try:
            project = edits_things.remove_thing(self._document.project, bed.name, thing)
        except GeometryError as error:
            self._say(str(error))
            return
        name = edits_things.thing_words(bed, thing)
        self._document.apply(tr("Remove {thing}", thing=name), project)
        self._selection.clear()

    def hint(self, things: ThingPlaces) -> str:
        """Say what can be done with the selected thing."""
        thing = self._selection.thing
        if thing is None or not edits_things.has_thing(things.bed, thing):
            return ""
        name = edits_things.thing_words(things.bed, thing)
        name = name[:1].upper() + name[1:]
        if self._is_locked(things.bed, thing):
            return tr("{thing} is locked · Ctrl+K unlocks it · Tab next", thing=name)
        if thing.kind == "obstacle":
            return tr(
                "{thing}: drag, arrow keys or type · Del removes · Tab next",
                thing=name,
            )
        if thing.kind == "zone":
            return tr(
                "{thing}: drag its line, arrow keys or type · Del removes · Tab next",
                thing=name,
            )
        if thing.kind == "corner":
            if isinstance(things.bed.outline, Polygon):
                return tr("{thing}: drag, arrow keys or type · Del removes · Tab next", thing=name)
            return tr("{thing}: drag, arrow keys or type · Tab next", thing=name)
        return tr("{thing}: drag or arrow keys, all of its kind move alike · Tab next", thing=name)

    # --------------------------------------------------------------------------------------------

    def _is_locked(self, bed: Bed, thing: Thing) -> bool:
        project = self._document.project
        if thing.kind == "zone":
            return thing.key in locked_names(project, bed.name, "zone")
        if thing.kind == "obstacle":
            name = bed.obstacles[thing.number].name
            return name in locked_names(project, bed.name, "obstacle")
        return False

    def selected(self, things: ThingPlaces | None) -> None:
        """Take note of what is selected, so that it can be told when its number is another's."""
        thing = self._selection.thing
        self._counted = (thing, _like(things, thing)) if things and thing else None

    def settle(self, table: Table) -> None:
        """Drop a selected thing that is gone, and let a tool in hand work on the new project."""
        things, thing = table.places.things, self._selection.thing
        if thing is not None and not edits_things.has_thing(things.bed, thing):
            self._selection.set_thing(None)
        elif thing is not None and thing.kind == "obstacle" and self._counted is not None:
            counted, number = self._counted
            if counted == thing and number > _like(things, thing):
                self._selection.set_thing(None)
        self.selected(things)
        if self.tool is not None and self.tool.desk.table.places is not table.places:
            self.tool.desk = ThingTable(table, things, self._marks)
            self.tool.snapper = self.tool.desk.snapper(None)

    def low_of(self, project: Project) -> tuple[float, float]:
        """Return where the box of the bed begins while its corner is pulled; 0, 0 otherwise."""
        return self._pulled.low_of(project) if self._pulled is not None else (0.0, 0.0)

    def end(self) -> None:
        """Take note that the gesture is over."""
        self._pulled = None

    def _pull(self, desk: ThingTable, thing: Thing, touch: Touch) -> Gesture:
        if thing.is_joint:
            return MoveJoint(desk, thing, touch)
        if thing.kind == "corner":
            self._pulled = PullCorner(desk, thing, touch)
            return self._pulled
        return MoveStanding(desk, thing, touch)

    def _nudge(self, table: Table, thing: Thing, way: tuple[Fraction, Fraction], key: str) -> None:
        bed = table.places.bed_plan.bed
        try:
            text, project = self._moved(table.places.things, thing, *way)
        except GeometryError as error:
            self._say(str(error))
            return
        if project != self._document.project:
            self._document.apply(text, project, merge_key=f"{key} {bed.name}")

    def _moved(
        self, things: ThingPlaces, thing: Thing, dx: Fraction, dy: Fraction
    ) -> tuple[str, Project]:
        project, bed = self._document.project, things.bed
        text = tr("Move {thing}", thing=edits_things.thing_words(bed, thing))
        if thing.stands:
            return text, edits_things.move_standing(project, bed.name, thing, dx, dy)
        if thing.kind == "corner":
            corner = things.corners[thing.number]
            x, y = corner.x + dx, corner.y + dy
            return text, edits_things.pull_corner(project, bed.name, thing.number, x, y)
        by = dx if thing.kind == "along" else dy
        if not by:
            return text, project
        to = edits_things.joint_place(bed, thing) + by
        made = edits_things.move_joint(project, bed.name, thing, to)
        return joint_text(bed, edits.find_bed(made, bed.name), thing), made


def is_click(start: Touch, touch: Touch) -> bool:
    """Whether a press and its release are one click."""
    away = max(abs(touch.x - start.x), abs(touch.y - start.y))
    return away < THRESHOLD_PX * touch.pixel_mm


def _like(things: ThingPlaces | None, thing: Thing | None) -> int:
    """How many things of the same kind there are."""
    if things is None or thing is None:
        return 0
    return sum(each.kind == thing.kind for each in things.all)
