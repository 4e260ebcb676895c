"""Rafts that are pushed along a bed in lanes: in at one end, out at the other."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import accumulate


@dataclass(frozen=True, slots=True)
class Passer:
    """Something numbered ``item`` that is in a lane from the day ``first`` to the day ``last``.

    It comes into account, cleaning included, until the day before ``free``.
    """

    item: int
    first: int
    last: int
    free: int


@dataclass(frozen=True, slots=True)
class Lane:
    """Places in a line, from where rafts come in to where they go out, and who passes through.

    ``passers`` are in the order in which they come in.
    """

    places: tuple[str, ...]
    passers: tuple[Passer, ...]
    _firsts: tuple[int, ...] = field(repr=False)
    _latest: tuple[int, ...] = field(repr=False)
    """The latest last day of all up to each, so that those long gone are passed over."""

    @classmethod
    def of(cls, places: Iterable[str], passers: Iterable[Passer]) -> "Lane":
        """Make a lane."""
        through = tuple(passers)
        latest = tuple(accumulate((each.last for each in through), max))
        return cls(tuple(places), through, tuple(each.first for each in through), latest)

    def on(self, day: int) -> dict[str, int]:
        """Return the item in each place on a day: no gap between them and the way out.

        They never overtake. One that is lifted out leaves a gap, and those behind close up.
        """
        come = self.passers[bisect_left(self._latest, day) : bisect_right(self._firsts, day)]
        here = [each.item for each in come if each.last >= day]
        return dict(zip(reversed(self.places), here, strict=False))


def push_along(passers: Iterable[Passer], lanes: Sequence[Sequence[str]]) -> tuple[Lane, ...]:
    """Send everything through the lanes, each through the emptiest one on its first day.

    ``lanes`` have the names of their places from the way in to the way out. On no day may more be
    in account than there are places in all lanes together; then there is always a lane with room.
    """
    inside: list[list[Passer]] = [[] for _ in lanes]
    passed: list[list[Passer]] = [[] for _ in lanes]
    for each in sorted(passers, key=lambda passer: (passer.first, passer.item)):
        for taken in inside:
            taken[:] = [other for other in taken if other.free > each.first]
        room = [len(lane) - len(taken) for lane, taken in zip(lanes, inside, strict=True)]
        best = max(range(len(lanes)), key=lambda n: (room[n], -n))
        inside[best].append(each)
        passed[best].append(each)
    return tuple(Lane.of(places, through) for places, through in zip(lanes, passed, strict=True))
