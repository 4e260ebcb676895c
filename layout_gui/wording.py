"""Findings and results in the grower's words and units."""

import re
from collections.abc import Iterator
from fractions import Fraction
from math import floor

from geometry.checks.finding import (
    Cure,
    DropFromZone,
    DropHandEdit,
    Finding,
    LeaveOut,
    MoveHole,
    SealEdge,
    SetLength,
    SetTarget,
    TakeFill,
    TakeFoam,
    TakePot,
)
from geometry.compare.counting import Knob
from geometry.compare.joint_rules import JointCounts
from geometry.compare.split_shift import SplitShift
from geometry.compare.squeezing import Offer, Question
from geometry.compare.thresholds import Threshold, fine_step
from geometry.compare.want import Found
from geometry.cutting.plan import CutPlan
from geometry.drawing.pattern_names import along_the_bed, pattern_name, rows_name
from geometry.holes.place import Tried
from geometry.holes.proof import Proof
from geometry.plan import BedPlan, Plan
from geometry.tongue import either, listed, mark, number, plural, tr, tr_n
from geometry.units import MM_PER, Length, Unit, exact_text, format_density, format_length
from layout_gui.wording_fit import fit_amounts, fit_title, no_fit_cure
from layout_gui.wording_in_water import amounts_in_water, no_cure_in_water, title_in_water
from layout_gui.wording_pots import no_pot_cure, pot_amounts, pot_remedy, pot_title
from layout_gui.wording_run import run_amounts, run_no_cure, run_remedy, run_title, target_label

_TIMES = "\N{MULTIPLICATION SIGN}"
_KNOBS: dict[Knob, str] = {
    "spacing": mark("spacing"),
    "edge_margin": mark("edge margin"),
    "clearance": mark("clearance"),
    "joint_gap": mark("joint gap"),
}
_SAME_UP_TO: dict[Knob, tuple[str, str]] = {
    "spacing": (
        mark("The one plant fits up to {at}"),
        mark("The same {count} plants fit up to {at}"),
    ),
    "edge_margin": (
        mark("The one plant up to an edge margin of {at}"),
        mark("The same {count} plants up to an edge margin of {at}"),
    ),
    "clearance": (
        mark("The one plant up to a clearance of {at}"),
        mark("The same {count} plants up to a clearance of {at}"),
    ),
    "joint_gap": (
        mark("The one plant up to a joint gap of {at}"),
        mark("The same {count} plants up to a joint gap of {at}"),
    ),
}
_MORE_AT: dict[Knob, str] = {
    "spacing": mark("at {at} you gain {more}"),
    "edge_margin": mark("with {at} edge margin you gain {more}"),
    "clearance": mark("with {at} clearance you gain {more}"),
    "joint_gap": mark("with {at} joint gap you gain {more}"),
}
_SEVERITIES = {
    "problem": mark("problem"),
    "question": mark("question"),
    "note": mark("note"),
}
_SHIFTS = {
    ("along", True): mark("{by} along"),
    ("along", False): mark("{by} back along"),
    ("across", True): mark("{by} across"),
    ("across", False): mark("{by} back across"),
}
_FIELDS = {
    "outline.length": mark("the bed's length"),
    "outline.width": mark("the bed's width"),
    "clearance": mark("the clearance"),
    "joint_gap": mark("the joint gap"),
    "water.high": mark("the high water"),
    "rafts.length": mark("the largest length of a raft"),
    "rafts.width": mark("the largest width of a raft"),
    "rafts.shift_along": mark("the shift of the joints along the bed"),
    "rafts.shift_across": mark("the shift of the joints across the bed"),
    "planting.spacing": mark("the spacing"),
    "planting.row_spacing": mark("the row spacing"),
    "planting.hole_diameter": mark("the hole diameter"),
    "planting.edge_margin": mark("the edge margin"),
    "planting.web": mark("the web"),
    "planting.round_to": mark("the step of the places"),
    "water.low": mark("how far the water falls"),
    "cutting.kerf": mark("the kerf"),
    "cutting.trim": mark("the trim"),
}
_SHEET_FIELDS = {
    "length": mark("the length"),
    "width": mark("the width"),
    "thickness": mark("the thickness"),
    "tolerance": mark("the tolerance"),
}


