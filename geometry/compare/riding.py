"""How rafts would ride that are drilled by another choice: foam, pots and heads as they are."""

from geometry.afloat.riding import Afloat
from geometry.checks.floats import afloat_of
from geometry.checks.surroundings import Design, Surroundings
from geometry.model.project import Project
from geometry.plan import BedPlan, one_foam


def heaviest(project: Project, planned: BedPlan) -> Afloat | None:
    """Return how the raft of a bed rides that weighs the most at the harvest.

    None where the sheets of the project are not of one foam, or nobody noted its thickness.
    """
    sheet = one_foam(project.sheets)
    if sheet is None or sheet.thickness is None:
        return None
    around = Surroundings.of(project, planned.bed)
    rides = [
        afloat_of(around, Design(each.name, each.shape, each.holes, "", sheet))
        for each in planned.designs
    ]
    known = [ride for ride in rides if ride is not None]
    return max(known, key=lambda ride: ride.harvest.lift, default=None)
