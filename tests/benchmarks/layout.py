"""Laying out rafts and holes, against numpy and shapely making and testing the same points.

python tests/benchmarks/layout.py
"""

import statistics
import time
from collections.abc import Callable

import numpy as np
import shapely

from geometry.model.bed import Bed, Split
from geometry.model.outlines import Rectangle
from geometry.model.planting import JOINT_RULES, JointRule, Planting
from geometry.model.project import Project
from geometry.plan import Plan, make_plan
from geometry.units import Length

RUNS = 5


def farm(ways: int, rafts: int, joints: JointRule) -> Project:
    """Raceways of rafts of 1.2 x 0.6 m, two side by side, about 75 holes each."""
    planting = Planting(
        Length.of(100), Length.of(30), pattern="best", edge_margin=Length.of(40), joints=joints
    )
    return Project(
        "farm",
        beds=tuple(
            Bed(
                f"way {number}",
                Rectangle(Length.of(rafts * 1205 + 16), Length.of(2 * 605 + 16)),
                Length.of(8),
                Length.of(5),
                rafts=Split(rafts, 2),
                planting=planting,
            )
            for number in range(1, ways + 1)
        ),
    )


def floor(plan: Plan) -> int:
    """Make the points of the same rafts with numpy and test each with shapely, raft by raft."""
    inside = 0
    for bed in plan.beds:
        for raft in bed.rafts:
            box = shapely.box(0, 0, float(raft.design.shape.length), float(raft.design.shape.width))
            shapely.prepare(box)
            x, y = np.meshgrid(np.arange(40, 1165, 100.0), np.arange(40, 565, 86.6))
            inside += int(shapely.contains_xy(box, x.ravel(), y.ravel()).sum())
    return inside


def median_ms(work: Callable[[], object]) -> float:
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        times.append((time.perf_counter() - start) * 1000)
    return statistics.median(times)


def main() -> None:
    for ways, rafts in ((1, 7), (1, 67), (50, 34)):
        for joints in JOINT_RULES:
            project = farm(ways, rafts, joints)
            plan = make_plan(project)
            ours = median_ms(lambda project=project: make_plan(project))
            least = median_ms(lambda plan=plan: floor(plan))
            print(
                f"{plan.plants:>8,} sites on {sum(len(b.rafts) for b in plan.beds):>5,} rafts, "
                f"{joints:<16} {ours:8.1f} ms, floor {least:7.1f} ms, ratio {ours / least:5.2f}"
            )


if __name__ == "__main__":
    main()
