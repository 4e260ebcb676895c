"""Do rafts still fit beside each other as they came out, and how many plants do they hold?"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from geometry.checks.finding import Finding
from geometry.checks.levels import Fit
from geometry.flow.room import Room
from geometry.model.bed import Bed
from geometry.model.log import RaftMade
from geometry.rafts.layout import RaftLayout, RaftPlace
from geometry.rafts.play import AXES, Axis
from geometry.units import TOLERANCE_MM


def check_made(
    bed: Bed, layout: RaftLayout, fit: Fit, made: Sequence[RaftMade]
) -> Iterator[Finding]:
    """Yield lines of rafts that came out longer together than the bed has room for.

    One finding an axis, of the line that lacks most at the level with the least room, about the
    raft that outgrew its drawing most. The amount is what is missing, below zero. Lines that jam as
    drawn are told elsewhere.
    """
    sizes = {each.raft: each for each in made if each.length or each.width}
    if not sizes or not fit.levels:
        return
    for axis in AXES:
        least = min(level.play(axis).least for level in fit.levels)
        lines = _lines(layout, sizes, axis)
        if not lines or least < 0:
            continue
        grown, raft = max(lines, key=lambda line: line[0])
        if grown > 0 and least - grown < -Fraction(TOLERANCE_MM):
            yield Finding(
                code="made-jam",
                severity="question",
                bed=bed.name,
                raft=raft.name,
                subject=axis,
                place=(
                    float(raft.x + raft.shape.length / 2),
                    float(raft.y + raft.shape.width / 2),
                ),
                amount_mm=float(least - grown),
                limit_mm=0.0,
            )


def _lines(
    layout: RaftLayout, sizes: Mapping[str, RaftMade], axis: Axis
) -> list[tuple[Fraction, RaftPlace]]:
    """How much longer each line of rafts came out, and its raft that outgrew its drawing most."""
    lines: defaultdict[int, list[tuple[Fraction, RaftPlace]]] = defaultdict(list)
    for raft in layout.rafts:
        made = sizes.get(raft.name)
        along = axis == "along"
        size = (made.length if along else made.width) if made is not None else None
        if size is not None:
            drawn = raft.shape.length if along else raft.shape.width
            lines[raft.row if along else raft.column].append((size.exact - drawn, raft))
    return [
        (sum((by for by, _ in line), Fraction(0)), max(line, key=lambda each: each[0])[1])
        for line in lines.values()
    ]


def as_built(
    rooms: tuple[Room, ...], bed: str, made: Mapping[tuple[str, str], RaftMade]
) -> tuple[Room, ...]:
    """Let rooms hold no more plants a raft than were counted on the rafts that lie there.

    Rafts of several crops are left as drawn, for nobody counted their sites apart.
    """
    if not made:
        return rooms
    times = Counter(raft for room in rooms for raft in room.rafts)

    def counted(room: Room) -> Iterator[int]:
        for raft in room.rafts:
            here = made.get((bed, raft))
            if here is not None and here.sites and times[raft] == 1:
                yield here.sites

    return tuple(
        replace(room, sites=min([room.sites, *counted(room)])) for room in rooms
    )  # fmt: skip
