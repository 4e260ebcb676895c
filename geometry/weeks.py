"""Which raft stands where in which week, and what is to be done on which day."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from math import ceil
from typing import Final, Literal

from geometry.flow.lanes import Lane, Passer, push_along
from geometry.flow.period import Period, Week
from geometry.flow.room import Demand, Room, Stand
from geometry.flow.run_plan import DatedBatch, RunPlan
from geometry.model.measure import bounds
from geometry.model.run import Run
from geometry.plan import BedPlan, Plan
from geometry.running import place_rafts, plan_runs

ORDER_DAYS: Final = 14
"""Seeds and plugs are ordered so long before they are sown (common practice, no source)."""

TaskKind = Literal[
    "order seeds", "order plugs", "pick", "push", "re-space", "wash", "thin", "set", "move", "sow"
]
"""In the order of work of a day: what makes room comes first."""

_DAY: Final = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Where:
    """Some rafts of a bed, by the names that their places have in the plan."""

    bed: str
    rafts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Task:
    """Something to do on a day.

    ``count`` is how many seeds, plants, packs or rafts; ``of`` is how many plants there were
    before, or how many pieces are in a pack. ``stage`` is the one that begins, or the one that
    ends where plants are thinned out, picked or washed away. ``where`` are the rafts that it is
    about and ``whence`` those from which plants come. What goes on for days ends on ``until``.
    Rafts that batches share are not told apart. ``lack`` rafts find no place.
    """

    day: date
    kind: TaskKind
    count: int
    run: str = ""
    batch: int = 0
    stage: str = ""
    of: int = 0
    where: tuple[Where, ...] = ()
    whence: tuple[Where, ...] = ()
    until: date | None = None
    lack: int = 0


@dataclass(frozen=True, slots=True)
class PlaceInWeek:
    """What goes on in one place of a bed in a week.

    ``now`` is there on the last day, since ``comes`` if it came within the week. ``gone`` was the
    last to leave, and was no longer there on the day ``goes``.
    """

    place: str
    now: Stand | None = None
    comes: date | None = None
    gone: Stand | None = None
    goes: date | None = None


@dataclass(frozen=True, slots=True)
class BedWeeks:
    """Who stands where in one bed.

    ``places`` are the names of its rafts in the plan, ``stands`` who comes there. With ``lanes``
    they are pushed along, and a stand is where its lane has it, not at the raft it names. Where
    rafts hold several crops side by side, ``crop`` is the one that is told of.
    """

    bed: BedPlan
    places: tuple[str, ...]
    stands: tuple[Stand, ...] = field(repr=False)
    lanes: tuple[Lane, ...] = field(default=(), repr=False)
    crop: str = ""

    @property
    def name(self) -> str:
        """The name of the bed."""
        return self.bed.bed.name

    def on(self, day: date) -> dict[str, Stand]:
        """Return who stands in which place on a day."""
        if not self.lanes:
            return {
                each.raft: each for each in self.stands if each.demand.first <= day <= each.last
            }
        at = day.toordinal()
        return {
            place: self.stands[item] for lane in self.lanes for place, item in lane.on(at).items()
        }

    def is_used(self, week: Week) -> bool:
        """Tell whether any raft stands here in a week, or leaves on its first day."""
        return any(
            each.demand.first <= week.last and each.demand.end >= week.first for each in self.stands
        )

    def taken(self, days: Sequence[date]) -> Iterator[int]:
        """Tell for each of the days how many places are taken."""
        turns: Counter[date] = Counter()
        for each in self.stands:
            turns[each.demand.first] += 1
            turns[each.demand.end] -= 1
        changes, here = sorted(turns.items(), reverse=True), 0
        for day in days:
            while changes and changes[-1][0] <= day:
                here += changes.pop()[1]
            yield here

    def pushed(self, day: date) -> tuple[tuple[str, str], ...]:
        """Return from which place to which rafts are pushed on a day."""
        if not self.lanes:
            return ()
        before = {id(each): place for place, each in self.on(day - _DAY).items()}
        return tuple(
            (before[id(each)], place)
            for place, each in self.on(day).items()
            if before.get(id(each), place) != place
        )

    def in_week(self, week: Week) -> tuple[PlaceInWeek, ...]:
        """Return what goes on in each place in a week."""
        before = self.on(week.first - _DAY)
        found = {place: PlaceInWeek(place, before.get(place)) for place in self.places}
        for day in week.days:
            here = self.on(day)
            for place in before.keys() | here.keys():
                old, new = before.get(place), here.get(place)
                if old is not new:
                    gone, goes = (old, day) if old else (found[place].gone, found[place].goes)
                    found[place] = PlaceInWeek(place, new, day if new else None, gone, goes)
            before = here
        return tuple(found.values())


@dataclass(frozen=True, slots=True)
class Weeks:
    """All weeks of a period in order, the beds that have rafts of a run, and the tasks.

    ``left_out`` are rafts that find no place in these weeks: of which batch, and how many.
    """

    runs: tuple[RunPlan, ...] = ()
    weeks: tuple[Week, ...] = ()
    beds: tuple[BedWeeks, ...] = ()
    tasks: tuple[Task, ...] = ()
    left_out: tuple[tuple[Demand, int], ...] = ()

    def tasks_in(self, week: Week) -> tuple[Task, ...]:
        """Return the tasks of a week, day by day in the order of work."""
        return tuple(task for task in self.tasks if week.first <= task.day <= week.last)


def first_day(runs: Sequence[Run]) -> date | None:
    """Return the day of the first task of all; None where no run says when it is first sown."""
    return min(
        (
            run.first - timedelta(days=ORDER_DAYS if run.seed_pack or run.plug_pack else 0)
            for run in runs
            if run.first is not None
        ),
        default=None,
    )


def plan_weeks(plan: Plan, period: Period | None = None) -> Weeks:
    """Find out who stands where, and what is to be done, in the weeks of a period.

    Without a run that says when it is first sown there are no weeks.
    """
    period = period or Period()
    earliest = first_day(plan.project.runs)
    if earliest is None:
        return Weeks()
    begin = Week.of(period.first or earliest)
    weeks = tuple(begin.after(n) for n in range(period.count))
    first, last = weeks[0].first, weeks[-1].last
    runs = plan_runs(plan, last + timedelta(days=ORDER_DAYS))
    standing = place_rafts(runs)
    beds = tuple(_beds(plan, standing.stands))
    tasks = [task for task in _tasks(runs, beds) if first <= task.day <= last]
    tasks += [task for bed in beds for task in _pushes(bed, weeks)]
    kinds = list(TaskKind.__args__)  # type: ignore[attr-defined]  # a Literal has them
    tasks.sort(key=lambda task: (task.day, kinds.index(task.kind)))
    left_out = tuple(
        (demand, count)
        for demand, count in standing.left_out
        if demand.first <= last and demand.end > first
    )
    return Weeks(runs, weeks, beds, tuple(tasks), left_out)


def _beds(plan: Plan, stands: Sequence[Stand]) -> Iterator[BedWeeks]:
    """Put the rooms of a bed together, unless one raft holds plants of several."""
    rooms: defaultdict[str, dict[str, tuple[Room, list[Stand]]]] = defaultdict(dict)
    for each in stands:
        room = next(room for room in each.demand.rooms if room.bed == each.bed)
        rooms[each.bed].setdefault(room.crop, (room, []))[1].append(each)
    for bed in plan.beds:
        groups: list[list[tuple[Room, list[Stand]]]] = []
        for room, own in rooms.get(bed.bed.name, {}).values():
            apart = (
                group
                for group in groups
                if all(set(room.rafts).isdisjoint(other.rafts) for other, _ in group)
            )
            group = next(apart, None)
            if group is None:
                groups.append(group := [])
            group.append((room, own))
        for group in groups:
            yield _bed_weeks(bed, group, group[0][0].crop if len(groups) > 1 else "")


def _bed_weeks(bed: BedPlan, group: Sequence[tuple[Room, Sequence[Stand]]], crop: str) -> BedWeeks:
    lanes: list[Lane] = []
    stands: list[Stand] = []
    for room, own in group:
        if bed.bed.pushed != "no":
            passers = [
                Passer(
                    len(stands) + n,
                    each.demand.first.toordinal(),
                    each.last.toordinal(),
                    each.demand.back.toordinal(),
                )
                for n, each in enumerate(own)
            ]
            names = frozenset(room.rafts)
            ways = [[name for name in lane if name in names] for lane in lanes_of(bed)]
            lanes += push_along(passers, [way for way in ways if way])
        stands += own
    places = tuple(raft.name for raft in bed.rafts)
    return BedWeeks(bed, places, tuple(stands), tuple(lanes), crop)


def lanes_of(bed: BedPlan) -> tuple[tuple[str, ...], ...]:
    """Return the rafts of a bed in lanes along its longer side, from the way in to the way out."""
    left, bottom, right, top = bounds(bed.layout.outline)
    is_along = right - left >= top - bottom
    lanes: defaultdict[int, list[tuple[int, str]]] = defaultdict(list)
    for raft in bed.layout.rafts:
        lane, at = (raft.row, raft.column) if is_along else (raft.column, raft.row)
        lanes[lane].append((at, raft.name))
    to_near = bed.bed.pushed == "near"
    return tuple(
        tuple(name for _, name in sorted(lanes[lane], reverse=to_near)) for lane in sorted(lanes)
    )


def _pushes(bed: BedWeeks, weeks: Sequence[Week]) -> Iterator[Task]:
    for week in weeks if bed.lanes else ():
        for day in week.days:
            if found := bed.pushed(day):
                rafts = tuple(new for _, new in found)
                yield Task(day, "push", len(found), where=(Where(bed.name, rafts),))


class _Places:
    """Where the rafts of each batch are, day by day."""

    def __init__(self, beds: Sequence[BedWeeks]) -> None:
        self._beds = beds
        self._own: dict[tuple[int, int, int], dict[int, list[int]]] = {}
        self._days: dict[tuple[int, date], dict[int, str]] = {}
        for number, bed in enumerate(beds):
            for item, each in enumerate(bed.stands):
                key = (each.demand.run, each.demand.batch, each.demand.stage)
                self._own.setdefault(key, {}).setdefault(number, []).append(item)

    def of(self, run: int, batch: int, stage: int, day: date) -> tuple[Where, ...]:
        """Return where the rafts of a batch in a stage are on a day."""
        own = self._own.get((run, batch, stage), {})
        return tuple(
            Where(self._beds[bed].name, self._names(bed, items, day)) for bed, items in own.items()
        )

    def _names(self, number: int, items: Sequence[int], day: date) -> tuple[str, ...]:
        bed = self._beds[number]
        if not bed.lanes:
            return tuple(bed.stands[item].raft for item in items)
        if (number, day) not in self._days:
            at = day.toordinal()
            self._days[number, day] = {
                item: place for lane in bed.lanes for place, item in lane.on(at).items()
            }
        there = self._days[number, day]
        return tuple(there[item] for item in items if item in there)


def _tasks(runs: Sequence[RunPlan], beds: Sequence[BedWeeks]) -> Iterator[Task]:
    places = _Places(beds)
    for number, made in enumerate(runs):
        yield from _orders(made)
        for batch in made.batches:
            for task in _batch_tasks(made, number, batch, places):
                if not batch.failed or task.day < batch.leaves or task.kind == "wash":
                    yield task


def _orders(made: RunPlan) -> Iterator[Task]:
    """Order packs in time for the batch that needs one more than there are."""
    packs: tuple[tuple[TaskKind, int | None, int], ...] = (
        ("order seeds", made.run.seed_pack, made.seeds),
        ("order plugs", made.run.plug_pack, made.plugs),
    )
    for kind, pack, each in packs:
        if not pack:
            continue
        there = needed = 0
        for batch in made.batches:
            needed += each
            more = ceil((needed - there) / pack)
            if more > 0:
                there += more * pack
                day = batch.sown - timedelta(days=ORDER_DAYS)
                yield Task(day, kind, more, made.run.name, batch.number, of=pack)


def _batch_tasks(made: RunPlan, run: int, batch: DatedBatch, places: _Places) -> Iterator[Task]:
    stages = made.stages
    shared = 0 if made.run.share_rafts else batch.number

    def where(stage: int, day: date) -> tuple[Where, ...]:
        return places.of(run, shared, stage, day) if stages[stage].sites else ()

    def task(day: date, kind: TaskKind, count: int, stage: int, **more: object) -> Task:
        name = stages[stage].stage.name
        return Task(day, kind, count, made.run.name, batch.number, name, **more)  # type: ignore[arg-type]  # as the callers below have them

    for at, (stage, begins) in enumerate(zip(stages, batch.begins, strict=True)):
        count = batch.plants[at]
        if not count:
            return
        there = where(at, begins)
        here = sum(len(each.rafts) for each in there)
        lack = stage.rafts - here if stage.sites and shared else 0
        if at == 0:
            yield task(begins, "sow", count, at, where=there, lack=lack)
        else:
            before = batch.plants[at - 1]
            if before > count and not stages[at - 1].sites:
                yield task(begins, "thin", count, at - 1, of=before)
            whence = where(at - 1, begins - _DAY)
            kind: TaskKind = (
                "move" if not stage.sites else "re-space" if stages[at - 1].sites else "set"
            )
            yield task(begins, kind, count, at, of=before, where=there, whence=whence, lack=lack)
        ends = batch.ends(at)
        last = min(ends, batch.leaves) - _DAY
        if stage.sites and shared and (left := where(at, last)):
            rafts = sum(len(each.rafts) for each in left)
            yield task(last + _DAY, "wash", rafts, at, where=left)
    if batch.harvest:
        at, last = len(stages) - 1, batch.picks[-1]
        for day in batch.picks:
            stands = day == last and batch.leaves > last
            yield task(
                day, "pick", batch.harvest, at,
                of=batch.plants[at], whence=where(at, day - _DAY),
                until=batch.leaves - _DAY if stands else None,
            )  # fmt: skip
