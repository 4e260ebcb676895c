"""What all commands share: they read and plan a project, and end with a status.

Done and nothing is left to settle, done with findings that are problems and not accepted, or the
project or an argument was refused; then nothing was written.
"""

import json
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Final

from geometry.checks.finding import Finding
from geometry.errors import GeometryError
from geometry.flow.period import USUAL_WEEKS, Period
from geometry.model.project import Project
from geometry.plan import Plan, make_plan
from geometry.tongue import GROUP_SIGN, tr
from layout_gui.project.faults import FileAccessError, ProjectFileError, printable

DONE: Final = 0
PROBLEMS: Final = 1
REFUSED: Final = 2


def period_of(since: date | None, count: int | None) -> Period:
    """Return the weeks that are asked for."""
    return Period(since, USUAL_WEEKS if count is None else count)


def with_plan(
    path: Path, work: Callable[[Plan], int], planned: Callable[[Project], Plan] = make_plan
) -> int:
    """Read and plan a project, then do the work; say what stands in the way."""
    from layout_gui.project.file import load

    try:
        plan = planned(load(path))
    except (ProjectFileError, FileAccessError) as error:
        return refuse(str(error))
    except GeometryError as error:
        return refuse(f"{printable(path.name)}: {error}")
    except MemoryError:
        return refuse(
            tr(
                "{file}: does not fit into the memory of this computer; check the "
                "units of the lengths, or split the project.",
                file=printable(path.name),
            )
        )
    return work(plan)


def refuse(sentences: str) -> int:
    """Say why a command does nothing."""
    tell(sentences)
    return REFUSED


def say(text: object) -> None:
    """Print something; a terminal may show another space than the plain one as a box."""
    print(str(text).replace(GROUP_SIGN, " "))


def tell(sentences: str) -> None:
    """Say something beside what is printed, if there is anything to say."""
    if sentences:
        print(sentences.replace(GROUP_SIGN, " "), file=sys.stderr)


def open_findings(plan: Plan, *severities: str) -> list[Finding]:
    """Return the findings of these severities that no note accepts."""
    notes = notes_by_key(plan)
    return [
        finding
        for finding in plan.findings
        if finding.severity in severities and finding.key not in notes
    ]


def status(plan: Plan) -> int:
    """Return the status of a command that is done."""
    return PROBLEMS if open_findings(plan, "problem") else DONE


def notes_by_key(plan: Plan) -> dict[str, str]:
    """Return the notes of accepted findings by the key of the finding."""
    return {accepted.key: accepted.note for accepted in plan.project.accepted}


def json_text(content: object) -> str:
    """Write JSON that any terminal and any pipe can take."""
    return json.dumps(content, indent=2, allow_nan=False)
