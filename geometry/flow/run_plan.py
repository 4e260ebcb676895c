"""What a run takes and what it gives: its stages, its batches by date, seeds and harvest.

A batch is reckoned from the last stage that is on rafts: so many plants are set there, backwards as
many are begun as the shares that go on call for, rounded up, and forwards what is left of them.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction
from math import ceil, floor
from typing import Final, Literal

from geometry.flow.batches import Batch, Season, grow_batches, sowing_days
from geometry.flow.batches import Pause as DaysOff
from geometry.flow.room import Demand, Room, missing
from geometry.flow.stages import (
    Stage,
    batches_at_once,
    packs,
    rafts_for,
    survival,
    whole_rafts_for,
)
from geometry.model.run import Run, RunStage

Rooms = Mapping[str, Sequence[Room]]
"""What each bed offers, by its name: one room for each crop that it is planted with."""

Lack = Literal["", "stages", "sites", "target", "room"]
"""What keeps a run from being reckoned: no stage; a raft whose plants nobody knows; no target and
no raft; beds that do not hold one raft of each stage at a time."""

_Span = tuple[date, date]

AHEAD_DAYS: Final = 371
"""So far beyond the first harvest a run without an end is reckoned: a year and some days."""
MOST_BATCHES: Final = 2_000
SOME_DAY: Final = date(2001, 1, 1)
"""Stands in for the first sowing where none is given: lengths of time do not depend on it."""


@dataclass(frozen=True, slots=True)
class StagePlan:
    """What one stage takes.

    ``plants`` of each batch begin it, on ``rafts`` rafts of ``sites`` plants; ``sites`` is None and
    ``rafts`` 0 where it is not on rafts. ``at_once`` batches are in it side by side. ``places`` are
    the raft places that takes, ``shared`` the same if neighbouring batches share rafts. ``rooms``
    are where the rafts may stand, the first one first.
    """

    stage: RunStage
    rooms: tuple[Room, ...]
    sites: int | None
    plants: int
    rafts: int
    at_once: int
    places: int
    shared: int

    @property
    def beds(self) -> tuple[str, ...]:
        """The beds on which it may stand."""
        return tuple(room.bed for room in self.rooms)

    def spare_rafts(self, percent: int) -> int:
        """How many rafts more there should be, to be washed and dried in turn."""
        return ceil(Fraction(self.places * percent, 100))


@dataclass(frozen=True, slots=True)
class DatedBatch:
    """One sowing: the first day of each stage, the days of picking, and what there is of it.

    ``picked`` is the first of ``picks``; ``harvest`` is what each of them is expected to bring.
    ``leaves`` is the day on which the last of it is gone and its rafts are free again. ``plants``
    begin each stage, ``rafts`` are what they stand on. A batch that ``failed`` brings nothing.
    """

    number: int
    begins: tuple[date, ...]
    picked: date
    leaves: date
    plants: tuple[int, ...]
    rafts: tuple[int, ...]
    harvest: int
    failed: bool = False
    later_picks: tuple[date, ...] = ()

    @property
    def picks(self) -> tuple[date, ...]:
        """The days of picking, more than one where a crop is cut and comes again."""
        return (self.picked, *self.later_picks)

    @property
    def sown(self) -> date:
        """The day of the sowing."""
        return self.begins[0]

    def ends(self, stage: int) -> date:
        """The day in whose morning the batch leaves a stage."""
        return self.begins[stage + 1] if stage + 1 < len(self.begins) else self.leaves


@dataclass(frozen=True, slots=True)
class RunPlan:
    """A run reckoned through.

    ``seeds`` and ``plugs`` are for each sowing, ``harvest`` is what each picking of a batch is
    expected to bring, not rounded. ``one_less`` is what a batch with one raft less would bring,
    None where batches are no whole rafts. ``batches`` is empty without a first day.
    """

    run: Run
    lack: Lack = ""
    stages: tuple[StagePlan, ...] = ()
    seeds: int = 0
    plugs: int = 0
    harvest: Fraction = Fraction(0)
    one_less: Fraction | None = None
    batches: tuple[DatedBatch, ...] = ()

    @property
    def heads(self) -> int:
        """How many plants each picking of a batch is expected to bring, in whole ones."""
        return floor(self.harvest)

    @property
    def per_week(self) -> Fraction:
        """What comes out a week once all batches are under way."""
        return self.harvest * self.run.picks * 7 / self.run.every

    @property
    def short(self) -> Fraction:
        """How much a batch falls short of its target; never below 0."""
        return max(Fraction(0), (self.run.target or 0) - self.harvest)

    @property
    def days(self) -> int:
        """How many days there are from the sowing to the harvest, slow times aside."""
        return sum(stage.days for stage in self.run.stages)

    @property
    def first_harvest(self) -> date | None:
        """The day of the first harvest."""
        return min((batch.picked for batch in self.batches if not batch.failed), default=None)

    @property
    def last_sowing(self) -> date | None:
        """The last day of sowing, None without an end."""
        return self.batches[-1].sown if self.run.until and self.batches else None

    @property
    def seed_packs(self) -> int | None:
        """How many packs of seed one sowing takes; None where no size of packs is known."""
        return None if self.run.seed_pack is None else packs(self.seeds, self.run.seed_pack)

    @property
    def plug_packs(self) -> int | None:
        """How many packs of plugs one sowing takes; None where no size of packs is known."""
        return None if self.run.plug_pack is None else packs(self.plugs, self.run.plug_pack)

    def by_week(self) -> dict[date, int]:
        """What is picked in each week, by its Monday; weeks between without a harvest have 0."""
        found: dict[date, int] = {}
        for batch in self.batches:
            for day in batch.picks:
                monday = week_of(day)
                found[monday] = found.get(monday, 0) + batch.harvest
        if not found:
            return {}
        first, last = min(found), max(found)
        weeks = (last - first).days // 7 + 1
        mondays = [first + timedelta(days=7 * week) for week in range(weeks)]
        return {monday: found.get(monday, 0) for monday in mondays}

    def demands(self, number: int) -> tuple[Demand, ...]:
        """Return what the batches want of the beds; ``number`` is that of the run."""
        if self.lack:
            return ()
        return tuple(_demands(self, self.batches, number))


def week_of(day: date) -> date:
    """Return the Monday of a day's week (ISO 8601: weeks begin on Monday)."""
    return day - timedelta(days=day.weekday())