def finding_title(finding: Finding, unit: Unit) -> str:
    """Say in a few words what was found and where."""
    holes, one = _holes(finding), _hole(finding)
    amount = _length(finding.amount_mm, unit)
    match finding.code:
        case "spacing":
            return tr("{holes} stand too close", holes=holes)
        case "web" if len(finding.holes) > 1:
            return tr("{holes} leave too little foam between them", holes=holes)
        case "web":
            return tr("{one} leaves too little foam at the edge", one=one)
        case "edge":
            return tr("{one} is too near the edge of the raft", one=one)
        case "joint":
            return tr("{holes} come too close where rafts meet", holes=holes)
        case "obstacle":
            return tr("{one} is too near the {subject}", one=one, subject=finding.subject)
        case "raft-fit" if finding.raft:
            return tr("Raft {raft} is too near the wall", raft=finding.raft)
        case "raft-fit" if finding.severity == "note":
            return (
                tr("The rafts have no play at the wall")
                if finding.subject == "clearance"
                else tr("The rafts have no play between each other")
            )
        case "raft-fit":
            return tr("There is no room for a raft")
        case "no-room":
            return tr("There is no room for a hole")
        case "unit-slip":
            return tr(
                "Is {subject} really {amount}?", subject=field_words(finding.subject), amount=amount
            )
        case "bed-shape" if finding.subject == "outline":
            return tr("The outline of the bed is no outline")
        case "bed-shape":
            return tr("The outline of the {subject} is no outline", subject=finding.subject)
        case "skew":
            return tr("The bed is out of true by {amount}", amount=amount)
        case "blank-idle":
            return tr("A site left out on raft {raft} is there no more", raft=finding.raft)
        case "pin-idle":
            return tr(
                "A hole placed by hand lies on raft {raft}, which is no more", raft=finding.raft
            )
        case "rounding" if finding.subject == "1":
            return tr("{one} keeps its exact place", one=one)
        case "rounding":
            return tr(
                "{subject} holes on raft {raft} keep their exact places",
                subject=finding.subject,
                raft=finding.raft,
            )
        case "score-line":
            return tr("Raft {raft} has a score line along its long side", raft=finding.raft)
        case "zone-outside" if finding.raft:
            return tr(
                "The zone “{subject}” names raft {raft}, which is not there",
                subject=finding.subject,
                raft=finding.raft,
            )
        case "zone-outside":
            return tr("The zone “{subject}” lies on no raft", subject=finding.subject)
        case "zone-empty":
            return tr("No hole fits into the zone “{subject}”", subject=finding.subject)
        case "zone-fixed":
            return tr(
                "The zone “{subject}” covers only a part of raft {raft}",
                subject=finding.subject,
                raft=finding.raft,
            )
        case "run-fit":
            return run_title(finding)
        case "sheet-fit" if finding.severity == "problem":
            return tr("Raft {raft} is larger than every sheet", raft=finding.raft)
        case "sheet-fit":
            return tr("There are not enough sheets on hand")
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
            return pot_title(finding, holes, one)
        case "jam" | "gap" | "open-water" | "lift" | "pressed":
            return fit_title(finding, unit)
        case _:
            return title_in_water(finding)


def finding_text(finding: Finding, unit: Unit, plan: Plan | None = None) -> str:
    """Say how far off it is and what clears it; with the plan, how far and which way to move."""
    return " ".join([*_amounts(finding, unit), *_remedy(finding, unit, plan)])


def cure_label(cure: Cure, unit: Unit) -> str:
    """Name the change that clears a finding, as an order."""
    match cure:
        case MoveHole(raft, hole, x, y):
            place = _place_words(x, y, unit)
            return tr("Move {raft} {hole} to {place}", raft=raft, hole=hole, place=place)
        case LeaveOut(raft, hole):
            return tr("Leave {raft} {hole} out", raft=raft, hole=hole)
        case SetLength("planting.round_to", mm):
            return tr("Round places to {mm}", mm=step_words(mm))
        case SetLength(field, mm):
            return tr(
                "Set {field} to {mm}",
                field=field_words(field),
                mm=format_length(mm, unit, decimals=3),
            )
        case DropHandEdit():
            return tr("Forget it")
        case SetTarget():
            return target_label(cure)
        case DropFromZone(zone, raft):
            return (
                tr("Take {raft} out of “{zone}”", raft=raft, zone=zone)
                if raft
                else tr("Remove the zone “{zone}”", zone=zone)
            )
        case TakeFoam(_, mm):
            return tr("Take foam of {mm}", mm=_length(mm, unit))
        case TakeFill(text):
            return tr("Take it as {text}", text=text)
        case TakePot(pot, mm):
            return tr("Take a “{pot}” that is {mm} deep", pot=pot, mm=_length(mm, unit))
        case SealEdge():
            return tr("Put a strip at the wall")


