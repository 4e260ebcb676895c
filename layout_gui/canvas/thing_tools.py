"""Tools that draw: a zone or an obstacle, a corner of the outline.

A tool is in hand from the moment it is chosen until it has drawn one thing or Escape puts it away.
The arrow keys move what hangs on the pointer, Enter puts it down, so a mouse is never needed.
"""

from abc import ABC, abstractmethod
from collections.abc import Callable
from fractions import Fraction
from math import atan2, cos, hypot, sin
from typing import Final, Literal

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainterPath

from geometry.beds.outline import exact_box
from geometry.errors import GeometryError
from geometry.model.outlines import Disc, Outline, Polygon, Rectangle
from geometry.model.project import Project
from geometry.tongue import mark, tr
from geometry.units import Length, Unit
from layout_gui.canvas.gestures import REACH_PX, THRESHOLD_PX, Touch
from layout_gui.canvas.snapping import Guide
from layout_gui.canvas.thing_gestures import ThingTable
from layout_gui.canvas.thing_items import SizeLabel
from layout_gui.canvas.thing_snapping import ThingSnapper, free_place
from layout_gui.canvas.typed import TypedSizes
from layout_gui.project import edits, edits_things
from layout_gui.project.grips import Place, nearest_side, polygon_of
from layout_gui.project.things import Thing

DrawnKind = Literal["zone", "obstacle"]
DrawnForm = Literal["rectangle", "round", "corners"]

FIRST_SIZE: Final[dict[Unit, Length]] = {
    "mm": Length.of(100),
    "cm": Length.of(100),
    "in": Length.of("4 in"),
}
"""How large an obstacle is that Enter puts down without a size."""

_CLOSE_PX: Final = 9.0
_HANDS_ON: Final[dict[DrawnForm, str]] = {
    "rectangle": mark("Drag from one corner of it to the other, or type its size · Esc leave it"),
    "round": mark("Drag from its middle to its rim, or type how wide it is · Esc leave it"),
    "corners": mark("Click its corners one by one, Enter closes it · Esc leave it"),
}


class Tool(ABC):
    """Something in hand that draws. ``sizes`` is how many numbers can be typed with it."""

    sizes = 2

    def __init__(self, desk: ThingTable, x: float, y: float, done: Callable[[], None]) -> None:
        self.desk = desk
        self._done = done
        self.typed = TypedSizes(self.sizes, desk.table.unit)
        self.snapper: ThingSnapper = desk.snapper(None)
        self.pixel_mm = 1.0
        self.here: Place = (self.snapper.whole(Fraction(x)), self.snapper.whole(Fraction(y)))
        self._pointer = x, y

    @abstractmethod
    def press(self, touch: Touch) -> None:
        """Begin at a place, or add one."""

    @abstractmethod
    def release(self, touch: Touch) -> None:
        """Finish what a press began."""

    @abstractmethod
    def enter(self) -> None:
        """Put down what hangs on the pointer, where it is."""

    @abstractmethod
    def show(self) -> None:
        """Show what would be drawn, and its sizes."""

    def move(self, touch: Touch) -> None:
        """Follow the pointer."""
        self.here, guides = self.snapped(touch)
        surface = self.desk.table.surface
        beside = {"x": float(self.here[1]), "y": float(self.here[0])}
        surface.show_moving([], tuple(guide.reaching(beside[guide.axis]) for guide in guides))
        self.show()

    def nudge(self, dx: Fraction, dy: Fraction) -> None:
        """Move what hangs on the pointer by the keys, without snapping."""
        self.here = self.here[0] + dx, self.here[1] + dy
        self.show()

    def double_click(self, touch: Touch) -> None:
        """A second press in the same place is a press."""
        self.press(touch)

    def type(self, text: str) -> bool:
        """Take a typed sign; tell whether it was one of a number."""
        return self._typed(self.typed.takes(text))

    def take_back(self) -> None:
        """Take the last typed sign back."""
        self._typed(self.typed.takes_back())

    def next_size(self) -> None:
        """Type the next number."""
        self.typed.next()
        self.show()

    def finish(self) -> None:
        """Put down what hangs on the pointer."""
        self.enter()

    def cancel(self) -> None:
        """Put the tool away."""
        self._clear()
        self.desk.table.document.preview(None)
        self._done()

    def snapped(self, touch: Touch) -> tuple[Place, tuple[Guide, ...]]:
        """Return where the pointer snaps to."""
        self.pixel_mm = touch.pixel_mm
        self._pointer = touch.x, touch.y
        if touch.alt:
            return (free_place(touch.x), free_place(touch.y)), ()
        place: list[Fraction] = []
        guides: tuple[Guide, ...] = ()
        reach = REACH_PX * touch.pixel_mm
        off, found = self.snapper.snap("x", [Fraction(touch.x)], reach)
        place.append(Fraction(touch.x) + off)
        guides += found
        off, found = self.snapper.snap("y", [Fraction(touch.y)], reach)
        place.append(Fraction(touch.y) + off)
        return (place[0], place[1]), (*guides, *found)

    def say(self, hint: str) -> None:
        """Say what goes on, or why a typed number cannot be read."""
        self.desk.table.surface.say(self.typed.reason or hint)

    def put(self, text: str, project: Project, thing: Thing) -> None:
        """Make what was drawn real and select it; the tool is done."""
        self._clear()
        self._done()
        table = self.desk.table
        table.document.apply(text, project)
        if table.document.project is project:
            table.selection.set_thing(thing)

    def _typed(self, done: bool) -> bool:  # noqa: FBT001  what typing tells
        if done:
            self.show()
        return done

    def _clear(self) -> None:
        self.desk.marks.show_moving(None)
        self.desk.table.surface.show_moving([], ())
        self.desk.table.surface.show_band(None)