def plan_runs(
    runs: Sequence[Run],
    rooms: Rooms,
    until: date | None = None,
    failed: Mapping[str, Mapping[date, date | None]] | None = None,
) -> tuple[RunPlan, ...]:
    """Reckon runs through, in their order, up to the sowings of the day ``until``.

    Runs without a target take what those with one leave free, in equal shares where several are
    after the same rafts. ``failed`` has by the name of a run the sowings that came to nothing, and
    the day on which they were given up.
    """
    lost = failed or {}
    span = _span(runs)
    found: dict[int, RunPlan] = {}
    taken: list[Demand] = []
    open_ones = [number for number, run in enumerate(runs) if run.target is None]
    for number in [*(n for n in range(len(runs)) if n not in open_ones), *open_ones]:
        run = runs[number]
        keys = _keys(run, rooms)
        later = sum(n > number and not keys.isdisjoint(_keys(runs[n], rooms)) for n in open_ones)
        made = _sized(run, rooms, taken, later, span)
        found[number] = replace(
            made, batches=_batches(run, made, until, lost.get(run.name, {})) if run.first else ()
        )
        taken += _steady(made, span, number)
    return tuple(found[number] for number in range(len(runs)))


def largest(run: Run, rooms: Rooms, others: Sequence[RunPlan] = ()) -> RunPlan:
    """Return a run with the largest batch that finds room beside the others, if there is one.

    Where the others do not all find room themselves, it takes nothing from them.
    """
    span = _span([run, *(other.run for other in others)])
    taken = [d for number, other in enumerate(others) for d in _steady(other, span, number)]
    return _sized(replace(run, target=None), rooms, taken, 0, span)


def crowded(plans: Sequence[RunPlan]) -> tuple[tuple[Demand, int], ...]:
    """Return what finds no room once all batches of all runs are under way, and in slow times.

    Runs without a first day are taken to begin with the others, those that are too large for
    their beds as small as can be.
    """
    span = _span([plan.run for plan in plans])
    tried = [replace(plan, lack="") if plan.lack == "room" else plan for plan in plans]
    return missing(d for number, plan in enumerate(tried) for d in _steady(plan, span, number))


def _rooms_of(stage: RunStage, crop: str, rooms: Rooms) -> tuple[Room, ...]:
    found = []
    for bed in dict.fromkeys((stage.bed, *stage.more_beds)) if stage.bed else ():
        own = rooms.get(bed, ())
        wanted = (stage.crop or crop).strip().casefold()
        alike = [room for room in own if room.crop.strip().casefold() == wanted]
        found += (alike or list(own))[:1]
    return tuple(found)


