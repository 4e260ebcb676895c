"""The pages, the cut sheet and the summary of one version carry one code; of another, another."""

import json
import re
from dataclasses import replace
from pathlib import Path

from pypdf import PdfReader

from geometry.model.project import Details
from geometry.plan import Plan
from layout_gui.output.export import export
from tests.builders import make_bed_plan, make_plan

FILES = frozenset({"template.pdf", "template-mirrored.pdf", "cut-sheet.pdf", "summary.json"})


def _codes(out: Path, plan: Plan) -> dict[str, set[str]]:
    """Codes found in each file: on every page of a template, on the raft's pages of a cut sheet."""
    export(plan, out, FILES)
    found = {}
    for name in sorted(FILES - {"summary.json"}):
        texts = [" ".join(page.extract_text().split()) for page in PdfReader(out / name).pages]
        on_pages = [set(re.findall(r"[Cc]ode ([A-Z2-9]{3}-[A-Z2-9]{3})", text)) for text in texts]
        if name.startswith("template"):
            assert all(len(codes) == 1 for codes in on_pages)
        found[name] = set().union(*on_pages)
    beds = json.loads((out / "summary.json").read_text("utf-8"))["beds"]
    found["summary.json"] = {code for bed in beds for code in bed["codes"].values()}
    return found


def test_all_papers_of_a_version_carry_its_code(tmp_path: Path) -> None:
    plan = make_plan(make_bed_plan())
    details = Details(revision="B", date="2026-11-25")
    revised = replace(plan, project=replace(plan.project, details=details))
    first, second = _codes(tmp_path / "a", plan), _codes(tmp_path / "b", revised)

    (code,) = first["summary.json"]
    (other,) = second["summary.json"]
    assert all(codes == {code} for codes in first.values())
    assert all(codes == {other} for codes in second.values())
    assert code != other
    words = " ".join(PdfReader(tmp_path / "b" / "template.pdf").pages[1].extract_text().split())
    assert "revision B, of 2026-11-25" in words
