"""What pointer and keys do on the canvas: they begin gestures and make edits."""

from collections.abc import Callable, Sequence
from typing import Final

from PySide6.QtCore import QObject, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent

from geometry.errors import GeometryError
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
from layout_gui.canvas.zone_gestures import DrawZone, MoveZone, move_zone
from layout_gui.document.aids import Aids
from layout_gui.document.document import Document
from layout_gui.document.selection import HoleName, Selection
from layout_gui.project import edits

ZONE_GRASP_PX: Final = 6.0
"""A press so near the outline of a zone takes hold of it."""

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
    """Whether a new hole is in hand."""

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
        self._is_drawing = False
        self._follow: tuple[Project, Sequence[tuple[str, float, float]]] | None = None
        self._nudge_round = 0
        self._is_nudging = False
        self._kept: frozenset[HoleName] = frozenset()
        self._tab_leaves = False
        selection.changed.connect(self._on_selection)

    @property
    def places(self) -> Places | None:
        """Where things are in the plan that is shown; None without a bed."""
        return self._places

    @property
    def is_busy(self) -> bool:
        """Whether a gesture is under way."""
        return self._gesture is not None

    def show_bed(self, bed_plan: BedPlan | None) -> None:
        """Take note of the plan that is shown now."""
        if bed_plan is None:
            self._places = None
        elif self._places is None or self._places.bed_plan is not bed_plan:
            self._places = Places(bed_plan)

    def settle(self, plan: Plan) -> None:
        """Bring the selection in line with the plan of the current project."""
        if self._follow is not None and self._follow[0] is plan.project:
            names = self._places.names_at(self._follow[1]) if self._places else []
            self._follow = None
            if names:
                self._select_quietly(names)

    # -- pointer ---------------------------------------------------------------------------------

    def press(self, touch: Touch) -> None:
        """Begin what a press at this place means."""
        table = self._table()
        if table is None or self._gesture is not None:
            return
        if self._adding is not None:
            self._gesture = self._adding
            return
        if self._is_drawing:
            self._gesture = DrawZone(table, touch, self._disarm)
            return
        spot = table.places.hole_at(touch.x, touch.y, GRASP_PX * touch.pixel_mm)
        zone = table.places.zone_at(touch.x, touch.y, ZONE_GRASP_PX * touch.pixel_mm)
        if spot is not None:
            self._gesture = MoveHoles(table, spot, touch)
        elif zone:
            self._gesture = MoveZone(table, self._scene.zones, zone, touch)
        else:
            self._gesture = RubberBand(table, touch)

    def move(self, touch: Touch) -> None:
        """Follow the pointer: the gesture under way, the hole in hand, or the hole below."""
        if self._gesture is not None:
            self._gesture.move(touch)
        elif self._adding is not None:
            self._adding.move(touch)
        elif self._places is not None:
            spot = self._places.hole_at(touch.x, touch.y, GRASP_PX * touch.pixel_mm)
            self._scene.hover.show_spots([spot] if spot else [])

    def release(self, touch: Touch) -> None:
        """Finish the gesture."""
        gesture, self._gesture = self._gesture, None
        if gesture is not None:
            gesture.release(touch)
            if self._adding is None and not self._is_drawing:
                self.say_what_can_be_done()

    def leave(self) -> None:
        """Show nothing under the pointer any more."""
        if self._gesture is None:
            self._scene.hover.show_spots([])

    def double_click(self, touch: Touch) -> None:
        """Add a hole on foam; on a hole it is a second press."""
        table = self._table()
        if table is None:
            return
        spot = table.places.hole_at(touch.x, touch.y, GRASP_PX * touch.pixel_mm)
        if spot is not None or table.places.raft_at(touch.x, touch.y) is None:
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
            gesture = self._adding
        if gesture is None and not self._is_drawing:
            return False
        if gesture is not None:
            gesture.cancel()
        self._disarm()
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

    def arm_zone(self) -> None:
        """Let the next drag draw a zone."""
        self.cancel()
        table = self._table()
        if table is None or table.places.bed_plan.bed.planting is None:
            self.hint_changed.emit(
                tr("Plant the bed first; a zone is planted otherwise than the rest")
            )
            return
        self._is_drawing = True
        self.armed.emit(True)
        self.hint_changed.emit(tr("Drag a rectangle over the new zone · Esc: leave it"))

    # -- keys ------------------------------------------------------------------------------------

    def key(self, event: QKeyEvent) -> bool:
        """Do what a key means; tell whether it meant anything."""
        key = Qt.Key(event.key())
        modifiers = event.modifiers()
        if key in ARROWS and not modifiers & Qt.KeyboardModifier.AltModifier:
            return self._arrow(*ARROWS[key], self._step(modifiers))
        if key == Qt.Key.Key_Escape:
            return self._escape()
        if modifiers & ~Qt.KeyboardModifier.KeypadModifier:
            return False
        doing = self._plain_keys().get(key)
        if doing is not None:
            doing()
        return doing is not None

    def tab(self, step: int) -> bool:
        """Select the next hole in name order; False when the keyboard should leave the canvas."""
        table = self._table()
        if table is None or self._tab_leaves or self._gesture is not None:
            self._tab_leaves = False
            return False
        order = [name for name in table.places.all_names() if name in self._selection.holes]
        current = [name for name in order if name not in self._kept] or order
        here = (current[-1] if step > 0 else current[0]) if current else None
        chosen = table.places.next_to(here, step)
        if chosen is None:
            self._kept = frozenset()
            return False
        self._select_quietly({*self._kept, chosen})
        self.say_what_can_be_done()
        return True

    def delete_selected(self) -> None:
        """Leave out the selected holes, or remove the selected zone."""
        if self._selection.zone:
            self._remove_zone(self._selection.zone)
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

    def say(self, hint: str) -> None:
        """Say what goes on."""
        self.hint_changed.emit(hint)

    def follow(self, project: Project, targets: Sequence[tuple[str, float, float]]) -> None:
        """Select what lies at these places once the plan of this project is there."""
        self._follow = project, targets

    def say_what_can_be_done(self) -> None:
        """Say what the pointer and the keys can do now."""
        holes, rafts = len(self._selection.holes), len(self._selection.rafts)
        if self._selection.zone:
            self.hint_changed.emit(
                tr(
                    "Zone {zone}: drag its outline, arrow keys or type · Del removes",
                    zone=self._selection.zone,
                )
            )
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

    def _plain_keys(self) -> dict[Qt.Key, Callable[[], None]]:
        put_down = self._adding.put_down if self._adding is not None else self._keep
        return {
            Qt.Key.Key_Delete: self.delete_selected,
            Qt.Key.Key_Backspace: self.delete_selected,
            Qt.Key.Key_P: self.toggle_pins,
            Qt.Key.Key_R: self._next_raft,
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
        self._tab_leaves = not (chosen.holes or chosen.rafts or chosen.zone)
        if self._tab_leaves:
            self.hint_changed.emit(tr("Tab leaves the bed"))
            return False
        self._selection.clear()
        return True

    def _step(self, modifiers: Qt.KeyboardModifier) -> float:
        plain, large, small = STEPS_MM[self._document.project.units]
        if modifiers & Qt.KeyboardModifier.ShiftModifier:
            return large
        return small if modifiers & Qt.KeyboardModifier.ControlModifier else plain

    def _arrow(self, right: int, up: int, step_mm: float) -> bool:
        if self._adding is not None:
            self._adding.nudge(right * step_mm, up * step_mm)
            return True
        table = self._table()
        if self._selection.zone and self._gesture is None:
            if table is not None:
                self._nudge_zone(table, right * step_mm, up * step_mm)
            return True
        if self._gesture is not None or not self._selection.holes:
            return self._gesture is not None
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

    def _nudge_zone(self, table: Table, dx: float, dy: float) -> None:
        self._is_nudging = True
        move_zone(table, self._selection.zone, dx, dy, f"nudge {self._nudge_round}")
        self._is_nudging = False

    def _remove_zone(self, name: str) -> None:
        table = self._table()
        if table is None or self._gesture is not None:
            return
        bed = table.places.bed_plan.bed.name
        try:
            project = edits.remove_zone(self._document.project, bed, name)
        except GeometryError as error:
            self.hint_changed.emit(str(error))
            return
        self._document.apply(tr("Remove zone {name}", name=name), project)
        self._selection.clear()

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
        self._is_drawing = False
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
        if not self._is_nudging:
            self._nudge_round += 1
        if self._gesture is None and self._adding is None:
            self.say_what_can_be_done()


def _is_pinned(places: Places, name: HoleName) -> bool:
    placed = places.rafts.get(name[0])
    if placed is None or name[1] not in placed.design.holes.names:
        return False
    return bool(placed.design.holes.pinned[placed.design.holes.names.index(name[1])])
