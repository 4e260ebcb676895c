"""The best cut plan: fewest sheets or least cost, with the bound that proves it.

Quick ways come first and each step is left out when the plan is proved already: rows, then piece by
piece, then priced patterns with a bound from linear programming, then all patterns there are.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from geometry.cutting.columns import Pool, covering, generate, put
from geometry.cutting.greedy import starts
from geometry.cutting.grid import Grid, make_grid
from geometry.cutting.patterns import PatternSets, TooManyPatternsError, Work
from geometry.cutting.plain import plain_patterns
from geometry.cutting.plan import CutPlan
from geometry.cutting.solver import chosen_columns
from geometry.cutting.task import (
    Chosen,
    Needed,
    Pattern,
    Task,
    area_bound,
    cost_of,
    counts_of,
    make_task,
    plan_of,
    rounded_up,
)
from geometry.cutting.tidy import Tidier, leftover_worth
from geometry.model.sheet import Cutting, Sheet

_SHUFFLES: Final = 240
_MOST_PLACED: Final = 30_000
"""Pieces that shuffled orders place in all."""
_MOST_POOLED: Final = 600
"""Patterns beyond which only those of the best plans are chosen from."""
_MOST_PATTERNS: Final = 20_000
_MOST_SIZES: Final = 80
"""Sizes beyond which choosing among sheets filled piece by piece wins nothing and takes long."""
_MOST_KINDS: Final = 400
"""Kinds of sheet beyond which none of them is priced."""
_MOST_TIED: Final = 6
"""So many plans of equal cost are compared by what they leave over."""

Rank = tuple[int, Fraction, Fraction, int]
"""Rafts left out, cost to the aim, the other cost, area bought: less is better."""


def best_cut_plan(
    needed: Needed,
    sheets: Sequence[Sheet],
    cutting: Cutting,
    *,
    keep_going: Callable[[], bool] = lambda: True,
    told: Callable[[CutPlan], object] = lambda _plan: None,
) -> CutPlan:
    """Find the plan that leaves fewest rafts out, then costs least by the aim of the cutting.

    Of equal plans the one that wastes less and leaves larger offcuts is kept. The same rafts and
    sheets give the same plan: work is limited by counts, never by time. ``told`` hears of every
    better plan and bound. When ``keep_going`` says no, the best plan so far is returned; its
    ``searched`` is then false.
    """
    search = _Search(make_task(needed, sheets, cutting), cutting, keep_going, told)
    search.run()
    return search.plan


class _Search:
    """A search with its best plans so far."""

    def __init__(
        self,
        task: Task,
        cutting: Cutting,
        keep_going: Callable[[], bool],
        told: Callable[[CutPlan], object],
    ) -> None:
        self._task = task
        self._told = told
        self._keep_going = keep_going
        self._cutting = cutting
        self._tidier = Tidier(task, cutting)
        self._pool: Pool = {}
        self._rank: Rank | None = None
        self._tied: list[Chosen] = []
        self._bound = area_bound(task)
        self._fine: Fraction | None = None
        self._made: list[Grid] | None = None
        self._plans: dict[int, tuple[Chosen, CutPlan]] = {}
        self.plan = CutPlan()

    def run(self) -> None:
        """Go through the steps until the plan is proved or there is nothing left to try."""
        task = self._task
        chosen, missing = plain_patterns(task)
        self._offer(chosen)
        if missing:
            self._fine = _fine(task)
        self._tell()
        steps = (self._piece_by_piece, self._priced, self._all_patterns, self._shuffled)
        for step in steps:
            if self._is_proved or not self._keep_going():
                break
            step()
            self._tell()
        self.plan = self._finished()

    @property
    def _is_proved(self) -> bool:
        """Whether no plan leaves fewer rafts out, nor costs less."""
        if self._rank is None:
            return True
        missing, cost, *_ = self._rank
        return cost + (self._fine or 0) * missing <= self._bound

    def _piece_by_piece(self) -> None:
        self._offer_all(starts(self._task, 0))

    def _priced(self) -> None:
        grids = self._grids()
        if len(grids) < len(self._task.stocks):
            return
        generated = generate(self._task, grids, self._pool, self._keep_going, self._fine)
        self._raise(generated.bound)
        self._choose()

    def _all_patterns(self) -> None:
        work = Work(self._keep_going)
        try:
            sets = [
                (grid.stock, PatternSets(grid, self._task.demand, work)) for grid in self._grids()
            ]
        except TooManyPatternsError:
            return
        every: list[tuple[int, tuple[int, ...]]] = []
        for stock, each in sets:
            every += [(stock, counts) for counts in each.counts]
        if len(sets) < len(self._task.stocks) or len(every) > _MOST_PATTERNS:
            return
        problem = covering(self._task, dict.fromkeys(every, Pattern(0, ())), self._fine)
        choice = chosen_columns(problem, least=self._bound)
        if choice is None:
            return
        listed = dict(sets)
        taken = [
            (listed[stock].pattern(counts), times)
            for (stock, counts), times in zip(every, choice.times, strict=False)
            if times
        ]
        self._offer(taken)
        if choice.least:
            self._raise(
                sum((c * t for c, t in zip(problem.costs, choice.times, strict=True)), Fraction(0))
            )

    def _shuffled(self) -> None:
        shuffles = min(_SHUFFLES, _MOST_PLACED // max(1, sum(self._task.demand)))
        self._offer_all(starts(self._task, shuffles))
        has_few = len(self._task.sizes) <= _MOST_SIZES
        if has_few and not self._is_proved and self._keep_going():
            self._choose()

    def _grids(self) -> list[Grid]:
        if self._made is None:
            self._made = self._make_grids()
        return self._made

    def _make_grids(self) -> list[Grid]:
        if len(self._task.stocks) > _MOST_KINDS:
            return []
        made = (make_grid(k, stock, self._task.demand) for k, stock in enumerate(self._task.stocks))
        return [grid for grid in made if grid is not None]

    def _choose(self) -> None:
        """Choose the best sheets among the patterns known so far."""
        problem = covering(self._task, self._pool, self._fine)
        choice = chosen_columns(problem, least=self._bound)
        if choice is None:
            return
        patterns = list(self._pool.values())
        self._offer([(p, times) for p, times in zip(patterns, choice.times, strict=False) if times])
        if len(self._task.stocks) > 1 and self._rank is not None and self._rank[0] == 0:
            areas = [float(self._task.stocks[p.stock].area) for p in patterns]
            areas += [0.0] * (len(problem.costs) - len(patterns))
            most = self._rank[1]
            again = chosen_columns(
                problem, least=self._bound, most=most, second=areas, most_nodes=40
            )
            if again is not None:
                self._offer([(p, t) for p, t in zip(patterns, again.times, strict=False) if t])

    def _offer_all(self, found: Iterable[Chosen]) -> None:
        for chosen in found:
            self._offer(chosen)
            if self._is_proved or not self._keep_going():
                return

    def _offer(self, chosen: Chosen) -> None:
        """Keep a choice if it is the best so far, or as good."""
        rank = self._rank_of(chosen)
        if self._rank is None or rank[:2] <= self._rank[:2] or len(self._pool) < _MOST_POOLED:
            for pattern, _ in chosen:
                put(self._pool, pattern, len(self._task.sizes))
        if self._rank is None or rank < self._rank:
            self._rank = rank
            self._tied = [chosen]
        elif rank == self._rank and len(self._tied) < _MOST_TIED:
            self._tied.append(chosen)

    def _rank_of(self, chosen: Chosen) -> Rank:
        task = self._task
        held = counts_of(chosen, len(task.sizes))
        missing = sum(max(0, want - have) for want, have in zip(task.demand, held, strict=True))
        bought = [
            (task.stocks[p.stock], n) for p, n in chosen if not task.stocks[p.stock].sheet.offcut
        ]
        other = (
            Fraction(sum(times for _, times in bought))
            if task.aim == "cost"
            else sum(((s.sheet.price or Fraction(0)) * n for s, n in bought), Fraction(0))
        )
        area = sum(stock.area * times for stock, times in bought)
        return missing, cost_of(task, chosen), other, area

    def _raise(self, bound: Fraction) -> None:
        fine = self._fine or Fraction(0)
        self._bound = max(self._bound, rounded_up(self._task, bound, fine))

    def _tell(self) -> None:
        self.plan = self._plan(self._tied[0], searched=False)
        self._told(self.plan)

    def _finished(self) -> CutPlan:
        searched = self._is_proved or self._keep_going()
        plans = [self._plan(chosen, searched=searched) for chosen in self._tied]
        return max(plans, key=self._left_over) if len(plans) > 1 else plans[0]

    def _left_over(self, plan: CutPlan) -> tuple[Fraction, Fraction, int]:
        """Rate a plan by its largest offcut, by all of them, and then by how few sheets differ."""
        known: dict[object, tuple[Fraction, Fraction, int]] = {}
        best, total = Fraction(0), Fraction(0)
        for sheet in plan.sheets:
            key = id(sheet.sheet), tuple((p.x, p.y, p.length, p.width) for p in sheet.pieces)
            if key not in known:
                known[key] = leftover_worth(sheet, self._cutting)
            best = max(best, known[key][0])
            total += known[key][1] * sheet.copies
        return best, total, -len(plan.sheets)

    def _plan(self, chosen: Chosen, *, searched: bool) -> CutPlan:
        if id(chosen) not in self._plans:
            plan = plan_of(self._task, chosen, None, tidy=self._tidier)
            self._plans[id(chosen)] = chosen, plan
        is_whole = self._rank is not None and self._rank[0] == 0
        bound = self._bound if is_whole else None
        return replace(self._plans[id(chosen)][1], bound=bound, searched=searched)


def _fine(task: Task) -> Fraction:
    """Return what a raft left out must cost so that no sheet is spared for it."""
    wanted = sum(task.demand)
    return 1 + sum(
        (stock.cost * min(wanted, stock.limit or wanted) for stock in task.stocks), Fraction(0)
    )
