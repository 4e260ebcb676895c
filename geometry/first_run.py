"""What a run begins with where the grower has said nothing yet, and what that was assumed from."""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import Final

from geometry.crops.facts import facts_of
from geometry.crops.table import find_crop
from geometry.model.own_crop import OwnCrop
from geometry.model.run import Run, RunStage
from geometry.tongue import mark, number, tr

USUAL_DAYS: Final = 28
"""So long a crop is afloat of which nothing is published here (common practice, no source)."""
TRAY_SURVIVAL: Final = Fraction(8, 10)
"""1200 sown for 960 set (Rutgers Horticultural Engineering: Lettuce Production, undated)."""
BED_SURVIVAL: Final = Fraction(95, 100)
"""Common practice, no source."""

_PRACTICE: Final = mark("common practice, no source; none is published here of this crop")


def suggested_stages(crop: str, own: Iterable[OwnCrop], bed: str) -> tuple[RunStage, ...]:
    """Return a tray and a bed for a crop, as long as it is known to take."""
    mine = tuple(own)
    return (
        RunStage(tr("Seed tray"), _tray(crop, mine)[0], TRAY_SURVIVAL),
        RunStage(tr("In the bed"), _afloat(crop, mine)[0], BED_SURVIVAL, bed),
    )


def assumptions(run: Run, own: Sequence[OwnCrop]) -> tuple[str, ...]:
    """Say what still stands in a run as it was suggested, and where that comes from."""
    if len(run.stages) != len(suggested_stages(run.crop, own, "")):
        return ()
    tray, bed = run.stages
    said = []
    days, source = _tray(run.crop, own)
    if tray.days == days:
        said.append(tr("{days} days in the tray: {source}.", days=days, source=source))
    if tray.survival == TRAY_SURVIVAL:
        said.append(
            tr(
                "{share} of what is sown goes into the bed: 960 of 1200 in a published house "
                "(Rutgers).",
                share=_percent(TRAY_SURVIVAL),
            )
        )
    days, source = _afloat(run.crop, own)
    if bed.days == days:
        said.append(tr("{days} days in the bed: {source}.", days=days, source=source))
    if bed.survival == BED_SURVIVAL:
        share = _percent(BED_SURVIVAL)
        said.append(tr("{share} of the bed is picked: common practice, no source.", share=share))
    return tuple(said)


def _percent(share: Fraction) -> str:
    return f"{number(float(share * 100))} %"


def _tray(crop: str, own: Iterable[OwnCrop]) -> tuple[int, str]:
    """Return how long seedlings stay in the tray, and who says so: the first that says anything."""
    known = find_crop(crop, own)
    if known is not None and known.nursery is not None:
        return _middle(*known.nursery, known.source)
    for fact in facts_of(known.kind, "nursery") if known is not None else ():
        return _middle(int(fact.low), int(fact.high), fact.source)
    fact = facts_of("lettuce", "nursery")[0]
    days, source = _middle(int(fact.low), int(fact.high), fact.source)
    return days, tr("as for lettuce ({source}), for none is published here", source=source)


def _afloat(crop: str, own: Iterable[OwnCrop]) -> tuple[int, str]:
    """Return how long a crop is afloat, and who says so."""
    known = find_crop(crop, own)
    if known is None or known.days is None:
        return USUAL_DAYS, tr(_PRACTICE)
    return _middle(*known.days, known.source)


def _middle(low: int, high: int, source: str) -> tuple[int, str]:
    if low == high:
        return low, source
    return (low + high) // 2, tr(
        "the middle of {low} to {high}, {source}", low=low, high=high, source=source
    )