def finding_line(finding: Finding, unit: Unit, plan: Plan) -> str:
    """Say all of a finding in one line, how grave it is and the bed first."""
    where = f"{finding.bed}: " if finding.bed else ""
    text = finding_text(finding, unit, plan)
    title = finding_title(finding, unit)
    end = "" if title.endswith("?") else "."
    return f"{tr(_SEVERITIES[finding.severity])}: {where}{title}{end} {text}".rstrip()


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


def threshold_sentence(threshold: Threshold, unit: Unit) -> str:
    """Say how far a length may go with the same plants, and where there are more; may be empty."""
    parts: list[str] = []
    count = threshold.plants
    if threshold.same_up_to is not None:
        at = rounded_down(threshold.same_up_to, unit)
        parts.append(tr(_SAME_UP_TO[threshold.knob][count != 1], count=count, at=at))
    if threshold.more_at is not None:
        at = rounded_down(threshold.more_at, unit)
        parts.append(tr(_MORE_AT[threshold.knob], at=at, more=threshold.more_plants - count))
    sentence = "; ".join(parts)
    return f"{sentence[:1].upper()}{sentence[1:]}." if sentence else ""


def threshold_words(threshold: Threshold, unit: Unit) -> str:
    """Name a length, the largest that holds the same plants, and where there are more."""
    parts = []
    if threshold.same_up_to is not None:
        parts.append(rounded_down(threshold.same_up_to, unit))
    if threshold.more_at is not None:
        more = threshold.more_plants - threshold.plants
        parts.append(
            tr("at {more_at} {more} more", more_at=rounded_down(threshold.more_at, unit), more=more)
        )
    return f"{tr(_KNOBS[threshold.knob])} {', '.join(parts)}" if parts else ""


def rounded_down(mm: Fraction, unit: Unit) -> str:
    """Write a threshold to 0.1 mm or 1/32 in, never above it."""
    step = fine_step(unit)
    return exact_text(Length(floor(mm / step) * step), unit)


def found_sentence(found: Found, unit: Unit) -> str:
    """Say what came of a wanted number of plants."""
    counted = found.counted
    if found.spacing is None:
        return tr(
            "{wanted} do not fit: holes and foam leave room for {most} at most",
            wanted=found.wanted,
            most=plural(counted.plants, "plant"),
        )
    per_area = format_density(found.density_per_m2, unit)
    return tr(
        "{plants}, {per_area}: spacing up to {spacing}, {rows}",
        plants=plural(counted.plants, "plant"),
        per_area=per_area,
        spacing=rounded_down(found.spacing, unit),
        rows=rows_name(counted.pattern, counted.direction),
    )


def squeezed_title(offer: Offer) -> str:
    """Say how many holes squeezing won, and on which raft."""
    return tr_n(
        "{n} more hole on raft {raft}",
        "{n} more holes on raft {raft}",
        offer.gain,
        raft=offer.question.raft,
    )


def squeezed_text(offer: Offer, plants: int) -> str:
    """Say what squeezing wins on the raft and in the bed that has ``plants`` now, and its price."""
    asked, found = offer.question, offer.found
    words = [tr("{found} instead of {now}.", found=len(found), now=len(asked.begin))]
    if len(asked.rafts) > 1:
        words.append(tr("The same holes go on all {rafts} rafts like it.", rafts=len(asked.rafts)))
    if plants > len(asked.begin):
        words.append(
            tr(
                "The whole bed then holds {then} instead of {plants}.",
                then=plants + offer.whole_gain,
                plants=plants,
            )
        )
    if len(found) == asked.ceiling:
        words.append(tr("No arrangement holds more."))
    if offer.rows is not None:
        words.append(
            tr("Rows of another pattern hold {rows} and are easier to mark.", rows=offer.rows)
        )
    words.append(
        tr("The holes stand in no rows, so each has to be measured and marked on its own.")
    )
    if found.grid_mm is None:
        words.append(tr("Their places are in no round figures."))
    elif found.grid_mm == 1:
        words.append(tr("All of them are in whole millimetres from the datum corner."))
    else:
        step = step_words(found.grid_mm)
        words.append(tr("They are in steps of {step} from the datum corner.", step=step))
    return " ".join(words)


