"""The sample projects, each planned once; plans are frozen."""

from functools import cache
from pathlib import Path

from geometry.drawing.paper import COMMON, PageSetup, Paper
from geometry.drawing.template import lay_template
from geometry.plan import Plan, make_plan
from layout_gui.output.pdf import render_pdf
from layout_gui.project.file import load

FOLDER = Path(__file__).parents[2] / "sample_projects"
NAMES = sorted(path.name.removesuffix(".raft.json") for path in FOLDER.glob("*.raft.json"))


@cache
def plan_of(name: str) -> Plan:
    return make_plan(load(FOLDER / f"{name}.raft.json"))


@cache
def template_of(name: str, paper: Paper = COMMON, across: float = 1.0, along: float = 1.0) -> bytes:
    setup = PageSetup(paper, across=across, along=along)
    return render_pdf(lay_template(plan_of(name), setup).pages(), title=name)