class DrawThing(Tool):
    """Makes a zone or an obstacle of what was drawn."""

    def __init__(
        self,
        desk: ThingTable,
        kind: DrawnKind,
        x: float,
        y: float,
        done: Callable[[], None],
    ) -> None:
        super().__init__(desk, x, y, done)
        self.kind: DrawnKind = kind

    def drawn(self, shape: Outline, low: Place) -> tuple[str, Project, Thing]:
        """Return the undo text, the project with the new thing and the thing."""
        project, bed = self.desk.project, self.desk.bed
        if self.kind == "zone":
            corner = Length(low[0]), Length(low[1])
            zone = edits.fresh_zone(bed, shape=shape, corner=corner)
            made = edits.add_zone(project, bed.name, zone)
            return tr("Draw zone {name}", name=zone.name), made, Thing("zone", zone.name)
        obstacle = edits_things.fresh_obstacle(bed, shape, low)
        made = edits_things.add_obstacle(project, bed.name, obstacle)
        thing = Thing("obstacle", len(bed.obstacles))
        return tr("Draw {name}", name=obstacle.name), made, thing

    def try_out(self, shape: Outline, low: Place) -> bool:
        """Show the plan with the thing in it; why it cannot be is said."""
        try:
            _, project, _ = self.drawn(shape, low)
        except GeometryError as error:
            self.desk.table.surface.say(str(error))
            return False
        self.desk.table.document.preview(project)
        return True

    def put_drawn(self, shape: Outline, low: Place) -> None:
        """Put the thing down."""
        try:
            text, project, thing = self.drawn(shape, low)
        except GeometryError as error:
            self.desk.table.surface.say(str(error))
            return
        self.put(text, project, thing)