def not_squeezed_text(question: Question, rows: int | None = None) -> str:
    """Say that squeezing won nothing on a raft, and what is known about winning more."""
    now, most = len(question.begin), question.ceiling
    holes = plural(now, "hole")
    if now > most:
        return tr(
            "Raft {raft} has {holes}. Free places keep the full margin at every "
            "joint, and with it no arrangement holds more than {most}.",
            raft=question.raft,
            holes=holes,
            most=most,
        )
    if now == most:
        return tr(
            "Raft {raft} has {holes}: the most that any arrangement holds.",
            raft=question.raft,
            holes=holes,
        )
    if rows is not None:
        return tr(
            "Raft {raft} has {holes}. Rows of another pattern hold {rows}, and no "
            "free places that hold more were found: choose “best” as the pattern "
            "and the rows.",
            raft=question.raft,
            holes=holes,
            rows=rows,
        )
    words = [
        tr(
            "No room for more than {holes} was found on raft {raft}.",
            holes=holes,
            raft=question.raft,
        )
    ]
    best = question.best_known
    if best is not None and best == now:
        words.append(tr("The best known layout of such a raft holds {best} too.", best=best))
    elif best is not None and best > now:
        words.append(tr("The best known layout of such a raft holds {best}.", best=best))
    words.append(tr("It is proved that none holds more than {most}.", most=most))
    return " ".join(words)


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


def field_words(field: str) -> str:
    """Name a length of the project file in words: "planting.spacing" is "the spacing"."""
    if of_sheet := re.fullmatch(r"sheets\.(\d+)\.(\w+)", field):
        words = _SHEET_FIELDS.get(of_sheet[2], of_sheet[2])
        return tr("{field} of sheet {sheet}", field=tr(words), sheet=int(of_sheet[1]) + 1)
    if of_zone := re.fullmatch(r"zones\.(\d+)\.(\w+)", field):
        words = field_words(f"planting.{of_zone[2]}")
        return tr("{field} of zone {zone}", field=words, zone=int(of_zone[1]) + 1)
    if of_obstacle := re.fullmatch(r"obstacles\.(\d+)\.(\w+)", field):
        words = field_words(of_obstacle[2])
        return tr("{field} of obstacle {obstacle}", field=words, obstacle=int(of_obstacle[1]) + 1)
    return tr(_FIELDS.get(field, f"the {field.rpartition('.')[2].replace('_', ' ')}"))


def _amounts(finding: Finding, unit: Unit) -> Iterator[str]:
    amount, limit = _told_apart(finding.amount_mm, finding.limit_mm, unit)
    below = finding.amount_mm is not None and finding.amount_mm < 0
    over = _length(-(finding.amount_mm or 0.0), unit)
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
                place=_subject_place(finding, unit),
            )
        case "rounding":
            yield _too_near_on_steps(finding)
        case "pin-idle":
            yield tr("It was at {place} there.", place=_subject_place(finding, unit))
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


def step_words(mm: float) -> str:
    """Write a step of the tape, or a length on its steps, in the unit it is whole in."""
    inches = Fraction(repr(mm)) / MM_PER["in"]
    return exact_text(Length.of(mm), "in" if (inches * 64).denominator == 1 else "mm")


def _too_near_on_steps(finding: Finding) -> str:
    """Say what rounding would break; so small a length is read in millimetres by everyone."""
    step, amount = step_words(finding.limit_mm or 0.0), _length(finding.amount_mm, "mm")
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
    amount, limit = _told_apart(finding.amount_mm, finding.limit_mm, unit)
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
            over = _length(-(finding.amount_mm or 0.0), unit)
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


def _remedy(finding: Finding, unit: Unit, plan: Plan | None) -> Iterator[str]:
    match finding.cure:
        case MoveHole(raft, hole, x, y):
            move = _move(plan, finding.bed, MoveHole(raft, hole, x, y), unit)
            if len(finding.holes) != 1:
                name = f"{raft} {hole}"
                yield (
                    tr("Moving {hole} {move} clears it.", hole=name, move=move)
                    if move
                    else tr("Moving {hole} clears it.", hole=name)
                )
            else:
                yield (
                    tr("Moving it {move} clears it.", move=move)
                    if move
                    else tr("Moving it clears it.")
                )
        case LeaveOut(raft, hole) if len(finding.holes) == 1:
            yield tr("No small move clears it; leaving it out does.")
        case LeaveOut(raft, hole):
            yield tr("No small move clears it; leaving {hole} out does.", hole=f"{raft} {hole}")
        case SetLength("planting.round_to", mm) if finding.code == "rounding":
            yield tr("Steps of {mm} leave none.", mm=step_words(mm))
        case SetLength(_, mm) if finding.code == "rounding":
            yield tr("A spacing of {mm} leaves none.", mm=step_words(mm))
        case SetLength(_, mm) if finding.code == "unit-slip":
            yield tr("Was {mm} meant?", mm=_length(mm, unit))
        case SetTarget():
            yield run_remedy(finding.cure)
        case _:
            yield from pot_remedy(finding, unit)


