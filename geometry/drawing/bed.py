"""The bed as a drawing in bed coordinates: the water, what stands in it, what keeps clear."""

from collections.abc import Iterator
from contextlib import suppress

from geometry.beds.outline import obstacle_loop, zone_loop
from geometry.drawing.clearance import clearance_line
from geometry.drawing.marks import Drawing, Group, Mark, Path
from geometry.drawing.styles import Style
from geometry.errors import OutlineError
from geometry.model.bed import Bed, Obstacle
from geometry.model.curves import Loop
from geometry.plan import BedPlan


def draw_bed(plan: BedPlan) -> Drawing:
    """Draw the outline of a bed, its obstacles with the line their clearance keeps, its zones.

    Groups: "water", then one for each obstacle, "obstacle" and its name, then one for each drawn
    zone, "zone" and its name. What cannot be drawn is left out; a finding is about it.
    """
    outline = plan.layout.outline.curves
    water = (Path(outline, Style.WATER, closed=True),) if outline else ()
    groups = [Group("water", water)]
    for obstacle, loop in obstacle_loops(plan.bed):
        groups.append(Group(f"obstacle {obstacle.name}", _obstacle_marks(obstacle, loop)))
    for name, loop in zone_loops(plan.bed):
        groups.append(Group(f"zone {name}", (Path(loop.curves, Style.ZONE, closed=True),)))
    return Drawing(tuple(groups))


def zone_loops(bed: Bed) -> Iterator[tuple[str, Loop]]:
    """Give the drawn zones that can be drawn, by name, each with its outline in bed coordinates."""
    for zone in bed.zones if bed.planting is not None else ():
        with suppress(OutlineError):
            loop = zone_loop(zone)
            if loop is not None:
                yield zone.name, loop


def obstacle_loops(bed: Bed) -> Iterator[tuple[Obstacle, Loop]]:
    """Give the obstacles that can be drawn, each with its outline in bed coordinates."""
    for obstacle in bed.obstacles:
        with suppress(OutlineError):
            yield obstacle, obstacle_loop(obstacle)


def _obstacle_marks(obstacle: Obstacle, loop: Loop) -> tuple[Mark, ...]:
    body = Path(loop.curves, Style.OBSTACLE, closed=True)
    if obstacle.clearance.exact <= 0:
        return (body,)
    return (body, *clearance_line(loop, obstacle.clearance.mm, Style.KEEP_OUT))
