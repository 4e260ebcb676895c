"""Findings about pots, their holes and their rims, in the grower's words."""

from collections.abc import Iterator
from typing import Final

from geometry.afloat.saws import saw_text
from geometry.checks.finding import Finding, SetLength
from geometry.tongue import mark, tr, tr_n
from geometry.units import Length, Unit

_TITLES: Final = {
    "pot-falls": mark("The pot “{pot}” falls through its holes"),
    "pot-stuck": mark("The pot “{pot}” does not go into its holes"),
    "pot-loose": mark("The pot “{pot}” sits loose in its holes"),
    "pot-proud": mark("The pot “{pot}” stands proud of its holes"),
    "pot-slips": mark("The plug “{pot}” slips out of its collar"),
}
_AMOUNTS: Final = {
    "pot-falls": mark("They come out {amount} wide, and nothing of it is wider than {limit}."),
    "pot-stuck": mark("They come out {amount} wide; its foot alone is {limit}."),
    "pot-loose": mark(
        "They come out {amount} wide, and its body is {limit}: it tips easily and lets light past."
    ),
    "pot-proud": mark(
        "Its taper catches {amount} below the rim; up to {limit} is common practice, no source."
    ),
    "pot-slips": mark("The hole of the collar is {amount}, and its body {limit}."),
}
_RIMS: Final = {
    "rims": mark("Their centres are {amount} apart; the rims of their pots take {limit}."),
    "rim-edge": mark("Its centre is {amount} from the edge; the rim of its pot takes {limit}."),
    "rim-obstacle": mark("Its centre is {amount} away; the rim of its pot takes {limit}."),
}
_OFF: Final = {
    "rim-edge": mark("Its centre lies off the raft; the rim of its pot takes {limit}."),
    "rim-obstacle": mark("Its centre lies in it; the rim of its pot takes {limit}."),
}


def pot_title(finding: Finding, holes: str, one: str) -> str:
    """Say in a few words what is wrong; ``holes`` and ``one`` name two holes and a single one."""
    match finding.code:
        case "rims":
            return tr("{holes} have pots whose rims touch", holes=holes)
        case "rim-edge":
            return tr("{one} has a pot that reaches over the edge", one=one)
        case "rim-obstacle":
            return tr(
                "{one} has a pot that lies on the {subject}", one=one, subject=finding.subject
            )
        case code:
            return tr(_TITLES[code], pot=finding.subject)


def pot_amounts(finding: Finding, amount: str, limit: str) -> Iterator[str]:
    """Say how far off it is, in the words of ``amount`` and ``limit``, and where else."""
    if finding.code in _RIMS:
        words = _OFF if (finding.amount_mm or 0.0) < 0 else _RIMS
        yield tr(words[finding.code], amount=amount, limit=limit)
    else:
        yield tr(_AMOUNTS[finding.code], amount=amount, limit=limit)
    if finding.zone:
        yield tr("This is so in the zone “{zone}”.", zone=finding.zone)
    if finding.more:
        yield tr_n("{n} more is like it.", "{n} more are like it.", finding.more)


def pot_remedy(finding: Finding, unit: Unit) -> Iterator[str]:
    """Say which saw drills what is offered."""
    if isinstance(finding.cure, SetLength) and finding.cure.field.endswith("hole_diameter"):
        saw = saw_text(Length.of(finding.cure.mm), unit)
        yield tr("A saw of {saw} suits it.", saw=saw)


def no_pot_cure(finding: Finding) -> str:
    """Say why no single change is offered that clears it."""
    match finding.code:
        case "pot-slips":
            return tr("It takes another collar, or a thicker plug.")
        case "rims" | "rim-edge" | "rim-obstacle":
            return tr("The rules leave room; this hole was placed by hand.")
        case _:
            return tr("No saw that is sold suits it: measure it again, or take another pot.")