class DrawBox(DrawThing):
    """Drag a rectangle from corner to corner, or a round thing from its middle to its rim."""

    def __init__(
        self,
        desk: ThingTable,
        kind: DrawnKind,
        form: DrawnForm,
        x: float,
        y: float,
        done: Callable[[], None],
    ) -> None:
        self._is_round = form == "round"
        self.sizes = 1 if self._is_round else 2
        super().__init__(desk, kind, x, y, done)
        self._form: DrawnForm = form
        self._start: Place | None = None
        self._is_square = False
        self._is_shown = False
        self.say(tr(_HANDS_ON[form]))

    def press(self, touch: Touch) -> None:
        """Begin in a corner or in the middle."""
        self._start, _ = self.snapped(touch)

    def move(self, touch: Touch) -> None:
        """Open the shape and say its size."""
        self._is_square = touch.shift
        super().move(touch)

    def release(self, touch: Touch) -> None:
        """Make the thing; a click without a drag leaves the tool in hand."""
        if self._start is None:
            return
        self.move(touch)
        _, _, length, width = self._box()
        if min(length, width) < 2 * THRESHOLD_PX * touch.pixel_mm and not self.typed.is_begun:
            self._start = None
            self._clear()
            self.desk.table.document.preview(None)
            self.say(tr(_HANDS_ON[self._form]))
            return
        self.put_drawn(*self._shape())

    def enter(self) -> None:
        """Put it down: what was dragged, or a first one in the middle of the view."""
        self.put_drawn(*self._shape())

    def show(self) -> None:
        """Show the shape, its sizes and the plan with it."""
        if self._start is None and not self.typed.is_begun:
            self.say(tr(_HANDS_ON[self._form]))
            return
        left, bottom, length, width = self._box()
        if not length or not width:
            return
        path = QPainterPath()
        box = QRectF(float(left), float(bottom), float(length), float(width))
        if self._is_round:
            path.addEllipse(box)
        else:
            path.addRect(box)
        labels = [SizeLabel(box.center().x(), box.top(), self.typed.words(0, length), "below")]
        if not self._is_round:
            words = self.typed.words(1, width)
            labels.append(SizeLabel(box.left(), box.center().y(), words, "left"))
        self.desk.marks.show_moving(path, labels)
        if self.try_out(*self._shape()):
            self.say(
                tr(
                    "{sizes} · type, Tab: next size · Shift square · Alt free · Esc leave it",
                    sizes=" \N{MULTIPLICATION SIGN} ".join(label.text for label in labels),
                )
            )

    def _shape(self) -> tuple[Outline, Place]:
        left, bottom, length, width = self._box()
        own, across = self._length(0, length), self._length(1, width)
        shape = Disc(own) if self._is_round else Rectangle(own, across)
        return shape, (left, bottom)

    def _length(self, number: int, exact: Fraction) -> Length:
        """A size, as it was typed where it was."""
        typed = self.typed.value(number) if number < self.sizes else None
        return typed if typed is not None and typed.exact == exact else Length(exact)

    def _box(self) -> tuple[Fraction, Fraction, Fraction, Fraction]:
        """Left, bottom, length and width of what would be drawn."""
        first = self.typed.exact(0)
        if self._start is None:
            return self._first_box()
        (x, y), (to_x, to_y) = self._start, self.here
        if self._is_round:
            size = self._diameter() if first is None else first
            return x - size / 2, y - size / 2, size, size
        second = self.typed.exact(1)
        length = abs(to_x - x) if first is None else first
        width = abs(to_y - y) if second is None else second
        if self._is_square:
            largest = max(abs(to_x - x), abs(to_y - y))
            length = first or second or largest
            width = second or length
        return (x if to_x >= x else x - length), (y if to_y >= y else y - width), length, width

    def _diameter(self) -> Fraction:
        if self._start is None:
            return Fraction(0)
        x, y = (float(to - at) for to, at in zip(self._pointer, self._start, strict=True))
        return self.snapper.whole(Fraction(2 * hypot(x, y)))

    def _first_box(self) -> tuple[Fraction, Fraction, Fraction, Fraction]:
        """A box in the middle of the view: as it was typed, or of a size to begin with."""
        size = FIRST_SIZE[self.desk.table.unit].exact
        sides = [size, size]
        if self.kind == "zone":
            whole = exact_box(self.desk.bed.outline)
            sides = [max(self.snapper.whole(side / 4), size) for side in whole]
        if self._is_round:
            sides = [min(sides)] * 2
        typed = [self.typed.exact(number) for number in range(self.sizes)]
        length = typed[0] or sides[0]
        width = length if self._is_round else (typed[1] or (length if typed[0] else sides[1]))
        return self.here[0] - length / 2, self.here[1] - width / 2, length, width


