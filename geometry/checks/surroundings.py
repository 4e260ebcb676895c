"""What counts for rafts in the water: the rafts of one design, and all there is around them."""

from dataclasses import dataclass, replace
from typing import Self

from geometry.afloat import pots as seating
from geometry.afloat.pots import Seated
from geometry.holes.sites import Holes
from geometry.model.allowances import Allowances
from geometry.model.bed import Bed
from geometry.model.limits import Limits
from geometry.model.log import RaftMade
from geometry.model.own_crop import OwnCrop
from geometry.model.planting import Planting
from geometry.model.pot import Pot
from geometry.model.project import Project
from geometry.model.sheet import Sheet
from geometry.model.zone import all_plantings
from geometry.rafts.layout import RaftShape
from geometry.units import Length


@dataclass(frozen=True, slots=True)
class Design:
    """The rafts of one design: its name, shape and holes, and the name of the first such raft.

    There are ``uses`` of them.
    """

    name: str
    shape: RaftShape
    holes: Holes
    first: str
    sheet: Sheet | None
    """What it is cut from; None where sheets of several thicknesses or none would do."""
    uses: int = 1


@dataclass(frozen=True, slots=True)
class Surroundings:
    """All that counts for rafts in the water besides the rafts themselves.

    ``bed`` has no hand edits, ``pots`` are those that the plantings of the bed name, in the order
    of the plantings, None where one names none; ``saws`` are the grower's own. ``made`` are the
    rafts of the log that lie in the bed and that somebody measured.
    """

    bed: Bed
    pots: tuple[Pot | None, ...]
    crops: tuple[OwnCrop, ...]
    limits: Limits
    allowances: Allowances
    saws: tuple[Length, ...] = ()
    made: tuple[RaftMade, ...] = ()

    @classmethod
    def of(cls, project: Project, bed: Bed) -> Self:
        """Take what counts for one bed out of the project."""
        by_name = {pot.name: pot for pot in project.pots}
        planting = bed.planting
        if planting is not None and (planting.pins or planting.blanks):
            bed = replace(bed, planting=replace(planting, pins=(), blanks=()))
        plantings = all_plantings(planting, bed.zones) if planting is not None else ()
        pots = tuple(by_name.get(each.pot) for each in plantings)
        saws = project.supplies.saws
        made = tuple(
            replace(each, drawing="")
            for each in project.log.rafts
            if each.place[0] == bed.name and (each.length or each.width)
        )
        return cls(bed, pots, project.crops, project.limits, project.allowances, saws, made)

    @property
    def plantings(self) -> tuple[Planting, ...]:
        """The bed's own planting and then those of its zones, as holes number them."""
        planting = self.bed.planting
        return all_plantings(planting, self.bed.zones) if planting is not None else ()

    @property
    def seats(self) -> tuple[Seated | None, ...]:
        """How the pot of each planting sits in its holes, as wide as they come out; None without.

        Those that stand proud hang less deep by so much.
        """
        wobble = self.allowances.wobble.mm
        return tuple(
            None
            if pot is None
            else seating.seat_of(seating.Pot.of(pot), planting.hole_diameter.mm + wobble)
            for pot, planting in zip(self.pots, self.plantings, strict=True)
        )
