"""The one door to the solver of linear and integer programs, which is loaded when first used."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

import numpy as np

from geometry.cutting.task import Counts

MOST_NODES: Final = 250
"""Branches after which an integer program is left with the best found so far."""


_MOST_ENTRIES: Final = 1_000_000
"""Rows times columns times branches: what an integer program may take in all."""


@dataclass(frozen=True, slots=True)
class Covering:
    """Choose columns so that their counts reach the demand, at the least cost.

    Each column yields ``counts`` and costs ``costs``; it takes one of the sheets of its stock,
    of which there are ``limits`` (None: as many as needed).
    """

    counts: Sequence[Counts]
    costs: Sequence[Fraction]
    stocks: Sequence[int]
    demand: Counts
    limits: Sequence[int | None]


@dataclass(frozen=True, slots=True)
class Prices:
    """What the linear program says that a piece of each size and a sheet of each stock is worth.

    ``amounts`` says how much of each column it takes.
    """

    pieces: tuple[float, ...]
    sheets: tuple[float, ...]
    amounts: tuple[float, ...]


def relaxed(problem: Covering) -> Prices | None:
    """Solve a covering in which sheets may be split; None when the demand cannot be reached."""
    from scipy.optimize import linprog  # noqa: PLC0415  loaded when first used

    rows, right = _rows(problem)
    result: Any = linprog(
        [float(cost) for cost in problem.costs],
        A_ub=rows,
        b_ub=right,
        bounds=(0, None),
        method="highs",
    )
    if result.status != 0:
        return None
    marginals = [-float(value) for value in result.ineqlin.marginals]
    sizes = len(problem.demand)
    sheets = [0.0] * len(problem.limits)
    limited = [number for number, limit in enumerate(problem.limits) if limit is not None]
    for number, value in zip(limited, marginals[sizes:], strict=True):
        sheets[number] = max(0.0, value)
    return Prices(
        tuple(max(0.0, value) for value in marginals[:sizes]),
        tuple(sheets),
        tuple(float(value) for value in result.x),
    )


@dataclass(frozen=True, slots=True)
class Choice:
    """How often each column is taken; ``least`` says that nothing cheaper exists among them."""

    times: tuple[int, ...]
    least: bool


def chosen_columns(
    problem: Covering,
    *,
    least: Fraction,
    most: Fraction | None = None,
    second: Sequence[float] | None = None,
    most_nodes: int = MOST_NODES,
) -> Choice | None:
    """Solve a covering in whole sheets; None when nothing was found.

    ``least`` is a proved bound of the cost, which saves the solver the search below it. With
    ``second`` the cost is at most ``most`` and this other cost is made as low as can be.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415  see above

    rows, right = _rows(problem)
    most_nodes = min(most_nodes, 1 + _MOST_ENTRIES // (rows.shape[0] * rows.shape[1]))
    costs = np.array([float(cost) for cost in problem.costs])
    slack = 1e-6 * float(min((cost for cost in problem.costs if cost), default=Fraction(1)))
    high = np.inf if most is None else float(most) + slack
    result: Any = milp(
        costs if second is None else np.array(second),
        integrality=np.ones(len(costs), dtype=np.int64),
        bounds=Bounds(0, np.inf),
        constraints=[
            LinearConstraint(rows, -np.inf, right),
            LinearConstraint(costs, float(least) - slack, high),
        ],
        options={"node_limit": most_nodes, "mip_rel_gap": 0.0, "disp": False},
    )
    if result.x is None:
        return None
    times = tuple(round(value) for value in result.x)
    return Choice(times, least=result.status == 0)


def _rows(problem: Covering) -> tuple[Any, list[float]]:
    """Write a covering as rows of "at most": pieces first, then the sheets that are limited."""
    from scipy.sparse import csr_matrix  # noqa: PLC0415  loaded when first used

    counts = -np.array(problem.counts, dtype=float).T
    limited = [
        [float(stock == number) for stock in problem.stocks]
        for number, limit in enumerate(problem.limits)
        if limit is not None
    ]
    right = [-float(count) for count in problem.demand]
    right += [float(limit) for limit in problem.limits if limit is not None]
    whole = np.vstack([counts, np.array(limited)]) if limited else counts
    return csr_matrix(whole), right
