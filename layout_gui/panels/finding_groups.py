"""Findings of one kind told together, so that hundreds of them take one card."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from geometry.checks.finding import Code, Finding
from geometry.tongue import tr, tr_n
from geometry.units import Unit, format_length
from layout_gui.wording.findings import finding_title

GROUP_FROM: Final = 4
"""So many findings of one kind are told together."""

_RANK: Final = {"problem": 0, "question": 1, "note": 2}
_OWN_SUBJECT: Final[frozenset[Code]] = frozenset(
    {"rounding", "blank-idle", "pin-idle", "joint", "jam", "lift", "open-water"}
)
"""Codes whose subject differs from finding to finding, though the matter is the same."""

Kind = tuple[int, Code, bool, str, float | None]


@dataclass(frozen=True, slots=True)
class FindingGroup:
    """One finding, or four and more of one kind in the order of the plan."""

    findings: tuple[Finding, ...]

    @property
    def first(self) -> Finding:
        """The finding that stands for the others."""
        return self.findings[0]

    @property
    def is_single(self) -> bool:
        """Whether there is nothing to step through."""
        return len(self.findings) == 1

    @property
    def name(self) -> object:
        """What makes the group the same one after a change of the project."""
        return self.first.key if self.is_single else kind_of(self.first)


def kind_of(finding: Finding) -> Kind:
    """Return what findings of one kind have in common: the rule that is broken, and its limit."""
    subject = "" if finding.code in _OWN_SUBJECT else finding.subject
    amount = finding.amount_mm if finding.code == "unit-slip" else finding.limit_mm
    return (
        _RANK[finding.severity],
        finding.code,
        len(finding.holes) > 1,
        subject,
        None if amount is None else round(amount, 6),
    )


def grouped(findings: Iterable[Finding]) -> list[FindingGroup]:
    """Put findings of one kind together, the gravest kinds first, each kind in its first place."""
    kinds: dict[Kind, list[Finding]] = {}
    for finding in findings:
        kinds.setdefault(kind_of(finding), []).append(finding)
    groups: list[FindingGroup] = []
    for kind in sorted(kinds, key=lambda kind: kind[0]):
        found = kinds[kind]
        if len(found) < GROUP_FROM:
            groups.extend(FindingGroup((finding,)) for finding in found)
        else:
            groups.append(FindingGroup(tuple(found)))
    return groups


def group_title(findings: Sequence[Finding], unit: Unit) -> str:
    """Say in a few words what was found, and how often."""
    first, n = findings[0], len(findings)
    if n == 1:
        return finding_title(first, unit)
    limit = "" if first.limit_mm is None else format_length(first.limit_mm, unit)
    subject = first.subject
    match first.code:
        case "spacing":
            return tr_n(
                "{n} pair of holes nearer than {limit} to each other",
                "{n} pairs of holes nearer than {limit} to each other",
                n,
                limit=limit,
            )
        case "web" if len(first.holes) > 1:
            return tr_n(
                "{n} pair of holes with less than {limit} of foam between them",
                "{n} pairs of holes with less than {limit} of foam between them",
                n,
                limit=limit,
            )
        case "web":
            return tr_n(
                "{n} hole with less than {limit} of foam to the edge",
                "{n} holes with less than {limit} of foam to the edge",
                n,
                limit=limit,
            )
        case "edge":
            return tr_n(
                "{n} hole nearer than {limit} to the edge",
                "{n} holes nearer than {limit} to the edge",
                n,
                limit=limit,
            )
        case "joint":
            return tr_n(
                "{n} pair of holes nearer than {limit} where rafts meet",
                "{n} pairs of holes nearer than {limit} where rafts meet",
                n,
                limit=limit,
            )
        case "obstacle":
            return tr_n(
                "{n} hole nearer than {limit} to the {obstacle}",
                "{n} holes nearer than {limit} to the {obstacle}",
                n,
                limit=limit,
                obstacle=subject,
            )
        case "raft-fit" if first.raft:
            return tr_n(
                "{n} raft nearer than {limit} to the wall",
                "{n} rafts nearer than {limit} to the wall",
                n,
                limit=limit,
            )
        case "no-room":
            return tr_n("{n} bed without room for a hole", "{n} beds without room for a hole", n)
        case "jam":
            return tr_n("{n} place where rafts jam", "{n} places where rafts jam", n)
        case "gap":
            return tr_n(
                "{n} bed with a gap wider than {limit}",
                "{n} beds with a gap wider than {limit}",
                n,
                limit=limit,
            )
        case "open-water":
            return tr_n(
                "{n} bed with more open water than your limit",
                "{n} beds with more open water than your limit",
                n,
            )
        case "lift":
            return tr_n("{n} raft that does not come out", "{n} rafts that do not come out", n)
        case "pressed":
            return tr_n(
                "{n} bed in which rafts are pressed down at high water",
                "{n} beds in which rafts are pressed down at high water",
                n,
            )
        case "skew":
            return tr_n("{n} bed out of true", "{n} beds out of true", n)
        case "blank-idle":
            return tr_n(
                "{n} site left out by hand is there no more",
                "{n} sites left out by hand are there no more",
                n,
            )
        case "pin-idle":
            return tr_n(
                "{n} hole placed by hand on a raft that is no more",
                "{n} holes placed by hand on rafts that are no more",
                n,
            )
        case "rounding":
            return tr_n(
                "Holes on {n} raft keep their exact places",
                "Holes on {n} rafts keep their exact places",
                n,
            )
        case "score-line":
            return tr_n(
                "{n} raft design with a score line along its long side",
                "{n} raft designs with a score line along their long side",
                n,
            )
        case "zone-outside" if first.raft:
            return tr_n(
                "The zone “{zone}” names {n} raft that is not there",
                "The zone “{zone}” names {n} rafts that are not there",
                n,
                zone=subject,
            )
        case "sheet-fit" if first.severity == "problem":
            return tr_n(
                "{n} raft design larger than every sheet",
                "{n} raft designs larger than every sheet",
                n,
            )
        case _:
            return tr("{title} In {n} places.", title=finding_title(first, unit), n=n)
