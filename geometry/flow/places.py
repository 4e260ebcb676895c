"""Which raft stands where on which day, and that no two ever stand in one place."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush


@dataclass(frozen=True, slots=True)
class Stay:
    """A raft needs a place from the day ``first`` until the day ``last``, both included.

    ``batch`` counts the batches, ``stage`` the stages of each, ``raft`` the rafts of both.
    """

    batch: int
    stage: int
    raft: int
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Placing:
    """Where each stay is, by the number of its place; ``left_out`` found none."""

    places: tuple[tuple[Stay, int], ...]
    left_out: tuple[Stay, ...] = ()

    def on(self, day: int) -> dict[int, Stay]:
        """Return who stands in which place on a day."""
        return {place: stay for stay, place in self.places if stay.first <= day <= stay.last}


def most_at_once(stays: Iterable[Stay], *, free_days: int = 0) -> int:
    """Return how many places are taken on the fullest day: fewer would not do, more need not be.

    After each stay a place is kept free for ``free_days`` days, to be cleaned.
    """
    turns = sorted(
        (day, by)
        for stay in stays
        for day, by in ((stay.first, 1), (stay.last + free_days + 1, -1))
    )
    taken = most = 0
    for _, by in turns:
        taken += by
        most = max(most, taken)
    return most


def find_places(stays: Sequence[Stay], count: int, *, free_days: int = 0) -> Placing:
    """Give every stay a place of its own, the lowest that is free on its first day.

    Stays are taken in the order of their first days. As each takes one that is free, ``count``
    places are enough if and only if no day needs more. When they are not, the stays that come too
    late are left out, those of later batches first.
    """
    free = list(range(count))
    heapify(free)
    leaving: list[tuple[int, int]] = []
    placed: list[tuple[Stay, int]] = []
    left_out: list[Stay] = []
    for stay in sorted(stays, key=lambda s: (s.first, s.batch, s.stage, s.raft)):
        while leaving and leaving[0][0] <= stay.first:
            heappush(free, heappop(leaving)[1])
        if not free:
            left_out.append(stay)
            continue
        place = heappop(free)
        heappush(leaving, (stay.last + free_days + 1, place))
        placed.append((stay, place))
    return Placing(tuple(placed), tuple(left_out))
