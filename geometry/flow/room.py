"""Where the rafts of all runs stand, day by day, and which of them find no place."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from heapq import heappop, heappush
from itertools import count


@dataclass(frozen=True, slots=True)
class Room:
    """What a bed offers a crop: the rafts that have holes for it, by name.

    ``sites`` is how many plants of it each holds at least, 0 in a bed without holes. ``crop`` is
    empty where the bed has but one planting without a crop.
    """

    bed: str
    crop: str
    rafts: tuple[str, ...]
    sites: int

    @property
    def key(self) -> tuple[str, str]:
        """Bed and crop, by which rooms are told apart."""
        return self.bed, self.crop


@dataclass(frozen=True, slots=True)
class Demand:
    """Rafts of one batch in one stage, from the day ``first`` to the day before ``end``.

    Afterwards their places stay free for ``turn_days``. They stand in the first of the ``rooms``
    that has places left, and go on into the next. ``batch`` is 0 where all batches of the run
    share these rafts. ``plants`` are on them altogether, up to ``sites`` on each.
    """

    first: date
    end: date
    turn_days: int
    rafts: int
    rooms: tuple[Room, ...]
    run: int
    batch: int
    stage: int
    plants: int
    sites: int

    @property
    def back(self) -> date:
        """The day on which the places are free for others."""
        return self.end + timedelta(days=self.turn_days)


@dataclass(frozen=True, slots=True)
class Stand:
    """One raft of a demand in its place: where the raft so named of a bed floats in its plan."""

    demand: Demand
    bed: str
    raft: str
    plants: int

    @property
    def last(self) -> date:
        """The last day on which it is there."""
        return self.demand.end - timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Standing:
    """Where each raft is; ``left_out`` are demands with how many of their rafts find no place."""

    stands: tuple[Stand, ...] = ()
    left_out: tuple[tuple[Demand, int], ...] = ()

    def on(self, day: date) -> dict[tuple[str, str], Stand]:
        """Return what stands where on a day, by bed and raft."""
        return {
            (each.bed, each.raft): each
            for each in self.stands
            if each.demand.first <= day < each.demand.end
        }


_Key = tuple[str, str]


def _in_order(demands: Iterable[Demand]) -> list[Demand]:
    return sorted(demands, key=lambda each: (each.first, each.run, each.batch, each.stage))


def stand(demands: Iterable[Demand]) -> Standing:
    """Give every raft a place of its own.

    They come in the order of their first days and take the first place that is free. Where all
    that ask for a room ask for the same rooms, that is as many as can ever stand: one is left out
    only if a day needs more places than there are.
    """
    free: dict[_Key, list[int]] = {}
    leaving: list[tuple[date, int, _Key, int]] = []
    stands: list[Stand] = []
    left_out: list[tuple[Demand, int]] = []
    for demand in _in_order(demands):
        while leaving and leaving[0][0] <= demand.first:
            _, _, key, place = heappop(leaving)
            heappush(free[key], place)
        raft = 0
        for room in demand.rooms:
            places = free.setdefault(room.key, list(range(len(room.rafts))))
            while places and raft < demand.rafts:
                place = heappop(places)
                heappush(leaving, (demand.back, len(stands), room.key, place))
                plants = min(demand.sites, demand.plants - raft * demand.sites)
                stands.append(Stand(demand, room.bed, room.rafts[place], plants))
                raft += 1
        if raft < demand.rafts:
            left_out.append((demand, demand.rafts - raft))
    return Standing(tuple(stands), tuple(left_out))


@dataclass(frozen=True, slots=True)
class Taken:
    """What ``stand`` comes to, without who stands where.

    ``left_out`` is as there; ``most`` has for each bed how many of its places are taken on its
    fullest day, those that stay free to be cleaned included.
    """

    left_out: tuple[tuple[Demand, int], ...]
    most: Mapping[str, int]


def take(demands: Iterable[Demand]) -> Taken:
    """Count what ``stand`` would do: soon done for the largest farm."""
    free: dict[_Key, int] = {}
    here: Counter[str] = Counter()
    most: dict[str, int] = {}
    leaving: list[tuple[date, int, _Key, int]] = []
    left_out: list[tuple[Demand, int]] = []
    turn = count()
    for demand in _in_order(demands):
        while leaving and leaving[0][0] <= demand.first:
            _, _, key, rafts = heappop(leaving)
            free[key] += rafts
            here[key[0]] -= rafts
        wanted = demand.rafts
        for room in demand.rooms:
            there = free.setdefault(room.key, len(room.rafts))
            if taken := min(there, wanted):
                free[room.key] -= taken
                here[room.bed] += taken
                most[room.bed] = max(most.get(room.bed, 0), here[room.bed])
                wanted -= taken
                heappush(leaving, (demand.back, next(turn), room.key, taken))
        if wanted:
            left_out.append((demand, wanted))
    return Taken(tuple(left_out), most)


def missing(demands: Iterable[Demand]) -> tuple[tuple[Demand, int], ...]:
    """Return what ``stand`` would leave out."""
    return take(demands).left_out
