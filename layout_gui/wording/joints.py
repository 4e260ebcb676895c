"""What joints cost, and what moving them gains."""

from geometry.compare.joint_rules import JointCounts
from geometry.compare.split_shift import SplitShift
from geometry.tongue import listed, mark, plural, tr, tr_n
from geometry.units import Length, Unit, exact_text

_SHIFTS = {
    ("along", True): mark("{by} along"),
    ("along", False): mark("{by} back along"),
    ("across", True): mark("{by} across"),
    ("across", False): mark("{by} back across"),
}


def split_shift_sentence(shift: SplitShift, unit: Unit) -> str:
    """Say what moving the joints of a bed wins and what it costs; or that there is nothing."""
    if shift.gain <= 0:
        return tr("The joints lie well where they are: no shift that was tried gives more plants.")
    along = shift.along.exact - shift.along_now.exact
    across = shift.across.exact - shift.across_now.exact
    moves = [
        tr(_SHIFTS[way, by > 0], by=exact_text(Length(abs(by)), unit))
        for way, by in (("along", along), ("across", across))
        if by
    ]
    sentence = tr(
        "Moving the joints {moves} the bed gives {gain}: {plants} instead of {plants_now}.",
        moves=listed(moves),
        gain=plural(shift.gain, "more plant"),
        plants=shift.plants,
        plants_now=shift.plants_now,
    )
    costs = []
    if shift.designs != shift.designs_now:
        costs.append(
            tr_n(
                "{n} raft design instead of {now}",
                "{n} raft designs instead of {now}",
                shift.designs,
                now=shift.designs_now,
            )
        )
    if shift.sheets != shift.sheets_now:
        costs.append(
            tr_n(
                "{n} sheet instead of {now}",
                "{n} sheets instead of {now}",
                shift.sheets,
                now=shift.sheets_now,
            )
        )
    return f"{sentence} {tr('It takes {costs}.', costs=listed(costs))}" if costs else sentence


def joint_sentence(counts: JointCounts) -> str:
    """Say what it costs, or would cost, that every raft may lie in any place."""
    some, cost = counts.interchangeable, counts.cost
    if counts.rule == "interchangeable":
        return tr(
            "{some} in this bed, bed-wide {bed_wide}: being interchangeable costs {cost}."
            if cost
            else "{some} in this bed, bed-wide {bed_wide}: interchangeable costs nothing.",
            some=some,
            bed_wide=counts.bed_wide,
            cost=cost,
        )
    if not cost:
        return tr("Interchangeable rafts would hold {some} as well.", some=some)
    return tr(
        "Interchangeable rafts would hold {some}, {cost} fewer than bed-wide.", some=some, cost=cost
    )
