"""What pointer and keys do on the canvas: they begin gestures and make edits."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from PySide6.QtCore import QObject, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent

from geometry.errors import GeometryError
from geometry.model.lock import Lock
from geometry.model.project import Project
from geometry.plan import BedPlan, Plan
from geometry.tongue import mark, plural, tr, tr_n
from geometry.units import Unit
from layout_gui.canvas.gestures import (
    AddHole,
    Gesture,
    MoveHoles,
    RubberBand,
    Table,
    Touch,
    move_text,
    moved_by,
)
from layout_gui.canvas.places import Places
from layout_gui.canvas.scene import BedScene
from layout_gui.canvas.snapping import Guide, snap_words
from layout_gui.canvas.thing_gestures import Pull
from layout_gui.canvas.thing_hands import CYCLES, ThingHands, is_click
from layout_gui.canvas.thing_tools import DrawnForm, DrawnKind
from layout_gui.document.aids import Aids
from layout_gui.document.document import Document
from layout_gui.document.selection import HoleName, Selection
from layout_gui.project import edits
from layout_gui.project.edits_locks import locked_names
from layout_gui.project.things import Thing

GRASP_PX: Final = 3.0
"""A press so near a rim still takes hold of the hole."""

STEPS_MM: Final[dict[Unit, tuple[float, float, float]]] = {
    "mm": (1.0, 10.0, 0.1),
    "cm": (1.0, 10.0, 0.1),
    "in": (25.4 / 16, 25.4, 25.4 / 64),
}
"""How far an arrow key moves a hole: alone, with Shift, with Ctrl."""

ARROWS: Final = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, 1),
    Qt.Key.Key_Down: (0, -1),
}


class Hands(QObject):
    """The one that decides what a press or a key means for the bed that is shown."""

    hint_changed = Signal(str)
    armed = Signal(bool)
    """Whether a tool is in hand that draws or adds something."""

    ended = Signal()
    """A gesture is over, made real or taken back."""

    placed = Signal(float, float)
    """Where the hole on the move is, in bed coordinates."""

    snapped = Signal(str)
    """What the thing on the move snapped to, in words; empty when it is free."""

    def __init__(
        self,
        document: Document,
        selection: Selection,
        scene: BedScene,
        parent: QObject,
        aids: Aids,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        self._scene = scene
        self._aids = aids
        self._places: Places | None = None
        self._gesture: Gesture | None = None
        self._adding: AddHole | None = None
        self._things = ThingHands(document, selection, scene, self.say, self._disarm)
        self._pressed: Touch | None = None
        self._clicked: Touch | None = None
        self._picked_before: HoleName | Thing | None = None
        self._follow: tuple[Project, Sequence[tuple[str, float, float]]] | None = None
        self._nudge_round = 0
        self._is_nudging = False
        self._kept: frozenset[HoleName] = frozenset()
        self._tab_leaves = False
        self._owes_hint = False
        self._locks: tuple[Lock, ...] = ()
        selection.changed.connect(self._on_selection)

    @property
    def places(self) -> Places | None:
        """Where things are in the plan that is shown; None without a bed."""
        return self._places

    def table(self) -> Table | None:
        """Return what gestures work on; None while the plan of the project is not there."""
        return self._table()

    def wants(self, touch: Touch) -> bool:
        """Tell whether a press here is for what is in hand, a hole, or a grip."""
        if self.is_armed or self._gesture is not None:
            return True
        places, thing = self._places, self._selection.thing
        if places is None:
            return False
        if thing and places.things.grip_at(thing, touch.x, touch.y, touch.pixel_mm) is not None:
            return True
        return places.hole_at(touch.x, touch.y, GRASP_PX * touch.pixel_mm) is not None

    def step(self, modifiers: Qt.KeyboardModifier) -> float:
        """Return how far an arrow key goes (mm), with these keys held."""
        return STEPS_MM[self._document.project.units][_kind_of_step(modifiers)]

    @property
    def is_busy(self) -> bool:
        """Whether a gesture is under way."""
        return self._gesture is not None

    @property
    def is_typing(self) -> bool:
        """Whether a number is being typed for what is dragged or drawn."""
        typing = self._things.typing(self._gesture)
        return typing is not None and typing.typed.is_begun

    def low_of(self, project: Project) -> tuple[float, float]:
        """Return where the bed of a project that is shown begins, seen from the current one.

        While its left or lower wall is pulled that is elsewhere than at 0, 0.
        """
        return self._things.low_of(project)

    def show_bed(self, bed_plan: BedPlan | None) -> None:
        """Take note of the plan that is shown now."""
        hidden = self._aids.hidden(bed_plan.bed.name) if bed_plan is not None else frozenset()
        before = self._places
        if bed_plan is None:
            self._places = None
        elif before is None or before.bed_plan is not bed_plan or before.hidden != hidden:
            self._places = Places(bed_plan, hidden)

    def settle(self, plan: Plan) -> None:
        """Bring the selection in line with the plan of the current project."""
        if self._follow is not None and self._follow[0] is plan.project:
            names = self._places.names_at(self._follow[1]) if self._places else []
            self._follow = None
            if names:
                self._select_quietly(names)
        if (table := self._table()) is not None:
            self._things.settle(table)
            self._drop_what_is_gone(table)
        if plan.project.locks != self._locks:
            self._locks, self._owes_hint = plan.project.locks, True
        if self._owes_hint and self._gesture is None and not self.is_armed:
            self.say_what_can_be_done()

    # -- pointer ---------------------------------------------------------------------------------

    def press(self, touch: Touch) -> None:
        """Begin what a press at this place means."""
        if self._gesture is not None:
            return
        if self._things.tool is not None:
            self._things.tool.press(touch)
            self._gesture = self._things.tool
            return
        table = self._table()
        if table is None:
            return
        if self._adding is not None:
            self._gesture = self._adding
            return
        self._pressed, self._picked_before = touch, self._picked()
        self._owes_hint = False
        spot = table.places.hole_at(touch.x, touch.y, GRASP_PX * touch.pixel_mm)
        self._gesture = self._things.press(table, touch, on_hole=spot is not None)
        if self._gesture is None and spot is not None:
            self._gesture = MoveHoles(table, spot, touch)
        elif self._gesture is None:
            self._gesture = RubberBand(table, touch)

    def move(self, touch: Touch) -> None:
        """Follow the pointer: the gesture under way, what is in hand, or what is below."""
        if self._gesture is not None:
            self._gesture.move(touch)
        elif self._things.tool is not None:
            self._things.tool.move(touch)
        elif self._adding is not None:
            self._adding.move(touch)
        elif self._places is not None:
            spot = self._places.hole_at(touch.x, touch.y, GRASP_PX * touch.pixel_mm)
            over = self._things.point(self._places.things, touch, on_hole=spot is not None)
            self._scene.hover.show_spots([spot] if spot and not over else [])

    def release(self, touch: Touch) -> None:
        """Finish the gesture; a click repeated in its place selects what lies below."""
        gesture, self._gesture = self._gesture, None
        if gesture is None:
            return
        gesture.release(touch)
        self._end()
        if not self.is_armed:
            self._go_below(touch)
            self.say_what_can_be_done()
            if isinstance(gesture, MoveHoles | Pull) and gesture.refused:
                self.say(gesture.refused)

    def leave(self) -> None:
        """Show nothing under the pointer any more."""
        if self._gesture is None:
            self._scene.hover.show_spots([])
            self._things.rest()

    def double_click(self, touch: Touch) -> None:
        """Add a hole on foam; on a hole or a thing it is a second press."""
        if self._things.tool is not None:
            self._things.tool.double_click(touch)
            self._gesture = self._things.tool
            return
        table = self._table()
        if table is None:
            return
        spot = table.places.hole_at(touch.x, touch.y, GRASP_PX * touch.pixel_mm)
        over = table.places.things.at(touch.x, touch.y, touch.pixel_mm)
        on_foam = table.places.raft_at(touch.x, touch.y) is not None
        if spot is not None or over or not on_foam:
            self.press(touch)
            return
        self.arm(touch.x, touch.y)
        if self._adding is not None:
            self._adding.release(touch)

    def pick(self, touch: Touch) -> None:
        """Select what lies under a menu that is about to open, unless it is selected already."""
        table = self._table()
        spot = table.places.hole_at(touch.x, touch.y, 0) if table else None
        if spot is not None and spot.name not in self._selection.holes:
            self._selection.set_holes([spot.name])

    def cancel(self) -> bool:
        """Forget the gesture or the hole in hand; tell whether there was one."""
        gesture, self._gesture = self._gesture, None
        if gesture is None:
            gesture = self._adding or self._things.tool
        if gesture is None:
            return False
        gesture.cancel()
        self._disarm()
        self._end()
        self.say_what_can_be_done()
        return True

    def arm(self, x: float, y: float) -> None:
        """Take a new hole in hand, at this place of the bed to begin with."""
        self.cancel()
        table = self._table()
        if table is None or table.places.bed_plan.bed.planting is None:
            self.hint_changed.emit(tr("This bed has no planting to add a hole to"))
            return
        self._adding = AddHole(table, x, y, self._disarm)
        self.armed.emit(True)

    def arm_thing(self, kind: DrawnKind, form: DrawnForm, x: float, y: float) -> None:
        """Take a tool in hand that draws a zone or an obstacle, at first in this place."""
        self._arm_tool(lambda table: self._things.arm(table, kind, form, x, y))

    def arm_corner(self, x: float, y: float) -> None:
        """Take a tool in hand that gives the outline one corner more."""
        self._arm_tool(lambda table: self._things.arm_corner(table, x, y))

    # -- keys ------------------------------------------------------------------------------------

    def key(self, event: QKeyEvent) -> bool:
        """Do what a key means; tell whether it meant anything."""
        key = Qt.Key(event.key())
        modifiers = event.modifiers()
        if self._things.key(event, self._gesture):
            if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
                self._end()
                if not self.is_armed:
                    self.say_what_can_be_done()
            return True
        if key in ARROWS and not modifiers & Qt.KeyboardModifier.AltModifier:
            return self._arrow(*ARROWS[key], modifiers)
        if key == Qt.Key.Key_Escape:
            return self._escape()
        if modifiers & ~Qt.KeyboardModifier.KeypadModifier:
            return False
        doing = self._plain_keys().get(key)
        if doing is not None:
            doing()
        return doing is not None

    def tab(self, step: int) -> bool:
        """Select the next hole in name order, then the next thing; False to leave the canvas."""
        typing = self._things.typing(self._gesture)
        if typing is not None:
            typing.next_size()
            return True
        table = self._table()
        if table is None or self._tab_leaves or self._gesture is not None:
            self._tab_leaves = False
            return False
        if self._selection.thing is not None:
            return self._tab_to_thing(table, step)
        order = [name for name in table.places.all_names() if name in self._selection.holes]
        current = [name for name in order if name not in self._kept] or order
        here = (current[-1] if step > 0 else current[0]) if current else None
        chosen = table.places.next_to(here, step)
        if chosen is None:
            self._kept = frozenset()
            return step > 0 and self._tab_to_thing(table, step)
        self._select_quietly({*self._kept, chosen})
        self.say_what_can_be_done()
        return True

    def delete_selected(self) -> None:
        """Leave out the selected holes, or take out the selected thing."""
        if self._selection.thing is not None:
            if (table := self._table()) is not None and self._gesture is None:
                self._things.remove(table)
            return
        chosen = self._chosen()
        text = (
            tr("Leave out hole {hole}", hole=chosen[0][1])
            if len(chosen) == 1
            else tr_n("Leave out {n} hole", "Leave out {n} holes", len(chosen))
        )
        if self._edit(text, edits.delete_holes, chosen):
            self._selection.clear()

    def toggle_pins(self) -> None:
        """Pin the selected holes; unpin them when all are pinned."""
        chosen = self._chosen()
        places = self._places
        pinned = places is not None and all(_is_pinned(places, name) for name in chosen)
        edit = edits.unpin_holes if pinned else edits.pin_holes
        if len(chosen) == 1:
            one = mark("Unpin hole {hole}") if pinned else mark("Pin hole {hole}")
            text = tr(one, hole=chosen[0][1])
        elif pinned:
            text = tr_n("Unpin {n} hole", "Unpin {n} holes", len(chosen))
        else:
            text = tr_n("Pin {n} hole", "Pin {n} holes", len(chosen))
        self._edit(text, edit, chosen)

    def select_all(self) -> None:
        """Select every hole of the bed."""
        if self._places is not None:
            self._selection.set_holes(self._places.all_names())

    # -- what a gesture shows --------------------------------------------------------------------

    def show_band(self, box: QRectF | None) -> None:
        """Show the rubber band."""
        self._scene.band.show_band(box)

    def show_moving(
        self, circles: Sequence[tuple[float, float, float]], guides: tuple[Guide, ...]
    ) -> None:
        """Show where holes go and the lines they snap to; the rings rest meanwhile."""
        self._scene.moving.show_circles(circles)
        self._scene.guides.show_guides(guides)
        self.snapped.emit(snap_words(guides))
        self._scene.hover.show_spots([])
        self._scene.rings.setVisible(not circles or self._adding is not None)

    def show_snapped(self, words: str) -> None:
        """Say what the thing on the move snapped to."""
        self.snapped.emit(words)

    def show_place(self, x: float, y: float) -> None:
        """Say where the hole on the move is."""
        self.placed.emit(x, y)

    def say(self, hint: str) -> None:
        """Say what goes on."""
        self.hint_changed.emit(hint)

    def follow(self, project: Project, targets: Sequence[tuple[str, float, float]]) -> None:
        """Select what lies at these places once the plan of this project is there."""
        self._follow = project, targets

    def say_what_can_be_done(self) -> None:
        """Say what the pointer and the keys can do now."""
        holes, rafts = len(self._selection.holes), len(self._selection.rafts)
        self._owes_hint = False
        if self._selection.thing is not None:
            hint = self._things.hint(self._places.things) if self._places is not None else ""
            if hint:
                self.hint_changed.emit(hint)
            self._owes_hint = not hint
        elif holes:
            what = (
                tr("Hole {hole}", hole=next(iter(self._selection.holes))[1])
                if holes == 1
                else plural(holes, "hole")
            )
            self.hint_changed.emit(
                tr(
                    "{what}: drag, arrow keys or type · Del leaves out · P pins · Tab: next hole",
                    what=what,
                )
            )
        elif rafts:
            what = next(iter(self._selection.rafts)) if rafts == 1 else plural(rafts, "raft")
            project, bed = self._document.project, self._selection.bed
            if self._selection.rafts <= locked_names(project, bed, "raft"):
                self.hint_changed.emit(
                    tr("{what} locked · Ctrl+K unlocks · R: next raft", what=what)
                )
                return
            self.hint_changed.emit(
                tr(
                    "{what} selected · double-click on foam or Ins adds a hole · R: next raft",
                    what=what,
                )
            )
        else:
            self.hint_changed.emit(
                tr("Click a hole or drag a frame · Tab: first hole, R: first raft · wheel: zoom")
            )

    # --------------------------------------------------------------------------------------------

    def _table(self) -> Table | None:
        """Return what gestures work on; None while the plan of the current project is not there."""
        if self._places is None or self._document.plan.project is not self._document.project:
            return None
        return Table(self._document, self._selection, self._places, self, self._aids)

    def _drop_what_is_gone(self, table: Table) -> None:
        """Unselect holes and rafts that an undo, or a rule, took away."""
        holes, rafts = self._selection.holes, self._selection.rafts
        if holes and self._gesture is None:
            there = [spot.name for spot in table.places.spots(holes)]
            if len(there) < len(holes):
                self._select_quietly(there)
                self.say_what_can_be_done()
        elif not rafts <= table.places.rafts.keys():
            self._selection.set_rafts(rafts & table.places.rafts.keys())

    def _plain_keys(self) -> dict[Qt.Key, Callable[[], None]]:
        put_down = self._adding.put_down if self._adding is not None else self._keep
        return {
            Qt.Key.Key_Delete: self.delete_selected,
            Qt.Key.Key_Backspace: self.delete_selected,
            Qt.Key.Key_P: self.toggle_pins,
            Qt.Key.Key_R: self._next_raft,
            **{key: partial(self._next_thing, key) for key in CYCLES},
            Qt.Key.Key_Return: put_down,
            Qt.Key.Key_Enter: put_down,
        }

    def _next_raft(self) -> None:
        """Select the raft of the selected holes as a whole, or the raft after the selected one."""
        names = list(self._places.rafts) if self._places is not None else []
        if not names:
            return
        if self._selection.holes:
            here = {raft for raft, _ in self._selection.holes}
            chosen = next((name for name in names if name in here), names[0])
        else:
            last = max((names.index(n) for n in self._selection.rafts if n in names), default=-1)
            chosen = names[(last + 1) % len(names)]
        self._selection.set_rafts([chosen])

    def _next_thing(self, key: Qt.Key) -> None:
        """Select the next thing of the kinds that a key stands for."""
        if self._places is not None and self._gesture is None:
            self._things.next_of(CYCLES[key], self._places.things)

    def _tab_to_thing(self, table: Table, step: int) -> bool:
        """Select the next thing; before the first of them comes the last hole."""
        found = self._things.tab(table.places.things, step)
        if found is not None:
            self._selection.set_thing(found)
            return True
        last = table.places.next_to(None, -1) if step < 0 else None
        if last is not None:
            self._selection.set_holes([last])
        return last is not None

    def _end(self) -> None:
        """Tell that the gesture is over."""
        self._gesture = None
        self._things.end()
        self.ended.emit()

    def _picked(self) -> HoleName | Thing | None:
        """What is selected by itself."""
        holes = self._selection.holes
        return next(iter(holes)) if len(holes) == 1 else self._selection.thing

    def _go_below(self, touch: Touch) -> None:
        """Select what lies below, if this click repeats the last one on what was selected."""
        start, last = self._pressed, self._clicked
        held = touch.shift or touch.ctrl
        self._clicked = None
        if start is None or self._places is None or held or not is_click(start, touch):
            return
        self._clicked = touch
        if last is None or not is_click(last, touch):
            return
        spot = self._places.hole_at(touch.x, touch.y, GRASP_PX * touch.pixel_mm)
        ring: list[HoleName | Thing] = [spot.name] if spot else []
        ring += self._places.things.at(touch.x, touch.y, touch.pixel_mm)
        if len(ring) < 2 or self._picked_before not in ring:
            return
        below = ring[(ring.index(self._picked_before) + 1) % len(ring)]
        if isinstance(below, Thing):
            self._selection.set_thing(below)
        else:
            self._selection.set_holes([below])

    @property
    def is_armed(self) -> bool:
        """Whether something is in hand that the next press puts down or draws."""
        return self._adding is not None or self._things.tool is not None

    def _arm_tool(self, arm: Callable[[Table], None]) -> None:
        self.cancel()
        table = self._table()
        if table is None:
            return
        arm(table)
        if self._things.tool is not None:
            self.armed.emit(True)

    def _keep(self) -> None:
        """Keep the selected holes selected while Tab goes on."""
        self._kept = self._selection.holes
        self.hint_changed.emit(
            tr_n(
                "{n} hole kept · Tab: add the next one",
                "{n} holes kept · Tab: add the next one",
                len(self._kept),
            )
        )

    def _escape(self) -> bool:
        if self.cancel():
            return True
        chosen = self._selection
        self._tab_leaves = not (chosen.holes or chosen.rafts or chosen.thing)
        if self._tab_leaves:
            self.hint_changed.emit(tr("Tab leaves the bed"))
            return False
        self._selection.clear()
        return True

    def _arrow(self, right: int, up: int, modifiers: Qt.KeyboardModifier) -> bool:
        kind = _kind_of_step(modifiers)
        step_mm = STEPS_MM[self._document.project.units][kind]
        if self._adding is not None:
            self._adding.nudge(right * step_mm, up * step_mm)
            return True
        if self._gesture is not None:
            return True
        table = self._table()
        self._is_nudging = True
        is_thing = self._things.arrow(table, right, up, kind, f"nudge {self._nudge_round}")
        self._is_nudging = False
        if is_thing or not self._selection.holes:
            return is_thing
        if table is None:
            return True
        moving = table.places.spots(self._selection.holes)
        if not moving:
            return True
        dx, dy = right * step_mm, up * step_mm
        try:
            project = moved_by(table, self._document.project, moving, dx, dy)
        except GeometryError as error:
            self.hint_changed.emit(str(error))
            return True
        self.follow(project, [(spot.raft, spot.x + dx, spot.y + dy) for spot in moving])
        key = f"nudge {self._nudge_round}"
        self._is_nudging = True
        self._document.apply(move_text(moving), project, merge_key=key)
        self._is_nudging = False
        return True

    def _edit(
        self,
        text: str,
        edit: Callable[[Project, BedPlan, Sequence[HoleName]], Project],
        chosen: Sequence[HoleName],
    ) -> bool:
        table = self._table()
        if table is None or not chosen or self._gesture is not None:
            return False
        try:
            project = edit(self._document.project, table.places.bed_plan, chosen)
        except GeometryError as error:
            self.hint_changed.emit(str(error))
            return False
        self._document.apply(text, project)
        return True

    def _chosen(self) -> list[HoleName]:
        return sorted(self._selection.holes)

    def _disarm(self) -> None:
        self._adding = None
        self._things.tool = None
        self.armed.emit(False)

    def _select_quietly(self, names: Sequence[HoleName] | set[HoleName]) -> None:
        """Select without taking it for a new round of nudges or of Tab."""
        kept, nudging = self._kept, self._is_nudging
        self._is_nudging = True
        self._selection.set_holes(names)
        self._kept, self._is_nudging = kept, nudging

    def _on_selection(self) -> None:
        self._kept = frozenset()
        self._tab_leaves = False
        self._things.selected(self._places.things if self._places else None)
        if not self._is_nudging:
            self._nudge_round += 1
        if self._gesture is None and not self.is_armed:
            self.say_what_can_be_done()


def _kind_of_step(modifiers: Qt.KeyboardModifier) -> int:
    """Which of the steps in ``STEPS_MM`` an arrow key takes with these keys held."""
    if modifiers & Qt.KeyboardModifier.ShiftModifier:
        return 1
    return 2 if modifiers & Qt.KeyboardModifier.ControlModifier else 0


def _is_pinned(places: Places, name: HoleName) -> bool:
    placed = places.rafts.get(name[0])
    if placed is None or name[1] not in placed.design.holes.names:
        return False
    return bool(placed.design.holes.pinned[placed.design.holes.names.index(name[1])])
