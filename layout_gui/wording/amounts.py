"""What a finding measures: how much, and how much is wanted."""

from collections.abc import Iterator

from geometry.checks.finding import Finding
from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.wording.cures import field_words
from layout_gui.wording.fit import fit_amounts
from layout_gui.wording.in_water import amounts_in_water
from layout_gui.wording.lengths import length_words, step_words, subject_place, told_apart
from layout_gui.wording.pots import pot_amounts
from layout_gui.wording.runs import run_amounts


def amounts(finding: Finding, unit: Unit) -> Iterator[str]:
    """Say what was measured and what was wanted, in sentences."""
    amount, limit = told_apart(finding.amount_mm, finding.limit_mm, unit)
    below = finding.amount_mm is not None and finding.amount_mm < 0
    over = length_words(-(finding.amount_mm or 0.0), unit)
    wanted = tr("{limit} is wanted.", limit=limit)
    match finding.code:
        case "spacing" if finding.crops:
            yield tr(
                "They are {amount} apart, centre to centre; {wanted}",
                amount=amount,
                wanted=_mean_words(finding, limit),
            )
        case "spacing":
            yield tr(
                "They are {amount} apart, centre to centre; {wanted}", amount=amount, wanted=wanted
            )
        case "web" if len(finding.holes) > 1 and below:
            yield tr(
                "Their rims overlap by {over}; {limit} of foam is wanted.", over=over, limit=limit
            )
        case "web" if below:
            yield tr(
                "It reaches over the edge by {over}; {limit} of foam is wanted.",
                over=over,
                limit=limit,
            )
        case "web":
            yield tr("There is {amount} of foam; {wanted}", amount=amount, wanted=wanted)
        case "edge" if below:
            yield tr(
                "Its centre lies {over} off the raft; {limit} from the edge is wanted.",
                over=over,
                limit=limit,
            )
        case "edge":
            yield tr("Its centre is {amount} from the edge; {wanted}", amount=amount, wanted=wanted)
        case "joint":
            yield tr(
                "They are {amount} apart when one of them lies turned half round; {wanted}"
                if finding.subject
                else "They are {amount} apart; {wanted}",
                amount=amount,
                wanted=_mean_words(finding, limit) if finding.crops else wanted,
            )
        case "obstacle" if below:
            yield tr(
                "Its rim reaches {over} into it; {limit} off it is wanted.", over=over, limit=limit
            )
        case "obstacle":
            yield tr("Its rim is {amount} away; {wanted}", amount=amount, wanted=wanted)
        case "raft-fit" | "no-room" | "sheet-fit":
            yield from _room(finding, unit)
        case "run-fit":
            yield run_amounts(finding)
        case "unit-slip":
            is_small = (finding.amount_mm or 0.0) < (finding.limit_mm or 0.0)
            yield tr(
                "Usual is {limit} or more." if is_small else "Usual is {limit} at most.",
                limit=limit,
            )
        case "bed-shape":
            yield tr("It encloses nothing or crosses itself; check its corners and their order.")
        case "skew" if finding.severity == "question":
            yield tr("That is more than beds usually are; measure once more.")
        case "skew":
            yield tr("The rafts are planned for the smallest rectangle that is safe.")
        case "score-line":
            yield (
                tr(
                    "It lies {amount} from the edge, where {subject} is scored and may "
                    "break. Let rafts be turned, make them shorter, or take a plain "
                    "board.",
                    amount=amount,
                    subject=finding.subject,
                )
            )
        case "zone-outside" if finding.raft:
            yield tr("The bed is split into other rafts now.")
        case "zone-outside":
            yield tr("Move it onto a raft, or remove it.")
        case "zone-empty":
            yield tr("Make it larger or its spacing smaller; a later zone may lie on it.")
        case "zone-fixed":
            yield tr(
                "Such rafts are made for their own place and cannot change places with others."
            )
        case "blank-idle":
            yield tr(
                "The pattern has no site near {place} any more.",
                place=subject_place(finding, unit),
            )
        case "rounding":
            yield _too_near_on_steps(finding)
        case "pin-idle":
            yield tr("It was at {place} there.", place=subject_place(finding, unit))
        case (
            "pot-falls"
            | "pot-stuck"
            | "pot-loose"
            | "pot-proud"
            | "pot-slips"
            | "rims"
            | "rim-edge"
            | "rim-obstacle"
        ):
            yield from pot_amounts(finding, amount, limit)
        case "jam" | "gap" | "open-water" | "lift" | "pressed":
            yield from fit_amounts(finding, unit)
        case _:
            yield from amounts_in_water(finding, unit)


def _too_near_on_steps(finding: Finding) -> str:
    """Say what rounding would break; so small a length is read in millimetres by everyone."""
    step, amount = step_words(finding.limit_mm or 0.0), length_words(finding.amount_mm, "mm")
    first, *others = finding.holes
    if others:
        return tr(
            "Rounded to {step}, {first} and {second} would come {amount} too near each other.",
            step=step,
            first=first,
            second=others[0],
            amount=amount,
        )
    return tr(
        "Rounded to {step}, {hole} would come {amount} too near an edge or an obstacle.",
        step=step,
        hole=first,
        amount=amount,
    )


def _mean_words(finding: Finding, limit: str) -> str:
    """Say what two unlike crops want, by name where both have one that differs."""
    first, second = finding.crops
    if first == second or not (first and second):
        return tr("{limit}, the mean of their spacings, is wanted.", limit=limit)
    return tr(
        "{limit} is wanted, the mean for {first} and {second}.",
        limit=limit,
        first=tr(first),
        second=tr(second),
    )


def _room(finding: Finding, unit: Unit) -> Iterator[str]:
    amount, limit = told_apart(finding.amount_mm, finding.limit_mm, unit)
    words = field_words(finding.subject)
    match finding.code:
        case "no-room":
            yield (
                tr(
                    "The middle of the widest raft is {amount} from its edge; the "
                    "centre of a hole keeps {limit}.",
                    amount=amount,
                    limit=limit,
                )
            )
        case "sheet-fit" if finding.limit_mm is not None:
            yield tr(
                "It needs {amount} where the nearest, {subject}, gives {limit}.",
                amount=amount,
                subject=finding.subject,
                limit=limit,
            )
        case "sheet-fit":
            yield tr("Not all rafts of the design {raft} can be cut from them.", raft=finding.raft)
        case _ if finding.raft and (finding.amount_mm or 0.0) < 0:
            over = length_words(-(finding.amount_mm or 0.0), unit)
            yield tr(
                "It reaches {over} into the wall; a clearance of {limit} is wanted.",
                over=over,
                limit=limit,
            )
        case _ if finding.raft:
            yield tr(
                "It is {amount} away; a clearance of {limit} is wanted.", amount=amount, limit=limit
            )
        case _ if finding.severity == "note":
            yield tr(
                "{field} is 0; {limit} is usual, so that rafts come out freely.",
                field=words.capitalize(),
                limit=limit,
            )
        case _ if finding.limit_mm is None:
            yield tr(
                "{field} is {amount}, but the bed is too small for any.",
                field=words.capitalize(),
                amount=amount,
            )
        case _:
            yield tr(
                "{field} is {amount}; at most {limit} leaves room.",
                field=words.capitalize(),
                amount=amount,
                limit=limit,
            )
