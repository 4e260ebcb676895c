"""What pointer and keys do on the canvas to look and to measure; the bed itself stays as it is.

The counterpart of ``Hands``: the tape, the zoom frame, and guide lines.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Final, Literal, Protocol

from PySide6.QtCore import QObject, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent

from geometry.errors import GeometryError
from geometry.model.guide_line import Axis, GuideLine
from geometry.model.project import Project
from geometry.tongue import tr
from geometry.units import ZERO, Length, format_length
from layout_gui.canvas.gestures import THRESHOLD_PX, Table, Touch
from layout_gui.canvas.guide_lines import GRASP_PX, DragGuideLine, tape_length
from layout_gui.canvas.measuring import End, Tape, measured
from layout_gui.canvas.places import Places
from layout_gui.canvas.scene import BedScene
from layout_gui.document.aids import Aids
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.project import edits_guide_lines as edits

Tool = Literal["", "measure", "frame"]

DELETE: Final = frozenset({Qt.Key.Key_Delete, Qt.Key.Key_Backspace})


class Sight(Protocol):
    """What the eyes ask of the view that they look through."""

    def table(self) -> Table | None:
        """Return what gestures work on; None while the plan is not there."""

    def seen(self) -> QRectF:
        """Return the part of the bed in sight."""

    def show_box(self, box: QRectF) -> None:
        """Show this part of the bed as large as it goes."""


class Eyes(QObject):
    """Which tool for looking is in hand, and which guide line is held."""

    hint_changed = Signal(str)
    armed = Signal(bool)
    """Whether a tool for looking is in hand."""

    rested = Signal()
    """Nothing is in hand any more, and no guide line is picked."""

    def __init__(
        self,
        document: Document,
        selection: Selection,
        scene: BedScene,
        aids: Aids,
        sight: Sight,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        self._scene = scene
        self._aids = aids
        self._sight = sight
        self._tool: Tool = ""
        self._tape = Tape(self._places, self.lines, self._show_tape, self.hint_changed.emit)
        self._frame_from: Touch | None = None
        self._drag: DragGuideLine | None = None
        self._nudge_round = 0
        aids.changed.connect(self.show_lines)
        selection.changed.connect(self._on_selection)

    @property
    def tool(self) -> Tool:
        """The tool in hand; empty for none."""
        return self._tool

    @property
    def is_busy(self) -> bool:
        """Whether a tool is in hand or a guide line is held."""
        return bool(self._tool) or self._drag is not None

    @property
    def is_holding(self) -> bool:
        """Whether a button is held: a guide line is dragged, a frame or the tape drawn."""
        return self._drag is not None or self._frame_from is not None

    @property
    def is_typing(self) -> bool:
        """Whether a place is being typed for the guide line that is dragged."""
        return self._drag is not None and self._drag.typed.is_begun

    @property
    def tape_ends(self) -> tuple[End | None, End | None]:
        """Both ends of the tape, as far as they are set."""
        return self._tape.ends

    def lines(self) -> tuple[GuideLine, ...]:
        """Return the guide lines of the bed that is shown."""
        return edits.guide_lines_of(self._document.project, self._selection.bed)

    def take(self, tool: Tool) -> None:
        """Take a tool in hand instead of the one before."""
        self.put_away()
        self._tool = tool
        if tool == "measure":
            self._tape.begin(self._selection)
        elif tool == "frame":
            self.hint_changed.emit(tr("Drag a frame around what to see · Esc: leave it"))
        self.armed.emit(bool(tool))

    def put_away(self) -> bool:
        """Put the tool away, or let go of the guide line; tell whether there was one."""
        drag, self._drag = self._drag, None
        if drag is not None:
            drag.cancel()
            if self._aids.picked is not None:
                self._say_line(self._aids.picked)
            else:
                self.rested.emit()
            return True
        if not self._tool:
            return False
        self._tool, self._frame_from = "", None
        self._tape.put_away()
        self._scene.band.show_band(None)
        self.armed.emit(False)
        self.rested.emit()
        return True

    # -- pointer ---------------------------------------------------------------------------------

    def line_at(self, touch: Touch) -> GuideLine | None:
        """Return the guide line under the pointer."""
        reach = GRASP_PX * touch.pixel_mm
        away = [
            (abs((touch.x if line.axis == "x" else touch.y) - line.at.mm), line)
            for line in self.lines()
        ]
        near = [each for each in away if each[0] <= reach]
        return min(near, key=lambda each: each[0])[1] if near else None

    def press(self, touch: Touch) -> bool:
        """Begin what a press means for the tool in hand or a guide line; tell whether it did."""
        if self._tool == "measure":
            self._tape.press(touch)
            return True
        if self._tool == "frame":
            self._frame_from = touch
            return True
        line, table = self.line_at(touch), self._sight.table()
        if line is None or table is None:
            self._aids.pick(None)
            return False
        self._selection.clear()
        self._aids.pick(line)
        self._say_line(line)
        self._drag = DragGuideLine(table, line, start=touch, show=self._show_moving)
        return True

    def pull(self, axis: Axis) -> None:
        """Pull a new guide line out of a ruler."""
        table = self._sight.table()
        if table is not None:
            line = GuideLine(table.places.bed_plan.bed.name, axis, ZERO)
            self._drag = DragGuideLine(table, line, start=None, show=self._show_moving)

    def move(self, touch: Touch, *, over_ruler: bool = False) -> bool:
        """Follow the pointer; tell whether there was something to do with it."""
        if self._drag is not None:
            self._drag.move(touch, over_ruler=over_ruler)
        elif self._tool == "measure":
            self._tape.move(touch)
        elif self._tool == "frame":
            if self._frame_from is not None:
                self._scene.band.show_band(_box(self._frame_from, touch))
        else:
            return False
        return True

    def release(self, touch: Touch, *, over_ruler: bool = False) -> bool:
        """Finish; tell whether there was something to finish."""
        if self._drag is not None:
            self._drag.move(touch, over_ruler=over_ruler)
            self._finish()
            return True
        if self._tool == "measure":
            self._tape.release(touch)
            return True
        if self._tool == "frame":
            start, self._frame_from = self._frame_from, None
            self._scene.band.show_band(None)
            if start is not None:
                box = _box(start, touch)
                if min(box.width(), box.height()) >= 2 * THRESHOLD_PX * touch.pixel_mm:
                    self.put_away()
                    self._sight.show_box(box)
            return True
        return False

    # -- keys ------------------------------------------------------------------------------------

    def key(self, event: QKeyEvent, way: tuple[int, int] | None, step_mm: float) -> bool:
        """Do what a key means for the tool or the picked line; ``way`` is that of an arrow key."""
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape:
            if self.put_away():
                return True
            was_picked = self._aids.picked is not None
            self._aids.pick(None)
            if was_picked:
                self.rested.emit()
            return was_picked
        if self._drag is not None:
            if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
                self._finish()
                return True
            return self._drag.key(key, event.text())
        if self._tool == "measure":
            if way is not None:
                middle = self._sight.seen().center()
                self._tape.nudge(way[0] * step_mm, way[1] * step_mm, (middle.x(), middle.y()))
                return True
            if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
                self._tape.change_ends()
                return True
            return False
        line = self._aids.picked
        if line is None or self._tool:
            return False
        if key in DELETE:
            self.remove_picked()
            return True
        if way is not None:
            self._nudge(line, (way[0] if line.axis == "x" else way[1]) * step_mm)
            return True
        return False

    def tab(self, step: int) -> bool:
        """Put an end of the tape on the next hole; False when there is no tape in hand."""
        if self._tool != "measure":
            return False
        self._tape.step(step)
        return True

    def add_line(self, axis: Axis, at: Length) -> str:
        """Draw a guide line as an undo step; return why it cannot be, or nothing."""
        line = GuideLine(self._selection.bed, axis, at)
        project, unit = self._document.project, self._document.project.units
        text = tr("Guide line at {place}", place=format_length(at.exact, unit))
        try:
            changed = edits.add_guide_line(project, line)
        except GeometryError as error:
            return str(error)
        self._document.apply(text, changed)
        self._selection.clear()
        self._aids.pick(line)
        return ""

    def move_picked(self, at: Length, key: str | None = None) -> str:
        """Move the picked guide line as an undo step; return why it cannot be, or nothing."""
        line = self._aids.picked
        if line is None:
            return ""
        project, unit = self._document.project, self._document.project.units
        text = tr("Move guide line to {place}", place=format_length(at.exact, unit))
        try:
            changed = edits.move_guide_line(project, line, at)
        except GeometryError as error:
            return str(error)
        self._document.apply(text, changed, merge_key=key)
        moved = GuideLine(line.bed, line.axis, at)
        self._aids.pick(moved if moved in self.lines() else None)
        if self._aids.picked is not None:
            self._say_line(moved)
        return ""

    def remove_picked(self) -> None:
        """Take the picked guide line out."""
        line = self._aids.picked
        if line is not None and self._apply(
            tr("Remove guide line"), lambda: edits.remove_guide_line(self._document.project, line)
        ):
            self._aids.pick(None)
            self.rested.emit()

    def lock_picked(self) -> None:
        """Lock the picked guide line, or unlock it."""
        line = self._aids.picked
        if line is None:
            return
        is_locked = not line.locked
        text = tr("Lock guide line") if is_locked else tr("Unlock guide line")
        project = self._document.project
        if self._apply(text, lambda: edits.lock_guide_line(project, line, locked=is_locked)):
            changed = replace(line, locked=is_locked)
            self._aids.pick(changed)
            self._say_line(changed)

    def pick_next(self) -> None:
        """Take the next guide line of the bed, from left to right, then from bottom to top."""
        lines = sorted(self.lines(), key=lambda line: (line.axis, line.at.exact))
        if not lines:
            self.hint_changed.emit(tr("This bed has no guide line"))
            return
        picked = self._aids.picked
        at = lines.index(picked) + 1 if picked in lines else 0
        self._selection.clear()
        self._aids.pick(lines[at % len(lines)])
        self._say_line(lines[at % len(lines)])

    # -- what is shown ---------------------------------------------------------------------------

    def settle(self) -> None:
        """Follow a new plan: lines that are gone are no longer picked, the tape finds its holes."""
        if self._aids.picked is not None and self._aids.picked not in self.lines():
            self._aids.pick(None)
            self.rested.emit()
        self.show_lines()
        if self._tool == "measure":
            self._tape.settle()

    def show_lines(self) -> None:
        """Show the guide lines as they are now."""
        unit = self._document.project.units
        self._scene.guide_lines.show_lines(
            self.lines(), self._aids.picked, unit, self._sight.seen()
        )

    def _finish(self) -> None:
        """Make the guide line that is dragged real."""
        drag, self._drag = self._drag, None
        if drag is None:
            return
        self._aids.pick(drag.release())
        if self._aids.picked is not None:
            self._say_line(self._aids.picked)

    def _show_moving(self, line: GuideLine | None) -> None:
        self._scene.guide_lines.show_moving(line, self._sight.seen())
        if line is None:
            table = self._sight.table()
            if table is not None:
                table.surface.show_snapped("")

    def _show_tape(self, start: End | None, end: End | None) -> None:
        words = measured(start, end) if start and end and start != end else ()
        self._scene.tape.show_tape(start, end, words)

    def _say_line(self, line: GuideLine) -> None:
        where = format_length(line.at.exact, self._document.project.units)
        if line.locked:
            self.hint_changed.emit(tr("Guide line at {place}, locked", place=where))
        else:
            self.hint_changed.emit(
                tr("Guide line at {place}: drag, arrow keys or type · Del removes", place=where)
            )

    def _nudge(self, line: GuideLine, by_mm: float) -> None:
        if not by_mm:
            return
        at = tape_length(line.at.mm + by_mm, self._document.project.units)
        refused = self.move_picked(at, f"guide line {self._nudge_round}")
        if refused:
            self.hint_changed.emit(refused)

    def _apply(self, text: str, edit: Callable[[], Project]) -> bool:
        try:
            project = edit()
        except GeometryError as error:
            self.hint_changed.emit(str(error))
            return False
        self._document.apply(text, project)
        return True

    def _places(self) -> Places | None:
        table = self._sight.table()
        return table.places if table is not None else None

    def _on_selection(self) -> None:
        self._nudge_round += 1
        if self._selection.holes or self._selection.rafts or self._selection.thing:
            self._aids.pick(None)
        self.show_lines()


def _box(one: Touch, other: Touch) -> QRectF:
    left, right = sorted((one.x, other.x))
    bottom, top = sorted((one.y, other.y))
    return QRectF(left, bottom, right - left, top - bottom)