def _move(plan: Plan | None, bed: str, cure: MoveHole, unit: Unit) -> str:
    """Say how far and which way a hole moves, as the bed is drawn; empty without a plan."""
    for bed_plan in plan.beds if plan else ():
        for raft in bed_plan.rafts if bed_plan.bed.name == bed else ():
            if raft.name == cure.raft and cure.hole in raft.design.holes.names:
                x, y = raft.design.holes.xy[raft.design.holes.names.index(cure.hole)].tolist()
                way = -1 if raft.turned else 1
                return _directions((cure.x - x) * way, (cure.y - y) * way, unit)
    return ""


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


def _directions(dx: float, dy: float, unit: Unit) -> str:
    steps = (
        (dx, mark("{by} to the right"), mark("{by} to the left")),
        (dy, mark("{by} up"), mark("{by} down")),
    )
    words = [
        tr(ahead if by > 0 else back, by=_length(abs(by), unit))
        for by, ahead, back in steps
        if abs(by) >= 0.05
    ]
    return listed(words) if words else ""


def _told_apart(amount: float | None, limit: float | None, unit: Unit) -> tuple[str, str]:
    """Show two unlike lengths with as many decimals as it takes to see that they differ."""
    if amount is None or limit is None:
        return _length(amount, unit), _length(limit, unit)
    texts = "", ""
    for decimals in (1, 2, 3, 6, 9):
        texts = (
            format_length(amount, unit, decimals=decimals),
            format_length(limit, unit, decimals=decimals),
        )
        if texts[0] != texts[1]:
            break
    return texts


def _length(mm: float | None, unit: Unit) -> str:
    if mm is None:
        return ""
    decimals = 1 if not mm or abs(mm) >= 0.05 else 6
    return format_length(mm, unit, decimals=decimals)


def _hole(finding: Finding) -> str:
    if not finding.holes:
        return tr("A hole")
    return tr("Hole {raft} {hole}", raft=finding.raft, hole=finding.holes[0])


def _holes(finding: Finding) -> str:
    """Name two holes, with their raft once when they share it."""
    first, second = (*finding.holes, "", "")[:2]
    if " " in first:
        return tr("Holes {first} and {second}", first=first, second=second)
    return tr("Holes {raft} {first} and {second}", raft=finding.raft, first=first, second=second)


def _subject_place(finding: Finding, unit: Unit) -> str:
    x, y = map(float, finding.subject.split())
    return _place_words(x, y, unit)


def _place_words(x: float, y: float, unit: Unit) -> str:
    return tr("x {x}, y {y}", x=format_length(x, unit), y=format_length(y, unit))


def no_cure_reason(finding: Finding) -> str:
    """Say why no single change is offered that clears a finding; empty where one is."""
    if finding.cure is not None:
        return ""
    match finding.code:
        case "raft-fit" if finding.raft:
            return tr("No one length clears it: the rafts need other sizes, or the bed measuring.")
        case "raft-fit":
            return tr("No gap leaves room: the bed is too small for such rafts.")
        case "no-room":
            return tr(
                "One change is not enough: margin, web, hole or raft have to give way together."
            )
        case "unit-slip":
            return tr("Only you can tell: type it again if it is wrong.")
        case "bed-shape":
            return tr("Only you can tell where its corners are.")
        case "skew":
            return tr("Only the tape can tell.")
        case "rounding":
            return tr("No other step and no spacing near this one leaves none.")
        case "score-line":
            return tr("Which of these is best is for you to decide.")
        case "zone-empty" | "zone-fixed":
            return tr("What the zone is for is for you to decide.")
        case "run-fit":
            return run_no_cure()
        case "sheet-fit" if finding.severity == "problem":
            return tr("It takes a larger sheet, or smaller rafts.")
        case "sheet-fit":
            return tr("It takes more sheets on hand, or a number left open.")
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
            return no_pot_cure(finding)
        case "jam" | "gap" | "open-water" | "lift" | "pressed":
            return no_fit_cure(finding)
        case _:
            return no_cure_in_water(finding) or tr("No single change clears it.")