def _sized(run: Run, rooms: Rooms, taken: Sequence[Demand], later: int, span: _Span) -> RunPlan:
    """Find how large the batches are."""
    if not run.stages:
        return RunPlan(run, "stages")
    places = [_rooms_of(stage, run.crop, rooms) for stage in run.stages]
    sites = [
        stage.sites or (min(room.sites for room in own) or None) if own else None
        for stage, own in zip(run.stages, places, strict=True)
    ]
    if any(own and not each for own, each in zip(places, sites, strict=True)):
        return RunPlan(run, "sites")
    stages = [
        Stage(stage.name, stage.days, each if own else None, stage.survival)
        for stage, own, each in zip(run.stages, places, sites, strict=True)
    ]
    on_rafts = [at for at, stage in enumerate(stages) if stage.sites]
    at = on_rafts[-1] if on_rafts else 0
    if run.target is not None:
        return _of_size(run, stages, places, at, _wanted(run, stages[at:], run.target))
    if not on_rafts:
        return RunPlan(run, "target")
    made = _as_many_as_fit(run, stages, places, at, taken, later, span)
    if made.lack and run.slow_times:
        # What is short in slow times alone is told of those days, and does not end the run.
        always = replace(run, slow_times=())
        made = replace(_as_many_as_fit(always, stages, places, at, taken, later, span), run=run)
    return made


def _wanted(run: Run, stages: Sequence[Stage], target: int) -> int:
    """Return how many plants to set in the first of these stages."""
    if run.share_rafts or not stages[0].sites:
        return ceil(target / survival(stages))
    return whole_rafts_for(target, stages[0], stages[1:]) * stages[0].sites


def _of_size(
    run: Run, stages: Sequence[Stage], rooms: Sequence[tuple[Room, ...]], at: int, plants: int
) -> RunPlan:
    """Reckon with so many plants at the beginning of the stage ``at``."""
    begun = [
        ceil(plants / survival(stages[number:at]))
        if number <= at
        else floor(plants * survival(stages[at:number]))
        for number in range(len(stages))
    ]
    planned = tuple(
        _stage_plan(run, number, stage, own, count)
        for number, (stage, own, count) in enumerate(zip(stages, rooms, begun, strict=True))
    )
    last, share = stages[at], survival(stages[at:])
    whole = last.sites and not run.share_rafts and plants % last.sites == 0
    return RunPlan(
        run,
        "",
        planned,
        begun[0],
        begun[0],
        plants * share,
        (plants - last.sites) * share if whole and last.sites else None,
    )


def _days_ripe(run: Run) -> int:
    """Return how long a batch stands from its first picking until it is gone."""
    return run.stands + (run.picks - 1) * run.pick_every


def _stage_plan(
    run: Run, number: int, stage: Stage, rooms: tuple[Room, ...], plants: int
) -> StagePlan:
    days = stage.days + (_days_ripe(run) if number == len(run.stages) - 1 else 0)
    at_once = batches_at_once(days + (run.turn_days if stage.sites else 0), run.every)
    rafts = rafts_for(plants, stage)
    shared = rafts_for(plants * batches_at_once(days, run.every), stage)
    return StagePlan(
        run.stages[number],
        rooms,
        stage.sites,
        plants,
        rafts,
        at_once,
        shared if run.share_rafts else rafts * at_once,
        shared,
    )


def _as_many_as_fit(
    run: Run,
    stages: Sequence[Stage],
    rooms: Sequence[tuple[Room, ...]],
    at: int,
    taken: Sequence[Demand],
    later: int,
    span: _Span,
) -> RunPlan:
    """Find the largest batch by halving: more plants never need fewer rafts.

    So many ``later`` runs are to have as much of it.
    """
    step = 1 if run.share_rafts else stages[at].sites or 1
    allowed = sum(count for _, count in missing(taken))
    least, most = 0, sum(len(room.rafts) for room in rooms[at]) * (stages[at].sites or 1) // step
    while least < most:
        middle = (least + most + 1) // 2
        made = _of_size(run, stages, rooms, at, middle * step)
        left_out = missing((*taken, *_steady(made, span, len(taken)) * (1 + later)))
        if sum(count for _, count in left_out) > allowed:
            most = middle - 1
        else:
            least = middle
    if not least:
        return replace(_of_size(run, stages, rooms, at, step), lack="room")
    return _of_size(run, stages, rooms, at, least * step)


