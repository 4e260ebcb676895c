"""Findings about rafts in the water, in the grower's words and units."""

from collections.abc import Iterator

from geometry.checks.finding import Finding
from geometry.drawing.figures import (
    length_text,
    litres_text,
    share_text,
    slope_text,
    weight_text,
)
from geometry.tongue import mark, tr
from geometry.units import Unit, format_length

_WHEN: dict[str, str] = {
    "planting": mark("on the day of planting"),
    "harvest": mark("at the harvest"),
    "waterlogged": mark("at the harvest, once its foam is waterlogged"),
}


def title_in_water(finding: Finding) -> str:
    """Say in a few words what was found and where."""
    raft, subject = finding.raft, finding.subject
    match finding.code:
        case "sinks":
            return tr("Raft {raft} sinks {when}", raft=raft, when=_when(finding))
        case "freeboard":
            return tr("Raft {raft} lies low in the water {when}", raft=raft, when=_when(finding))
        case "tilts" if subject:
            return tr("Raft {raft} tips over with one half picked", raft=raft)
        case "tilts":
            return tr("Raft {raft} gets wet on one side with the other half picked", raft=raft)
        case "pot-dry":
            return tr("“{pot}” hangs too high on raft {raft}", pot=subject, raft=raft)
        case "pot-drowned":
            return tr("“{pot}” is under water on raft {raft}", pot=subject, raft=raft)
        case "aground" if subject:
            return tr(
                "“{pot}” touches the floor under raft {raft} at low water", pot=subject, raft=raft
            )
        case "aground":
            return tr("Raft {raft} lies on the floor at low water", raft=raft)
        case "heavy" if subject == "two":
            return tr("Raft {raft} takes two people to lift", raft=raft)
        case "heavy":
            return tr("Raft {raft} is too heavy for two people", raft=raft)
        case "made-jam":
            return tr("Raft {raft} came out too large for its place", raft=raft)
        case "metered-fill":
            return tr("The metered fill of {bed} does not go with its size", bed=finding.bed)
        case "weak-line":
            return tr("A line across raft {raft} has too little foam", raft=raft)
        case _:
            return finding.code


def amounts_in_water(finding: Finding, unit: Unit) -> Iterator[str]:
    """Say how far off it is."""
    amount, limit = _told_apart(finding.amount_mm or 0.0, finding.limit_mm or 0.0, unit)
    below = length_text(-(finding.amount_mm or 0.0), unit)
    match finding.code:
        case "sinks":
            yield tr("Its top would be {below} under water.", below=below)
        case "freeboard":
            yield tr("{amount} of foam stays above the water; {limit} is wanted.",
                     amount=amount, limit=limit)  # fmt: skip
        case "tilts" if finding.subject:
            yield tr("It is too narrow for what stands on it; make it wider.")
        case "tilts":
            yield tr("Its low end goes {below} under water, at a slope of {slope}.",
                     below=below, slope=slope_text(finding.figures[0], unit))  # fmt: skip
            yield tr("Pick from both ends in turn.")
        case "pot-dry" if (finding.amount_mm or 0.0) <= 0:
            yield tr("On the day of planting its foot hangs {below} above the water; the lowest "
                     "{limit} of it should be wet.", below=below, limit=limit)  # fmt: skip
        case "pot-dry":
            yield tr("On the day of planting only its lowest {amount} is wet; {limit} is wanted.",
                     amount=amount, limit=limit)  # fmt: skip
        case "pot-drowned":
            yield tr("The water stands {amount} over its top.", amount=amount)
        case "aground":
            yield tr("{limit} of water is needed and {amount} is left.",
                     amount=amount, limit=limit)  # fmt: skip
        case "heavy":
            kg, most = (weight_text(each, unit) for each in finding.figures)
            yield tr("It weighs {kg} at the harvest, and the water in its roots comes on top; "
                     "the limit is {most}.", kg=kg, most=most)  # fmt: skip
        case "metered-fill":
            metered, reckoned = (litres_text(each, unit) for each in finding.figures)
            yield tr("{metered} were metered; by length, width and depth it is {reckoned}.",
                     metered=metered, reckoned=reckoned)  # fmt: skip
        case "made-jam" if finding.subject == "along":
            yield tr("As noted in the log, the rafts of its row are {missing} longer than the bed "
                     "has room for at some level.", missing=below)  # fmt: skip
        case "made-jam":
            yield tr("As noted in the log, the rafts of its column are {missing} wider than the "
                     "bed has room for at some level.", missing=below)  # fmt: skip
        case "weak-line":
            is_there, wanted = (share_text(each) for each in finding.figures)
            yield tr("{holes} holes on it leave {share} of it as foam; {wanted} is wanted.",
                     holes=finding.subject, share=is_there, wanted=wanted)  # fmt: skip
        case _:
            pass


def no_cure_in_water(finding: Finding) -> str:
    """Say why no single change is offered; empty where this module does not know."""
    match finding.code:
        case "sinks" | "freeboard" | "pot-drowned":
            return tr("No board that is sold is thick enough: it takes a lighter load.")
        case "tilts":
            return tr("No board that is sold is thick enough: it takes a wider raft.")
        case "aground":
            return tr("The bed is too shallow for it: it takes more water or a shorter pot.")
        case "heavy":
            return tr("It takes smaller rafts; how they are split is for you to decide.")
        case "metered-fill":
            return tr("Measure the depth and the fill again: which of them is off, only you see.")
        case "made-jam":
            return tr("Trim the raft, or measure it again and note in the log what it is now.")
        case "weak-line":
            return tr("It takes smaller holes or more space between them, which changes the count.")
        case _:
            return ""


def _when(finding: Finding) -> str:
    said = _WHEN.get(finding.subject)
    return tr(said) if said else ""


def _told_apart(amount: float, limit: float, unit: Unit) -> tuple[str, str]:
    """Write two lengths as a tape shows them, or finer where they would look the same."""
    texts = length_text(amount, unit), length_text(limit, unit)
    if texts[0] != texts[1]:
        return texts
    return format_length(amount, unit, decimals=3), format_length(limit, unit, decimals=3)
