"""What looking and measuring asks of the window: tools, typed places, the last line, menus."""

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import Final

from PySide6.QtCore import QObject, QPoint
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from geometry.errors import GeometryError
from geometry.model.guide_line import Axis
from geometry.tongue import tr
from geometry.units import ZERO, Length
from layout_gui.canvas.view import BedView, Pointer
from layout_gui.canvas.zooming import read_zoom, zoom_text
from layout_gui.document.aids import CORNER
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.last_line import LastLine, place_words
from layout_gui.panels.length_dialog import Done, LengthDialog
from layout_gui.panels.tool_strip import ToolStrip
from layout_gui.project.edits_guide_lines import remove_guide_lines
from layout_gui.windows.settings import Settings

CANVAS_MENUS: Final[Mapping[str, tuple[str, ...]]] = {
    "hole": ("copy", "leave-out", "pin", "measure", "fit-selection"),
    "raft": ("add-hole", "raft-crop", "lock", "hide", "fit-selection"),
    "zone": ("thing-double", "thing-turn", "lock", "take-away", "fit-selection"),
    "obstacle": ("thing-double", "thing-turn", "lock", "take-away", "fit-selection"),
    "corner": ("draw-corner", "take-away", "measure", "guide-line", "fit"),
    "joint": ("measure", "guide-line", "fit", "select-none"),
    "guide line": ("guide-line", "lock-guide-line", "remove-guide-line", "measure"),
    "nothing": ("select-all", "measure", "draw-zone", "guide-line", "fit"),
}
"""What the right button offers, by what lies under the pointer; all of it stands in menus too."""

_AXES: Final[tuple[Axis, ...]] = ("x", "y")

LEAST_GRID_MM: Final = 1.0


