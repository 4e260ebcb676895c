"""The cut plan against published and proved cutting cases; each names its source in the data.

One-sheet optima: J. E. Beasley, J. Oper. Res. Soc. 36 (1985). Fewest sheets: R. Macedo, C. Alves,
J. M. Valerio de Carvalho, Computers & Operations Research 37 (2010), and own instances proved by
listing all patterns. Many sizes once each: B. E. Bengtsson, Computer J. 25 (1982), with the best
values published for packing without straight cuts, which a plan with straight cuts cannot beat.
"""

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from geometry.cutting.best import best_cut_plan
from geometry.cutting.grid import make_grid
from geometry.cutting.task import make_task
from geometry.model.sheet import Cutting
from tests.geometry.cutting.workshop import board, inspect_all, length

CASES = json.loads((Path(__file__).parent / "data" / "cutting-cases.json").read_text("utf-8"))
ANY_NUMBER = 1000


def _by_name(cases: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {case["name"]: case for case in cases}


ONE_SHEET, FEWEST = _by_name(CASES["one_sheet"]), _by_name(CASES["fewest_sheets"])


@pytest.mark.parametrize("name", ONE_SHEET)
@pytest.mark.parametrize("turn", [False, True])
def test_one_sheet_yields_the_published_area(name: str, turn: bool) -> None:
    case = ONE_SHEET[name]
    needed = [
        (f"{number}", Fraction(long), Fraction(wide), ANY_NUMBER)
        for number, (long, wide) in enumerate(case["pieces"])
    ]
    task = make_task(needed, [board(*case["sheet"])], Cutting(turn=turn))
    grid = make_grid(0, task.stocks[0], task.demand)
    assert grid is not None

    worth = [size.area for size in task.sizes]
    value = grid.most(worth)
    pattern = grid.pattern(worth, value)

    optimum = case["optimal_area_rotation" if turn else "optimal_area_fixed_orientation"]
    assert value[-1, -1] == optimum
    assert sum(piece.lie.along * piece.lie.across for piece in pattern.pieces) == optimum


@pytest.mark.parametrize("name", FEWEST)
def test_no_plan_needs_fewer_sheets(name: str) -> None:
    case = FEWEST[name]
    needed = [
        (f"{number}", Fraction(piece["w"]), Fraction(piece["h"]), piece["qty"])
        for number, piece in enumerate(case["pieces"])
    ]
    sheets, cutting = [board(*case["sheet"])], Cutting(length(case["kerf"]))

    plan = best_cut_plan(needed, sheets, cutting)

    assert plan.sheet_count == case.get("optimal_sheets", case.get("best_known_free_packing"))
    assert plan.proved
    inspect_all(plan, needed, sheets, cutting)
