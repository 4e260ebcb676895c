"""The best cut plan against the plain one, in sheets and in time.

python tests/benchmarks/cutting.py
"""

import statistics
import time
from collections.abc import Callable
from fractions import Fraction

from geometry.cutting.best import best_cut_plan
from geometry.cutting.plain import plain_cut_plan
from geometry.cutting.plan import CutPlan
from geometry.cutting.task import Needed
from geometry.model.sheet import Cutting, Sheet
from geometry.units import Length

RUNS = 3
SAW = Cutting(Length.of(3))
BOARDS = [(2440, 1220), (2400, 600), (1250, 600)]

# Four sizes of rafts, fifteen of each: length and width from these, by a fixed rule.
SIDES = [(845, 410), (640, 325), (560, 480), (905, 275), (470, 395), (735, 545), (390, 290)]


def sixty(number: int) -> Needed:
    picked = [SIDES[(number * 3 + step * (number % 3 + 1)) % len(SIDES)] for step in range(4)]
    return [
        (f"{size}", Fraction(long + 5 * number), Fraction(wide + 5 * (number % 4)), 15)
        for size, (long, wide) in enumerate(picked)
    ]


def farm() -> Needed:
    return [(f"{number}", Fraction(1205), Fraction(602), 1) for number in range(3400)]


def timed(work: Callable[[], CutPlan]) -> tuple[CutPlan, float]:
    """Run some work a few times; return its plan and the median of the processor time in ms."""
    times, plan = [], CutPlan()
    for _ in range(RUNS):
        start = time.process_time()
        plan = work()
        times.append((time.process_time() - start) * 1000)
    return plan, statistics.median(times)


def main() -> None:
    import scipy.optimize  # noqa: F401, PLC0415 - its loading is no part of the search

    print("rafts              plain            best             bound   time over the plain plan")
    for number in range(9):
        long, wide = BOARDS[number % 3]
        show(
            f"60 of 4 sizes, {long}", sixty(number), (Sheet("b", Length.of(long), Length.of(wide)),)
        )
    show("3400 of one size", farm(), (Sheet("b", Length.of(2440), Length.of(1220)),))


def show(name: str, needed: Needed, sheets: tuple[Sheet, ...]) -> None:
    plain, floor = timed(lambda: plain_cut_plan(needed, sheets, SAW))
    best, took = timed(lambda: best_cut_plan(needed, sheets, SAW))
    print(
        f"{name:22} {plain.sheet_count:4} {floor:8.1f} ms {best.sheet_count:4} {took:8.1f} ms"
        f"   {best.bound} {'proved' if best.proved else 'open'}   {took / floor:.0f} times"
    )


if __name__ == "__main__":
    main()