class Looking(QObject):
    """Answers the rows about looking, and keeps the strip and the last line in step."""

    def __init__(
        self,
        view: BedView,
        document: Document,
        selection: Selection,
        settings: Settings,
        window: QWidget,
    ) -> None:
        super().__init__(window)
        self.view = view
        self.aids = view.aids
        self.strip = ToolStrip()
        self._document = document
        self._selection = selection
        self._settings = settings
        self._window = window
        self._last_line: LastLine | None = None
        self._actions: Mapping[str, QAction] = {}
        self._snapped = ""
        self.aids.set_small_bed(settings.flag("small-bed", False))
        self.aids.set_snaps(settings.flag("snaps", True))
        self.aids.set_grid(settings.flag("grid", False), settings.length("grid-step"))

    def put_in(
        self,
        actions: Mapping[str, QAction],
        tools: Sequence[str],
        arming: Sequence[str],
        last_line: LastLine,
        refresh: Callable[[], None],
    ) -> None:
        """Join the canvas with the actions of the window and its last line.

        ``tools`` stand on the strip, those in ``arming`` take something in hand.
        """
        view, self._actions, self._last_line = self.view, actions, last_line
        self.strip.add_tools([actions[name] for name in tools])
        view.set_head(self.strip)
        chain = [*self.strip.tools, view]
        for one, other in pairwise(chain):
            QWidget.setTabOrder(one, other)
        if view.isHidden():
            # When it comes into sight, the keyboard goes to the bed and not to its first tool.
            view.setFocus()
        for name in arming:
            actions[name].triggered.connect(lambda _on, name=name: self._on_wanted(name))
        view.armed.connect(self._on_armed)
        view.aids.changed.connect(refresh)
        view.menu_wanted.connect(self.open_menu)
        view.snapped.connect(self._on_snapped)
        view.pointer_moved.connect(self._on_pointer)
        view.zoom_changed.connect(self._on_zoom)
        last_line.zoom_typed.connect(self._on_typed)
        last_line.zoom_left.connect(view.setFocus)
        self.strip.put_away.connect(self._on_put_away)
        self._selection.changed.connect(self.show_selection)
        self._document.plan_changed.connect(self._on_plan)
        # Beds of another project may have the names of beds that were open before.
        self._document.started.connect(self.aids.forget_beds)
        self._on_zoom(view.zoom)

    # -- what rows ask for -----------------------------------------------------------------------

    def measure(self) -> None:
        """Take the tape in hand, or put it away."""
        self.view.measure()

    def ask_guide_line(self) -> None:
        """Ask where a guide line is to be, or where the picked one is to go."""
        picked = self.aids.picked
        words = (tr("across the bed, at x"), tr("along the bed, at y"))
        if picked is not None:
            self._ask(
                tr("Move the guide line"),
                [(words[_AXES.index(picked.axis)], picked.at)],
                tr("Move it"),
                lambda _option, at: self.view.move_guide_line(at[0]),
            )
            return
        self._ask(
            tr("Guide line"),
            [(tr("Place"), ZERO)],
            tr("Draw it"),
            lambda option, at: self.view.add_guide_line(_AXES[option], at[0]),
            options=(tr("Runs"), words, 0),
        )

    @property
    def is_line_locked(self) -> bool:
        """Whether the picked guide line is locked."""
        return self.aids.picked is not None and self.aids.picked.locked

    def remove_guide_lines(self) -> None:
        """Take all guide lines of the bed out, locked ones too."""
        project, bed = self._document.project, self._selection.bed
        self._document.apply(tr("Remove all guide lines"), remove_guide_lines(project, bed))

    def ask_zero(self) -> None:
        """Ask where the rulers are to begin."""
        x, y = self.aids.zero(self._selection.bed)

        def done(_option: int, at: tuple[Length, ...]) -> str:
            self.aids.set_zero(self._selection.bed, (at[0], at[1]))
            return ""

        fields = [(tr("x from the bed's corner"), x), (tr("y from the bed's corner"), y)]
        self._ask(tr("Where the rulers begin"), fields, tr("Begin there"), done)

    def reset_zero(self) -> None:
        """Let the rulers begin in the bed's corner again."""
        self.aids.set_zero(self._selection.bed, CORNER)

    def has_zero(self) -> bool:
        """Tell whether the rulers begin elsewhere than in the bed's corner."""
        return self.aids.zero(self._selection.bed) != CORNER

    def ask_grid(self) -> None:
        """Ask how far apart the lines of the grid are to be, and show it."""

        def done(_option: int, apart: tuple[Length, ...]) -> str:
            if apart[0].mm < LEAST_GRID_MM:
                return tr("Write at least 1 mm.")
            self.aids.set_grid(True, apart[0])
            self._keep()
            return ""

        step = self.aids.grid_step(self._document.project.units)
        fields = [(tr("From line to line"), step)]
        self._ask(tr("Grid"), fields, tr("Show the grid"), done)

    def toggle_grid(self) -> None:
        """Show the grid, or hide it."""
        self.aids.set_grid(not self.aids.has_grid)
        self._keep()

    def toggle_snaps(self) -> None:
        """Switch snapping off, or on again."""
        self.aids.set_snaps(not self.aids.snaps)
        self._keep()
        if self._last_line is not None:
            words = tr("Snapping is on") if self.aids.snaps else tr("Snapping is off")
            self._last_line.show_hint(words)

    def toggle_small_bed(self) -> None:
        """Show the whole bed in a corner while a part of it is in sight, or not."""
        self.aids.set_small_bed(not self.aids.has_small_bed)
        self._settings.set_flag("small-bed", self.aids.has_small_bed)
        if self.aids.has_small_bed and self._last_line is not None:
            self._last_line.show_hint(tr("The whole bed is in the corner when you come nearer"))

    def hide_rafts(self) -> None:
        """Hide the selected rafts; hiding the hidden ones shows them."""
        bed, rafts = self._selection.bed, self._selection.rafts
        hidden = self.aids.hidden(bed)
        self.aids.hide(bed, hidden - rafts if rafts <= hidden else hidden | rafts)

    def show_rafts(self) -> None:
        """Show all rafts of the bed."""
        self.aids.hide(self._selection.bed, ())

    @property
    def has_hidden(self) -> bool:
        """Whether rafts of the bed are hidden."""
        return bool(self.aids.hidden(self._selection.bed))

    def type_zoom(self) -> None:
        """Give the keyboard to the zoom in the last line."""
        if self._last_line is not None:
            self._last_line.edit_zoom()

    # -- what the canvas tells -------------------------------------------------------------------

    def open_menu(self, kind: str, at: QPoint) -> None:
        """Open the menu of what lies under the pointer."""
        menu = QMenu(self._window)
        menu.setObjectName("canvas menu")
        menu.aboutToHide.connect(menu.deleteLater)
        for action in self.menu_for(kind):
            menu.addAction(action)
        menu.popup(at)

    def menu_for(self, kind: str) -> list[QAction]:
        """Return the likely actions for a kind of thing, at most five."""
        return [self._actions[name] for name in CANVAS_MENUS[kind] if name in self._actions]

    def show_selection(self) -> None:
        """Say what is selected, and how large it is or how far apart."""
        if self._last_line is not None and not self._snapped:
            self._last_line.show_picked(self.view.selection_words())

    def _on_plan(self) -> None:
        self.show_selection()

    def _on_wanted(self, name: str) -> None:
        # The action has run by now: what it armed is in hand already.
        if self.view.is_armed:
            self.strip.show_armed(name)

    def _on_armed(self, is_armed: bool) -> None:  # noqa: FBT001  a signal's argument
        if not is_armed:
            self.strip.show_armed("")

    def _on_put_away(self) -> None:
        self.view.disarm()
        self.strip.show_armed("")

    def _on_snapped(self, words: str) -> None:
        self._snapped = words
        if self._last_line is None:
            return
        if words:
            self._last_line.show_picked(tr("snapped: {words}", words=words))
        else:
            self.show_selection()

    def _on_pointer(self, pointer: Pointer | None) -> None:
        if self._last_line is not None:
            self._last_line.show_place(self.pointer_words(pointer))

    def pointer_words(self, pointer: Pointer | None) -> str:
        """Say where the pointer is: from the rulers' zero where that was moved, else the datum."""
        unit = self._document.project.units
        if pointer is None:
            return ""
        if self.has_zero():
            x, y = self.aids.zero(self._selection.bed)
            return place_words(pointer.x - x.mm, pointer.y - y.mm, "", unit, from_zero=True)
        if pointer.raft_x is None or pointer.raft_y is None:
            return place_words(pointer.x, pointer.y, "", unit)
        return place_words(pointer.raft_x, pointer.raft_y, pointer.raft, unit)

    def _on_zoom(self, share: float) -> None:
        if self._last_line is not None:
            self._last_line.show_zoom(zoom_text(share))

    def _on_typed(self, text: str) -> None:
        reason = ""
        try:
            self.view.set_zoom(read_zoom(text))
        except GeometryError as error:
            reason = str(error)
        self._on_zoom(self.view.zoom)
        self.view.setFocus()  # which says what can be done there, so the reason comes after it
        if reason and self._last_line is not None:
            self._last_line.show_hint(reason)

    def _ask(
        self,
        title: str,
        fields: Sequence[tuple[str, Length]],
        verb: str,
        done: Done,
        options: tuple[str, Sequence[str], int] = ("", (), 0),
    ) -> None:
        unit = self._document.project.units
        LengthDialog(title, fields, unit, verb, done, self._window, options=options).open()

    def _keep(self) -> None:
        self._settings.set_flag("snaps", self.aids.snaps)
        self._settings.set_flag("grid", self.aids.has_grid)
        self._settings.set_length("grid-step", self.aids.chosen_grid_step)