def _keys(run: Run, rooms: Rooms) -> set[tuple[str, str]]:
    return {room.key for stage in run.stages for room in _rooms_of(stage, run.crop, rooms)}


def _span(runs: Iterable[Run]) -> _Span:
    """Return the first day of all runs, and one by which each is in full swing, slow times too."""
    runs = tuple(runs)
    start = min((run.first for run in runs if run.first), default=SOME_DAY)
    end = start
    for run in runs:
        days = sum(stage.days for stage in run.stages) + _days_ripe(run) + run.turn_days
        slowest = max((slow.factor for slow in run.slow_times), default=Fraction(1))
        swings = [run.first or start, *(slow.last for slow in run.slow_times if run.first)]
        ahead = timedelta(days=2 * ceil(days * max(slowest, Fraction(1))) + 2 * run.every)
        end = max(end, max(swings) + ahead)
    return start, end


def _steady(made: RunPlan, span: _Span, number: int) -> tuple[Demand, ...]:
    """Return what a run wants of the beds within a span of days."""
    start, end = span
    run = made.run
    if made.lack:
        return ()
    if run.first is None:
        run = replace(run, first=start, pauses=(), slow_times=(), until=None)
    return tuple(_demands(replace(made, run=run), _batches(run, made, end, {}), number))


def _batches(
    run: Run, made: RunPlan, until: date | None, failed: Mapping[date, date | None]
) -> tuple[DatedBatch, ...]:
    if run.first is None or made.lack:
        return ()
    seasons = [
        Season(slow.first.toordinal(), slow.last.toordinal(), slow.factor)
        for slow in run.slow_times
    ]
    off = [DaysOff(pause.first.toordinal(), pause.last.toordinal()) for pause in run.pauses]
    end = until or run.until or run.first + timedelta(days=made.days + AHEAD_DAYS)
    first = run.first.toordinal()
    last = min(end.toordinal(), first + run.every * MOST_BATCHES)
    days = sowing_days(first, run.every, last, off)
    stages = [Stage(stage.name, stage.days) for stage in run.stages]
    grown = grow_batches(days, stages, 1, seasons)
    return tuple(
        _dated(run, made, batch, failed)
        for batch in grown
        if run.until is None or batch.picked <= run.until.toordinal()
    )


def _dated(run: Run, made: RunPlan, batch: Batch, failed: Mapping[date, date | None]) -> DatedBatch:
    begins = tuple(map(date.fromordinal, batch.begins))
    picked = date.fromordinal(batch.picked)
    later = [picked + timedelta(days=n * run.pick_every) for n in range(1, run.picks)]
    later = [day for day in later if run.until is None or day <= run.until]
    leaves = [picked, *later][-1] + timedelta(days=run.stands)
    has_failed = begins[0] in failed
    given_up = failed.get(begins[0]) or leaves
    return DatedBatch(
        batch.number,
        begins,
        picked,
        min(leaves, given_up) if has_failed else leaves,
        tuple(stage.plants for stage in made.stages),
        tuple(stage.rafts for stage in made.stages),
        0 if has_failed else made.heads,
        has_failed,
        tuple(later),
    )


def _demands(made: RunPlan, batches: Iterable[DatedBatch], number: int) -> Iterable[Demand]:
    batches = tuple(batches)
    for at, stage in enumerate(made.stages):
        if not stage.rooms or not stage.sites or not batches:
            continue
        if made.run.share_rafts:
            yield from _shared_demand(made, batches, number, at)
            continue
        for batch in batches:
            first, end = batch.begins[at], min(batch.ends(at), batch.leaves)
            if first < end:
                yield Demand(
                    first, end, made.run.turn_days, stage.rafts, stage.rooms, number, batch.number,
                    at, stage.plants, stage.sites,
                )  # fmt: skip


def _shared_demand(
    made: RunPlan, batches: Sequence[DatedBatch], number: int, at: int
) -> Iterable[Demand]:
    """Batches that share rafts keep them from the first to the last."""
    stage = made.stages[at]
    turns = sorted(
        (day, by)
        for batch in batches
        for day, by in ((batch.begins[at], stage.plants), (batch.ends(at), -stage.plants))
    )
    here = most = 0
    for _, by in turns:
        here += by
        most = max(most, here)
    first, end = turns[0][0], turns[-1][0]
    sites = stage.sites or 1
    yield Demand(
        first, end, made.run.turn_days, ceil(Fraction(most, sites)), stage.rooms, number, 0, at,
        most, sites,
    )  # fmt: skip
