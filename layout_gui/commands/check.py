"""The command that tells the findings of a project."""

from collections.abc import Iterable
from dataclasses import asdict
from pathlib import Path
from typing import Any

from geometry.checks.finding import Finding
from geometry.plan import Plan, with_best_cut
from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.commands.common import (
    json_text,
    notes_by_key,
    open_findings,
    say,
    status,
    with_plan,
)
from layout_gui.wording.cures import cure_label, no_cure_reason
from layout_gui.wording.findings import finding_line, finding_text, finding_title
from layout_gui.wording.plans import cut_sentence, proof_sentence, winner_sentence
from layout_gui.wording.results import result_lines


def check(path: Path, *, as_json: bool) -> int:
    """Print the findings of a project, those accepted with their notes."""

    def work(plain: Plan) -> int:
        plan = with_best_cut(plain)
        say(_findings_json(plan) if as_json else "\n".join(_findings_text(plan)))
        return status(plan)

    return with_plan(path, work)


def _findings_text(plan: Plan) -> Iterable[str]:
    unit, notes = plan.project.units, notes_by_key(plan)
    for bed in plan.beds:
        told = filter(None, (winner_sentence(bed, unit), proof_sentence(bed)))
        yield f"{bed.bed.name}: {'. '.join(told)}"
    if plan.project.sheets:
        yield tr("Cutting: {sheets}", sheets=cut_sentence(plan.cut))
    yield from result_lines(plan)
    for finding in plan.findings:
        line = finding_line(finding, unit, plan)
        note = notes.get(finding.key)
        yield line if note is None else tr("{line} Left as it is: {note}", line=line, note=note)
    if not open_findings(plan, "problem", "question"):
        yield tr("Nothing is left to settle before cutting.")


def _findings_json(plan: Plan) -> str:
    notes = notes_by_key(plan)
    return json_text(
        {
            "project": plan.project.name,
            "problems": len(open_findings(plan, "problem")),
            "cutting": cut_sentence(plan.cut) if plan.project.sheets else "",
            "results": list(result_lines(plan)),
            "findings": [
                asdict(finding)
                | {
                    "key": finding.key,
                    "accepted": notes.get(finding.key),
                    "cure": _cure(finding, plan.project.units),
                    "no_cure": no_cure_reason(finding),
                    "title": finding_title(finding, plan.project.units),
                    "text": finding_text(finding, plan.project.units, plan),
                }
                for finding in plan.findings
            ],
        }
    )


def _cure(finding: Finding, unit: Unit) -> dict[str, Any] | None:
    if finding.cure is None:
        return None
    return {
        "kind": type(finding.cure).__name__,
        **asdict(finding.cure),
        "label": cure_label(finding.cure, unit),
    }
