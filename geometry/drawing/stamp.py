"""What tells two versions of a paper apart: the code of a raft design, and who drew it up when."""

from hashlib import blake2b
from typing import Final

from geometry.model.curves import Arc, Line
from geometry.model.project import Project
from geometry.plan import RaftDesign
from geometry.tongue import tr

PROGRAM: Final = "Raftwright 0.1.0"
"""The program and its version, as papers name them."""

_LETTERS: Final = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"


def design_code(design: RaftDesign, revision: str = "") -> str:
    """Return six letters and digits that change with whatever is cut or drilled, as "K7M-3QF".

    Two designs that are made alike under the same ``revision`` have the same code, whatever they
    are called and whatever grows in them. I, O, 0 and 1 are not used.
    """
    digest = blake2b(_text(design, revision).encode(), digest_size=4).digest()
    number = int.from_bytes(digest, "big")
    letters = "".join(_LETTERS[number >> 5 * place & 31] for place in range(6))
    return f"{letters[:3]}-{letters[3:]}"


def stamp_words(project: Project, design: RaftDesign) -> tuple[str, ...]:
    """Say which version a page is of: its code, then revision and date where they are given."""
    details = project.details
    words = [tr("code {code}", code=design_code(design, details.revision))]
    if details.revision:
        words.append(tr("revision {revision}", revision=details.revision))
    if details.date:
        words.append(tr("of {date}", date=details.date))
    return tuple(words)


def _text(design: RaftDesign, revision: str) -> str:
    holes = design.holes
    rows = [repr(revision), f"{design.shape.length} {design.shape.width}"]
    for curve in design.shape.loop.curves:
        match curve:
            case Line(start, end):
                rows.append(_steps(*start, *end))
            case Arc(centre, radius, angle, sweep):
                rows.append(_steps(*centre, radius, angle, sweep))
    rows.extend(
        f"{name} {_steps(x, y, diameter)}"
        for name, (x, y), diameter in zip(
            holes.names, holes.xy.tolist(), holes.diameters.tolist(), strict=True
        )
    )
    return "\n".join(rows)


def _steps(*figures: float) -> str:
    """Write figures in whole nanometres: what a float adds beyond them is no other design."""
    return " ".join(f"{round(figure * 1e6)}" for figure in figures)
