"""The raft as a small picture that shows how a short template is used."""

from geometry.drawing.marks import Circle, Mark, Path
from geometry.drawing.raft import datum_corner
from geometry.drawing.short.job import Job
from geometry.drawing.styles import Style
from geometry.drawing.transforms import Shift

_DATUM_LEG_MM = 5.0


def raft_picture(
    job: Job, size: tuple[float, float], left: float, top: float
) -> tuple[Shift, tuple[Mark, ...]]:
    """Draw a raft with its holes into a room; return how raft coordinates become the room's."""
    shape, holes = job.design.shape, job.design.holes
    length, width = float(shape.length), float(shape.width)
    scale = min((size[0] - 2) / length, (size[1] - 4) / width)
    shift = Shift(left + 1, top - width * scale - 2, scale)
    rims = (
        Circle(shift.point(x, y), diameter / 2 * scale, Style.CENTRE)
        for (x, y), diameter in zip(holes.xy.tolist(), holes.diameters.tolist(), strict=True)
    )
    outline = shift.mark(Path(shape.loop.curves, Style.RAFT, closed=True))
    return shift, (outline, datum_corner(shift.point(0, 0), _DATUM_LEG_MM), *rims)
