"""How the pots of a bed sit, for the summary that other programs read."""

from geometry.afloat.pots import Pot
from geometry.afloat.saws import best_saw
from geometry.drawing.seat_rows import own_saw
from geometry.plan import BedPlan, Plan


def pot_summary(bed: BedPlan, plan: Plan) -> list[dict[str, object]]:
    """Return an object for each planting of a bed that names a pot; empty where none does.

    ``zone`` is null for the bed's own planting. ``hole_mm`` is as it comes out, ``saw_mm`` the
    grower's saw that drills it (null without one), ``best_saw_mm`` the one to take, with
    ``best_saw_is_own``; both null where no saw suits.
    """
    water = plan.water_of(bed.bed.name)
    if water is None:
        return []
    around = water.surroundings
    wobble = around.allowances.wobble.mm
    zones = [None, *(zone.name for zone in bed.bed.zones)]
    found: list[dict[str, object]] = []
    for zone, planting, pot, seated in zip(
        zones, around.plantings, around.pots, water.seats, strict=False
    ):
        if pot is None or seated is None:
            continue
        own = own_saw(plan, planting.hole_diameter)
        best = best_saw(Pot.of(pot), around.saws, wobble)
        found.append({
            "zone": zone,
            "pot": pot.name,
            "seat": seated.seat,
            "hole_mm": round(planting.hole_diameter.mm + wobble, 6),
            "play_mm": round(seated.play, 6),
            "proud_mm": round(seated.proud, 6),
            "lip_mm": round(seated.lip, 6),
            "saw_mm": None if own is None else round(own.mm, 6),
            "best_saw_mm": None if best is None else round(best.saw.mm, 6),
            "best_saw_is_own": None if best is None else best.is_own,
        })  # fmt: skip
    return found
