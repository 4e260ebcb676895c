"""The shopping list as a table, read back with the standard library."""

import csv
import io
from dataclasses import replace
from pathlib import Path

from geometry.model.supplies import Packed, Supplies
from geometry.plan import make_plan
from layout_gui.output.export import export
from layout_gui.output.shopping_table import HEADER, write_shopping
from layout_gui.project.file import load

BENCH = Path(__file__).parents[3] / "sample_projects" / "school-bench.raft.json"


def _rows(supplies: Supplies, sheet: str = "") -> list[dict[str, str]]:
    project = replace(load(BENCH), supplies=supplies)
    if sheet:
        project = replace(project, sheets=(replace(project.sheets[0], name=sheet),))
    stream = io.StringIO()
    write_shopping(make_plan(project), stream)
    return list(csv.DictReader(io.StringIO(stream.getvalue())))


def test_each_thing_is_a_row_with_its_measure() -> None:
    rows = {row["kind"]: row for row in _rows(Supplies(spares=0, pots=Packed(10)))}

    assert set(next(iter(rows.values()))) == set(HEADER)
    assert rows["pot"]["needed"] == "36"
    assert (rows["pot"]["packs"], rows["pot"]["to_buy"]) == ("4", "40")
    assert rows["pot"]["size_mm"] == "50"
    assert (rows["strip"]["measure"], rows["paint"]["measure"]) == ("mm", "litres")
    assert rows["strip"]["needed"] == str(5880 + 3 * 560)
    assert rows["saw"]["on_hand"] == "no"


def test_a_name_is_no_formula() -> None:
    assert _rows(Supplies(), "=1+1")[0]["name"] == "'=1+1"


def test_the_table_is_written_when_asked_for_and_only_then(tmp_path: Path) -> None:
    plan = make_plan(load(BENCH))

    (path,) = export(plan, tmp_path, frozenset({"shopping.csv"}))

    assert path.read_text(encoding="utf-8").startswith("kind,name,size_mm,measure,needed")
