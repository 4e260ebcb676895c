"""What helps to look and is no part of the project: grid, rulers, snapping, hidden rafts."""

from collections.abc import Iterable
from typing import Final

from PySide6.QtCore import QObject, Signal

from geometry.model.guide_line import GuideLine
from geometry.units import ZERO, Length, Unit

Zero = tuple[Length, Length]
"""Where the rulers begin to count: x and y in the bed."""

CORNER: Final[Zero] = (ZERO, ZERO)

GRID_STEP: Final[dict[Unit, Length]] = {
    "mm": Length.of(50),
    "cm": Length.of(50),
    "in": Length.of("2 in"),
}
"""How far apart the lines of the grid are until the grower says otherwise."""


class Aids(QObject):
    """The aids of one window, shared by the canvas and by what the window asks for them.

    They last as long as the window; guide lines, which are drawn on purpose, belong to the project
    instead, and only the ``picked`` one is known here.
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._snaps = True
        self._has_grid = False
        self._has_small_bed = False
        self._grid_step: Length | None = None
        self._zeros: dict[str, Zero] = {}
        self._picked: GuideLine | None = None
        self._hidden: dict[str, frozenset[str]] = {}

    @property
    def snaps(self) -> bool:
        """Whether what is moved snaps to lines and to the tape."""
        return self._snaps

    @property
    def has_grid(self) -> bool:
        """Whether the grid is shown, and snapped to."""
        return self._has_grid

    @property
    def has_small_bed(self) -> bool:
        """Whether the whole bed is shown in a corner while a part of it is in sight."""
        return self._has_small_bed

    def set_small_bed(self, shown: bool) -> None:  # noqa: FBT001  what a switch says
        """Show the whole bed in a corner, or not."""
        self._has_small_bed = shown
        self.changed.emit()

    @property
    def picked(self) -> GuideLine | None:
        """The guide line that the keys work on."""
        return self._picked

    def grid_step(self, unit: Unit) -> Length:
        """Return how far apart the lines of the grid are; until chosen it depends on the unit."""
        return self._grid_step or GRID_STEP[unit]

    @property
    def chosen_grid_step(self) -> Length | None:
        """How far apart the lines of the grid are; None until that was chosen."""
        return self._grid_step

    def zero(self, bed: str) -> Zero:
        """Return where the rulers of a bed begin to count; at first its corner."""
        return self._zeros.get(bed, CORNER)

    def hidden(self, bed: str) -> frozenset[str]:
        """Return the names of the rafts of a bed that are not shown."""
        return self._hidden.get(bed, frozenset())

    def hide(self, bed: str, rafts: Iterable[str]) -> None:
        """Show all rafts of a bed but these."""
        if self.hidden(bed) != (hidden := frozenset(rafts)):
            self._hidden[bed] = hidden
            self.changed.emit()

    def set_snaps(self, snaps: bool) -> None:  # noqa: FBT001  what a switch says
        """Switch snapping on or off."""
        self._snaps = snaps
        self.changed.emit()

    def set_grid(self, shown: bool, step: Length | None = None) -> None:  # noqa: FBT001  the same
        """Show the grid or hide it; a ``step`` is how far apart its lines are from now on."""
        self._has_grid = shown
        self._grid_step = step or self._grid_step
        self.changed.emit()

    def set_zero(self, bed: str, zero: Zero) -> None:
        """Let the rulers of a bed begin to count somewhere else."""
        if zero != self.zero(bed):
            self._zeros[bed] = zero
            self.changed.emit()

    def pick(self, line: GuideLine | None) -> None:
        """Let the keys work on this guide line; None on none."""
        if line != self._picked:
            self._picked = line
            self.changed.emit()

    def forget_beds(self) -> None:
        """Forget what belongs to the beds of a project that is closed."""
        self._zeros.clear()
        self._hidden.clear()
        self._picked = None
        self.changed.emit()
