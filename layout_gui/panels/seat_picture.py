"""The pot of a planting in its hole: what it does there, which saws there are, and its picture."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from geometry.afloat.pots import Pot as Measured
from geometry.afloat.pots import Seated
from geometry.afloat.saws import SawFit, best_saw, fit_of
from geometry.checks.surroundings import Surroundings
from geometry.drawing.pot_section import drawing_box, seat_drawing
from geometry.drawing.seat_words import seat_words
from geometry.model.planting import Planting
from geometry.model.pot import Pot
from geometry.shopping import USUAL_THICKNESS
from geometry.tongue import tr
from layout_gui.panels.now import Now
from layout_gui.screen.painter import paint_marks, y_up
from layout_gui.screen.theme import theme_of

_MOST_SAWS = 8


@dataclass(frozen=True, slots=True)
class InHole:
    """The pot of one planting in its hole: ``zone`` is empty for the bed's own planting."""

    zone: str
    planting: Planting
    pot: Pot
    measured: Measured
    seated: Seated
    hole: float


def in_hole(now: Now) -> InHole | None:
    """Return the pot of the zone that is picked, or else of the bed; None where none is named."""
    bed = now.bed
    if bed is None or bed.planting is None:
        return None
    names = ["", *(zone.name for zone in bed.zones)]
    number = names.index(now.zone) if now.zone in names else 0
    around = Surroundings.of(now.project, bed)
    pot, seated = around.pots[number], around.seats[number]
    if pot is None or seated is None:
        return None
    own = around.plantings[number]
    hole = own.hole_diameter.mm + around.allowances.wobble.mm
    return InHole(names[number], own, pot, Measured.of(pot), seated, hole)


def saw_fits(now: Now, held: InHole) -> tuple[SawFit, ...]:
    """Return what each saw does: those of the grower nearest to the pot, and the one to take."""
    wobble = now.project.allowances.wobble.mm
    own = sorted(set(now.project.supplies.saws), key=lambda saw: abs(saw.mm - held.measured.body))
    fits = [fit_of(held.measured, saw, wobble, is_own=True) for saw in own[:_MOST_SAWS]]
    best = best_saw(held.measured, now.project.supplies.saws, wobble)
    if best is not None and best.saw not in [fit.saw for fit in fits]:
        fits.append(best)
    return tuple(sorted(fits, key=lambda fit: fit.saw.exact))


def thickness_of(now: Now) -> float:
    """The foam of the bed's first raft design, or what is usual."""
    plan = now.bed_plan
    sheet = now.plan.sheet_of(plan.designs[0].name) if plan and plan.designs else None
    return (sheet.thickness if sheet and sheet.thickness else USUAL_THICKNESS).mm


class SeatPicture(QWidget):
    """A pot in its hole, in section, as large as there is room."""

    def __init__(self) -> None:
        super().__init__()
        self._held: InHole | None = None
        self._thickness = USUAL_THICKNESS.mm
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_seat(self, held: InHole | None, thickness: float) -> None:
        """Show another pot, or none."""
        self.setVisible(held is not None)
        if (held, thickness) == (self._held, self._thickness):
            return
        self._held, self._thickness = held, thickness
        if held is not None:
            self.setAccessibleName(
                tr("Picture: {pot}, {seat}", pot=held.pot.name, seat=seat_words(held.seated))
            )
        self.update()

    def sizeHint(self) -> QSize:
        """As wide as there is room."""
        return QSize(240, 150)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint foam and pot."""
        held = self._held
        if held is None:
            return
        where = held.measured, held.seated, held.hole, self._thickness
        box, room = drawing_box(*where), QRectF(self.rect()).adjusted(4, 4, -4, -4)
        scale = min(room.width() / box.width, room.height() / box.height)
        middle = QPointF((box.left + box.right) / 2, (box.bottom + box.top) / 2)
        corner = room.center() - QPointF(middle.x() * scale, -middle.y() * scale)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setTransform(y_up(corner.x(), corner.y(), scale), combine=True)
        inks = theme_of(self.palette()).inks
        for group in seat_drawing(*where).groups:
            paint_marks(painter, group.marks, inks)
