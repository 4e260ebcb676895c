"""Can the outlines of a bed and of its obstacles be drawn at all?"""

from collections.abc import Iterator

from geometry.beds.outline import obstacle_loop, outline_loop, zone_loop
from geometry.checks.finding import Finding
from geometry.errors import OutlineError
from geometry.model.bed import Bed


def check_bed_shape(bed: Bed) -> Iterator[Finding]:
    """Yield a problem for every outline that encloses nothing or crosses itself.

    The subject is "outline" or the name of the obstacle or zone. With such a finding the bed
    cannot be planned any further.
    """
    try:
        outline_loop(bed.outline)
    except OutlineError:
        yield Finding(code="bed-shape", severity="problem", bed=bed.name, subject="outline")
    for obstacle in bed.obstacles:
        try:
            obstacle_loop(obstacle)
        except OutlineError:
            yield Finding(code="bed-shape", severity="problem", bed=bed.name, subject=obstacle.name)
    for zone in bed.zones:
        try:
            zone_loop(zone)
        except OutlineError:
            yield Finding(code="bed-shape", severity="problem", bed=bed.name, subject=zone.name)
