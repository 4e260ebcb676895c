"""What a plan says of its patterns, its proof and its sheets."""

from geometry.cutting.plan import CutPlan
from geometry.drawing.pattern_names import along_the_bed, pattern_name, rows_name
from geometry.holes.place import Tried
from geometry.holes.proof import Proof
from geometry.plan import BedPlan
from geometry.tongue import either, listed, mark, number, plural, tr, tr_n
from geometry.units import MM_PER, Unit, format_length

_TIMES = "\N{MULTIPLICATION SIGN}"


def pattern_words(tried: Tried, unit: Unit) -> str:
    """Say what a planting got: rows, their distances and the plants."""
    return tr(
        "{rows}, {sizes}: {plants}",
        rows=rows_name(tried.pattern, tried.direction),
        sizes=_sizes(tried, unit),
        plants=plural(tried.plants, "plant"),
    )


def winner_sentence(plan: BedPlan, unit: Unit) -> str:
    """Say which pattern won, its distances and its plants, and what the other patterns hold.

    In a bed with zones: what the bed's own planting got, and then each zone.
    """
    if plan.bed.zones and plan.bed.planting is not None:
        names = [tr("the rest"), *(zone.name for zone in plan.bed.zones)]
        return "; ".join(
            f"{name}: {pattern_words(tried, unit)}"
            for name, tried in zip(names, plan.by_planting, strict=False)
            if tried is not None
        ) or tr("no hole fits")
    if not plan.tried:
        return tr("no hole fits") if plan.bed.planting else tr("nothing is planted")
    best = plan.tried[0]
    others: dict[str, int] = {}
    for tried in plan.tried[1:]:
        if tried.pattern != best.pattern:
            others[tried.pattern] = max(tried.plants, others.get(tried.pattern, 0))
    spacing = plan.bed.planting.spacing.mm if plan.bed.planting else 0.0
    opened = best.pitch_mm > spacing + 0.05
    sentence = tr(
        "{rows}, opened to {sizes}: {plants}" if opened else "{rows}, at {sizes}: {plants}",
        rows=rows_name(best.pattern, best.direction),
        sizes=_sizes(best, unit),
        plants=plural(best.plants, "plant"),
    )
    rest = ", ".join(f"{pattern_name(pattern)} {plants}" for pattern, plants in others.items())
    if plan.plants != best.plants:
        sentence = tr(
            "{sentence}, {plants} with what was placed or left out by hand",
            sentence=sentence,
            plants=plan.plants,
        )
    return f"{sentence}; {rest}" if rest else sentence


def proof_words(proof: Proof) -> str:
    """Say in a few words what no arrangement exceeds: that it is reached, or the ceiling."""
    if proof.kind == "full":
        return (
            tr("no arrangement on rafts all alike holds more")
            if proof.alike
            else tr("no arrangement holds more")
        )
    return tr("at most {ceiling} by proof", ceiling=proof.ceiling)


def proof_sentence(plan: BedPlan) -> str:
    """Say how far it is proved that the bed holds no more, and what is only known; may be empty."""
    proof = plan.proof
    if proof is None:
        return ""
    if proof.kind == "full":
        return tr(
            "{plants} plants: {words}, by proof", plants=plan.plants, words=proof_words(proof)
        )
    parts = [
        tr(
            "{plants} of at most {ceiling} on rafts all alike"
            if proof.alike
            else "{plants} of at most {ceiling}",
            plants=plan.plants,
            ceiling=proof.ceiling,
        )
    ]
    rows = either(map(pattern_name, proof.families))
    way = "" if proof.direction == "best" else along_the_bed(proof.direction)
    match proof.kind:
        case "rows":
            parts.append(
                tr("no {rows} rows {way} hold more", rows=rows, way=way)
                if way
                else tr("no {rows} rows hold more", rows=rows)
            )
        case "shift" if proof.families == ("rows",):
            parts.append(
                tr("no shift of rows filled one by one {way} holds more", way=way)
                if way
                else tr("no shift of rows filled one by one holds more")
            )
        case "shift":
            way = way or tr("in the directions tried")
            parts.append(tr("no shift of {rows} rows holds more {way}", rows=rows, way=way))
        case _:
            pass
    if proof.record is not None:
        known = (
            mark("best known for a square: {record}")
            if proof.shape == "square"
            else mark("best known for a disc: {record}")
        )
        parts.append(tr(known, record=proof.record))
    return "; ".join(parts)


def cut_sentence(cut: CutPlan) -> str:
    """Say what the cutting needs, and what is proved about it: "5 sheets; no plan needs fewer"."""
    words = plural(cut.bought_count, "sheet")
    offcuts = cut.sheet_count - cut.bought_count
    if offcuts:
        from_stock = tr_n("{n} offcut on hand", "{n} offcuts on hand", offcuts)
        words = listed([words, from_stock]) if cut.bought_count else from_stock
    if cut.cost:
        words = tr("{sheets} for {cost}", sheets=words, cost=number(float(cut.cost), 2))
    missing = sum(count for _, count in cut.unplaced)
    if missing:
        without = tr_n("{n} raft without a sheet", "{n} rafts without a sheet", missing)
        words = f"{words}; {without}"
    if not cut.sheets or cut.bound is None:
        return words
    if cut.proved and cut.bought_count:
        fewer = tr("no plan costs less") if cut.aim == "cost" else tr("no plan needs fewer")
        return f"{words}; {fewer}"
    if cut.proved:
        return f"{words}; {tr('nothing is bought')}"
    if cut.aim == "cost":
        least = tr("every plan costs {bound} or more", bound=number(float(cut.bound), 2))
    else:
        least = tr("every plan needs {bound} or more", bound=int(cut.bound))
    return f"{words}; {least}"


def _sizes(tried: Tried, unit: Unit) -> str:
    """Write pitch and row gap with one unit; inches to the nearest sixteenth, marked if rounded."""
    sizes = [mm for mm in (tried.pitch_mm, tried.row_gap_mm) if mm]
    step = float(MM_PER["in"]) / 16 if unit == "in" else 0.1
    about = (
        "≈ "
        if unit == "in" and any(abs(mm - round(mm / step) * step) > 0.05 for mm in sizes)
        else ""
    )
    texts = [format_length(round(mm / step) * step, unit).removesuffix(f" {unit}") for mm in sizes]
    return f"{about}{f' {_TIMES} '.join(texts)} {unit}"