class DrawCorners(DrawThing):
    """Click the corners of a zone or an obstacle one by one; a click on the first one closes it.

    A typed number is how long the side is that hangs on the pointer.
    """

    sizes = 1

    def __init__(
        self, desk: ThingTable, kind: DrawnKind, x: float, y: float, done: Callable[[], None]
    ) -> None:
        super().__init__(desk, kind, x, y, done)
        self._corners: list[Place] = []
        self.show()

    def press(self, touch: Touch) -> None:
        """Put a corner down."""
        self.move(touch)
        self._put_corner()

    def release(self, touch: Touch) -> None:
        """Put a corner down after a drag, so that sides can be dragged as well."""
        self.move(touch)
        if self._corners and self._away(self.here, self._corners[-1]) > 2 * THRESHOLD_PX:
            self._put_corner()

    def double_click(self, touch: Touch) -> None:
        """Close the shape."""
        self.move(touch)
        self._close()

    def enter(self) -> None:
        """Put down the corner whose side was typed or nudged; otherwise close the shape."""
        is_new = not self._corners or self.here != self._corners[-1]
        if self.typed.is_begun or (is_new and len(self._corners) < 3):
            self._put_corner()
        else:
            self._close()

    def take_back(self) -> None:
        """Take the last typed sign back, or the last corner."""
        if self.typed.is_begun:
            super().take_back()
        elif self._corners:
            self._corners.pop()
            self.show()

    def move(self, touch: Touch) -> None:
        """Let the next side follow the pointer; with Shift along or across the bed."""
        super().move(touch)
        if touch.shift and self._corners:
            x, y = self._corners[-1]
            is_along = abs(self.here[0] - x) >= abs(self.here[1] - y)
            self.here = (self.here[0], y) if is_along else (x, self.here[1])
            self.show()

    def show(self) -> None:
        """Show the corners so far and the side that hangs on the pointer."""
        if not self._corners:
            self.say(tr(_HANDS_ON["corners"]))
            return
        here = self._typed_place()
        path = QPainterPath()
        path.moveTo(*map(float, self._corners[0]))
        for corner in (*self._corners[1:], here):
            path.lineTo(*map(float, corner))
        last = self._corners[-1]
        length = Fraction(_distance(here, last))
        x, y = ((float(here[axis]) + float(last[axis])) / 2 for axis in range(2))
        label = SizeLabel(x, y, self.typed.words(0, length), "above")
        spots = [(float(x), float(y)) for x, y in self._corners]
        self.desk.marks.show_moving(path, [label], spots)
        self.say(
            tr(
                "Corner {n}, side {size} · Enter closes it · Backspace one back · Esc leave it",
                n=len(self._corners) + 1,
                size=label.text,
            )
        )

    def _typed_place(self) -> Place:
        """Where the next corner comes: so far from the last one as was typed."""
        size = self.typed.exact(0)
        if size is None or not self._corners:
            return self.here
        x, y = self._corners[-1]
        dx, dy = self.here[0] - x, self.here[1] - y
        if not dy or not dx:
            sign_x, sign_y = (dx > 0) - (dx < 0), (dy > 0) - (dy < 0)
            return x + size * (sign_x or not sign_y), y + size * sign_y
        angle = atan2(float(dy), float(dx))
        along, across = float(size) * cos(angle), float(size) * sin(angle)
        return x + Length.rounded(along).exact, y + Length.rounded(across).exact

    def _put_corner(self) -> None:
        place = self._typed_place()
        if len(self._corners) >= 3 and self._away(place, self._corners[0]) <= _CLOSE_PX:
            self._close()
            return
        if not self._corners or place != self._corners[-1]:
            self._corners.append(place)
        self.here = place
        self.typed = TypedSizes(self.sizes, self.desk.table.unit)
        self.show()

    def _close(self) -> None:
        if len(self._corners) < 3:
            self.say(tr("It needs three corners or more · Esc leave it"))
            return
        low = min(x for x, _ in self._corners), min(y for _, y in self._corners)
        points = tuple((Length(x - low[0]), Length(y - low[1])) for x, y in self._corners)
        self.put_drawn(Polygon(points), low)

    def _away(self, one: Place, other: Place) -> float:
        return _distance(one, other) / self.pixel_mm


class DrawOutlineCorner(Tool):
    """One corner more for the outline of the bed, in the side nearest to the pointer."""

    def press(self, touch: Touch) -> None:
        """Take note of the pointer; letting go puts the corner down."""
        self.move(touch)

    def release(self, touch: Touch) -> None:
        """Put the corner down."""
        self.move(touch)
        self.enter()

    def enter(self) -> None:
        """Put the corner down where it hangs, or at its typed place."""
        x, y = self._place()
        bed = self.desk.bed.name
        try:
            project, thing = edits_things.add_corner(self.desk.project, bed, x, y)
        except GeometryError as error:
            self.desk.table.surface.say(str(error))
            return
        self.put(tr("Add a corner"), project, thing)

    def show(self) -> None:
        """Show the outline with the corner in it, and the corner's place."""
        try:
            corners = list(polygon_of(self.desk.bed.outline))
        except GeometryError as error:
            self.say(str(error))
            return
        place = self._place()
        side = nearest_side(corners, *map(float, place))
        around = (corners[side], place, corners[(side + 1) % len(corners)])
        path = QPainterPath()
        path.moveTo(*map(float, around[0]))
        for corner in around[1:]:
            path.lineTo(*map(float, corner))
        x, y = map(float, place)
        words = [
            tr("x {size}", size=self.typed.words(0, place[0])),
            tr("y {size}", size=self.typed.words(1, place[1])),
        ]
        labels = [SizeLabel(x, y, words[0], "below"), SizeLabel(x, y, words[1], "left")]
        self.desk.marks.show_moving(path, labels, [(x, y)])
        self.say(
            tr(
                "Corner at {x}, {y} · click or Enter puts it there · Esc leave it",
                x=words[0],
                y=words[1],
            )
        )

    def _place(self) -> Place:
        x, y = self.typed.exact(0), self.typed.exact(1)
        return (self.here[0] if x is None else x), (self.here[1] if y is None else y)


def _distance(one: Place, other: Place) -> float:
    return hypot(float(one[0] - other[0]), float(one[1] - other[1]))
