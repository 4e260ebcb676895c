"""Findings and results in the grower's words and units."""

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import floor

from geometry.checks.finding import (
    Cure,
    DropFromZone,
    DropHandEdit,
    Finding,
    LeaveOut,
    MoveHole,
    SetLength,
)
from geometry.compare.counting import Knob
from geometry.compare.joint_rules import JointCounts
from geometry.compare.split_shift import SplitShift
from geometry.compare.squeezing import Offer, Question
from geometry.compare.thresholds import Threshold, fine_step
from geometry.compare.want import Found
from geometry.cutting.plan import CutPlan
from geometry.holes.place import Tried
from geometry.holes.proof import Proof
from geometry.plan import BedPlan, Plan
from geometry.units import MM_PER, Length, Unit, exact_text, format_density, format_length

_TIMES = "\N{MULTIPLICATION SIGN}"
_KNOBS: dict[Knob, str] = {
    "spacing": "spacing",
    "edge_margin": "edge margin",
    "clearance": "clearance",
    "joint_gap": "joint gap",
}
_FIELDS = {
    "outline.length": "the bed's length",
    "outline.width": "the bed's width",
    "clearance": "the clearance",
    "joint_gap": "the joint gap",
    "rafts.length": "the largest length of a raft",
    "rafts.width": "the largest width of a raft",
    "rafts.shift_along": "the shift of the joints along the bed",
    "rafts.shift_across": "the shift of the joints across the bed",
    "planting.spacing": "the spacing",
    "planting.row_spacing": "the row spacing",
    "planting.hole_diameter": "the hole diameter",
    "planting.edge_margin": "the edge margin",
    "planting.web": "the web",
    "planting.round_to": "the step of the places",
    "cutting.kerf": "the kerf",
    "cutting.trim": "the trim",
}


def finding_title(finding: Finding, unit: Unit) -> str:
    """Say in a few words what was found and where."""
    holes, one = _holes(finding), _hole(finding)
    amount = _length(finding.amount_mm, unit)
    match finding.code:
        case "spacing":
            return f"{holes} stand too close"
        case "web" if len(finding.holes) > 1:
            return f"{holes} leave too little foam between them"
        case "web":
            return f"{one} leaves too little foam at the edge"
        case "edge":
            return f"{one} is too near the edge of the raft"
        case "joint":
            return f"{holes} come too close where rafts meet"
        case "obstacle":
            return f"{one} is too near the {finding.subject}"
        case "raft-fit" if finding.raft:
            return f"Raft {finding.raft} is too near the wall"
        case "raft-fit" if finding.severity == "note":
            return f"The rafts have no play {_between(finding)}"
        case "raft-fit":
            return "There is no room for a raft"
        case "no-room":
            return "There is no room for a hole"
        case "unit-slip":
            return f"Is {field_words(finding.subject)} really {amount}?"
        case "bed-shape" if finding.subject == "outline":
            return "The outline of the bed is no outline"
        case "bed-shape":
            return f"The outline of the {finding.subject} is no outline"
        case "skew":
            return f"The bed is out of true by {amount}"
        case "blank-idle":
            return f"A site left out on raft {finding.raft} is there no more"
        case "pin-idle":
            return f"A hole placed by hand lies on raft {finding.raft}, which is no more"
        case "rounding" if finding.subject == "1":
            return f"{one} keeps its exact place"
        case "rounding":
            return f"{finding.subject} holes on raft {finding.raft} keep their exact places"
        case "score-line":
            return f"Raft {finding.raft} has a score line along its long side"
        case "zone-outside" if finding.raft:
            return f"The zone “{finding.subject}” names raft {finding.raft}, which is not there"
        case "zone-outside":
            return f"The zone “{finding.subject}” lies on no raft"
        case "zone-empty":
            return f"No hole fits into the zone “{finding.subject}”"
        case "zone-fixed":
            return f"The zone “{finding.subject}” covers only a part of raft {finding.raft}"
        case "sheet-fit" if finding.severity == "problem":
            return f"Raft {finding.raft} is larger than every sheet"
        case "sheet-fit":
            return "There are not enough sheets on hand"


def finding_text(finding: Finding, unit: Unit, plan: Plan | None = None) -> str:
    """Say how far off it is and what clears it; with the plan, how far and which way to move."""
    return " ".join([*_amounts(finding, unit), *_remedy(finding, unit, plan)])


def cure_label(cure: Cure, unit: Unit) -> str:
    """Name the change that clears a finding, as an order."""
    match cure:
        case MoveHole(raft, hole, x, y):
            place = f"x {format_length(x, unit)}, y {format_length(y, unit)}"
            return f"Move {raft} {hole} to {place}"
        case LeaveOut(raft, hole):
            return f"Leave {raft} {hole} out"
        case SetLength("planting.round_to", mm):
            return f"Round places to {step_words(mm)}"
        case SetLength(field, mm):
            return f"Set {field_words(field)} to {format_length(mm, unit, decimals=3)}"
        case DropHandEdit():
            return "Forget it"
        case DropFromZone(zone, raft):
            return f"Take {raft} out of “{zone}”" if raft else f"Remove the zone “{zone}”"


def finding_line(finding: Finding, unit: Unit, plan: Plan) -> str:
    """Say all of a finding in one line, how grave it is and the bed first."""
    where = f"{finding.bed}: " if finding.bed else ""
    text = finding_text(finding, unit, plan)
    title = finding_title(finding, unit)
    end = "" if title.endswith("?") else "."
    return f"{finding.severity}: {where}{title}{end} {text}".rstrip()


def pattern_words(tried: Tried, unit: Unit) -> str:
    """Say what a planting got: rows, their distances and the plants."""
    rows = f"{tried.pattern} {tried.direction}".rstrip()
    return f"{rows}, {_sizes(tried, unit)}: {tried.plants} {_plural(tried.plants, 'plant')}"


def winner_sentence(plan: BedPlan, unit: Unit) -> str:
    """Say which pattern won, its distances and its plants, and what the other patterns hold.

    In a bed with zones: what the bed's own planting got, and then each zone.
    """
    if plan.bed.zones and plan.bed.planting is not None:
        names = ["the rest", *(zone.name for zone in plan.bed.zones)]
        return (
            "; ".join(
                f"{name}: {pattern_words(tried, unit)}"
                for name, tried in zip(names, plan.by_planting, strict=False)
                if tried is not None
            )
            or "no hole fits"
        )
    if not plan.tried:
        return "no hole fits" if plan.bed.planting else "nothing is planted"
    best = plan.tried[0]
    others: dict[str, int] = {}
    for tried in plan.tried[1:]:
        if tried.pattern != best.pattern:
            others[tried.pattern] = max(tried.plants, others.get(tried.pattern, 0))
    spacing = plan.bed.planting.spacing.mm if plan.bed.planting else 0.0
    opened = "opened to" if best.pitch_mm > spacing + 0.05 else "at"
    words = f"{best.pattern} {best.direction}".rstrip()
    sentence = (
        f"{words}, {opened} {_sizes(best, unit)}: {best.plants} {_plural(best.plants, 'plant')}"
    )
    rest = ", ".join(f"{pattern} {plants}" for pattern, plants in others.items())
    if plan.plants != best.plants:
        sentence = f"{sentence}, {plan.plants} with what was placed or left out by hand"
    return f"{sentence}; {rest}" if rest else sentence


def proof_words(proof: Proof) -> str:
    """Say in a few words what no arrangement exceeds: that it is reached, or the ceiling."""
    if proof.kind == "full":
        return f"no arrangement{_alike(proof)} holds more"
    return f"at most {proof.ceiling} by proof"


def proof_sentence(plan: BedPlan) -> str:
    """Say how far it is proved that the bed holds no more, and what is only known; may be empty."""
    proof = plan.proof
    if proof is None:
        return ""
    if proof.kind == "full":
        return f"{plan.plants} plants: {proof_words(proof)}, by proof"
    parts = [f"{plan.plants} of at most {proof.ceiling}{_alike(proof)}"]
    rows = _or(proof.families)
    where = "" if proof.direction == "best" else f" {proof.direction} the bed"
    match proof.kind:
        case "rows":
            parts.append(f"no {rows} rows{where} hold more")
        case "shift" if proof.families == ("rows",):
            parts.append(f"no shift of rows filled one by one{where} holds more")
        case "shift":
            tried = where or " in the directions tried"
            parts.append(f"no shift of {rows} rows holds more{tried}")
        case _:
            pass
    if proof.record is not None:
        parts.append(f"best known for a {proof.shape}: {proof.record}")
    return "; ".join(parts)


def _alike(proof: Proof) -> str:
    return " on rafts all alike" if proof.alike else ""


def _or(words: Sequence[str]) -> str:
    *others, last = words or ("",)
    return f"{', '.join(others)} or {last}" if others else last


def threshold_sentence(threshold: Threshold, unit: Unit) -> str:
    """Say how far a length may go with the same plants, and where there are more; may be empty."""
    parts: list[str] = []
    count, word = threshold.plants, _KNOBS[threshold.knob]
    same = f"the same {count} plants" if count > 1 else "the one plant"
    article = "an" if word[0] in "aeiou" else "a"
    if threshold.same_up_to is not None:
        at = rounded_down(threshold.same_up_to, unit)
        if threshold.knob == "spacing":
            parts.append(f"{same} fit{'s' if count == 1 else ''} up to {at}")
        else:
            parts.append(f"{same} up to {article} {word} of {at}")
    if threshold.more_at is not None:
        at = rounded_down(threshold.more_at, unit)
        where = f"at {at}" if threshold.knob == "spacing" else f"with {at} {word}"
        parts.append(f"{where} you gain {threshold.more_plants - count}")
    sentence = "; ".join(parts)
    return f"{sentence[:1].upper()}{sentence[1:]}." if sentence else ""


def threshold_words(threshold: Threshold, unit: Unit) -> str:
    """Name a length, the largest that holds the same plants, and where there are more."""
    parts = []
    if threshold.same_up_to is not None:
        parts.append(rounded_down(threshold.same_up_to, unit))
    if threshold.more_at is not None:
        more = threshold.more_plants - threshold.plants
        parts.append(f"at {rounded_down(threshold.more_at, unit)} {more} more")
    return f"{_KNOBS[threshold.knob]} {', '.join(parts)}" if parts else ""


def rounded_down(mm: Fraction, unit: Unit) -> str:
    """Write a threshold to 0.1 mm or 1/32 in, never above it."""
    step = fine_step(unit)
    return exact_text(Length(floor(mm / step) * step), unit)


def found_sentence(found: Found, unit: Unit) -> str:
    """Say what came of a wanted number of plants."""
    counted = found.counted
    if found.spacing is None:
        most = f"{counted.plants} {_plural(counted.plants, 'plant')}"
        return f"{found.wanted} do not fit: holes and foam leave room for {most} at most"
    rows = f"{counted.pattern} {counted.direction}".rstrip()
    plants = f"{counted.plants} {_plural(counted.plants, 'plant')}"
    per_area = format_density(found.density_per_m2, unit)
    return f"{plants}, {per_area}: spacing up to {rounded_down(found.spacing, unit)}, {rows}"


def squeezed_title(offer: Offer) -> str:
    """Say how many holes squeezing won, and on which raft."""
    gain = offer.gain
    return f"{gain} more {_plural(gain, 'hole')} on raft {offer.question.raft}"


def squeezed_text(offer: Offer, plants: int) -> str:
    """Say what squeezing wins on the raft and in the bed that has ``plants`` now, and its price."""
    asked, found = offer.question, offer.found
    words = [f"{len(found)} instead of {len(asked.begin)}."]
    if len(asked.rafts) > 1:
        words.append(f"The same holes go on all {len(asked.rafts)} rafts like it.")
    if plants > len(asked.begin):
        words.append(f"The whole bed then holds {plants + offer.whole_gain} instead of {plants}.")
    if len(found) == asked.ceiling:
        words.append("No arrangement holds more.")
    if offer.rows is not None:
        words.append(f"Rows of another pattern hold {offer.rows} and are easier to mark.")
    words.append("The holes stand in no rows, so each has to be measured and marked on its own.")
    if found.grid_mm is None:
        words.append("Their places are in no round figures.")
    elif found.grid_mm == 1:
        words.append("All of them are in whole millimetres from the datum corner.")
    else:
        step = step_words(found.grid_mm)
        words.append(f"They are in steps of {step} from the datum corner.")
    return " ".join(words)


def not_squeezed_text(question: Question, rows: int | None = None) -> str:
    """Say that squeezing won nothing on a raft, and what is known about winning more."""
    now, most = len(question.begin), question.ceiling
    holes = f"{now} {_plural(now, 'hole')}"
    if now > most:
        return (
            f"Raft {question.raft} has {holes}. Free places keep the full margin at every joint, "
            f"and with it no arrangement holds more than {most}."
        )
    if now == most:
        return f"Raft {question.raft} has {holes}: the most that any arrangement holds."
    if rows is not None:
        return (
            f"Raft {question.raft} has {holes}. Rows of another pattern hold {rows}, and no free "
            "places that hold more were found: choose “best” as the pattern and the rows."
        )
    words = f"No room for more than {holes} was found on raft {question.raft}."
    if question.best_known is not None and question.best_known >= now:
        best = question.best_known
        also = "too" if best == now else ""
        words += f" The best known layout of such a raft holds {best} {also}".rstrip() + "."
    return f"{words} It is proved that none holds more than {most}."


def split_shift_sentence(shift: SplitShift, unit: Unit) -> str:
    """Say what moving the joints of a bed wins and what it costs; or that there is nothing."""
    if shift.gain <= 0:
        return "The joints lie well where they are: no shift that was tried gives more plants."
    moves = []
    for way, new, old in (
        ("along", shift.along, shift.along_now),
        ("across", shift.across, shift.across_now),
    ):
        by = new.exact - old.exact
        if by:
            back = "" if by > 0 else " back"
            moves.append(f"{exact_text(Length(abs(by)), unit)}{back} {way}")
    sentence = (
        f"Moving the joints {' and '.join(moves)} the bed gives {shift.gain} more "
        f"{_plural(shift.gain, 'plant')}: {shift.plants} instead of {shift.plants_now}."
    )
    costs = []
    if shift.designs != shift.designs_now:
        costs.append(
            f"{shift.designs} {_plural(shift.designs, 'raft design')} instead of "
            f"{shift.designs_now}"
        )
    if shift.sheets != shift.sheets_now:
        costs.append(
            f"{shift.sheets} {_plural(shift.sheets, 'sheet')} instead of {shift.sheets_now}"
        )
    return f"{sentence} It takes {' and '.join(costs)}." if costs else sentence


def joint_sentence(counts: JointCounts) -> str:
    """Say what it costs, or would cost, that every raft may lie in any place."""
    some, cost = counts.interchangeable, counts.cost
    if counts.rule == "interchangeable":
        words = f"being interchangeable costs {cost}" if cost else "interchangeable costs nothing"
        return f"{some} in this bed, bed-wide {counts.bed_wide}: {words}."
    if not cost:
        return f"Interchangeable rafts would hold {some} as well."
    return f"Interchangeable rafts would hold {some}, {cost} fewer than bed-wide."


def cut_sentence(cut: CutPlan) -> str:
    """Say what the cutting needs, and what is proved about it: "5 sheets; no plan needs fewer"."""
    words = f"{cut.bought_count} {_plural(cut.bought_count, 'sheet')}"
    offcuts = cut.sheet_count - cut.bought_count
    if offcuts:
        from_stock = f"{offcuts} {_plural(offcuts, 'offcut')} on hand"
        words = f"{words} and {from_stock}" if cut.bought_count else from_stock
    if cut.cost:
        words += f" for {float(cut.cost):.2f}"
    missing = sum(count for _, count in cut.unplaced)
    if missing:
        words += f"; {missing} {_plural(missing, 'raft')} without a sheet"
    if not cut.sheets or cut.bound is None:
        return words
    if cut.proved and cut.bought_count:
        return f"{words}; no plan {'costs less' if cut.aim == 'cost' else 'needs fewer'}"
    if cut.proved:
        return f"{words}; nothing is bought"
    if cut.aim == "cost":
        return f"{words}; every plan costs {float(cut.bound):.2f} or more"
    return f"{words}; every plan needs {int(cut.bound)} or more"


def field_words(field: str) -> str:
    """Name a length of the project file in words: "planting.spacing" is "the spacing"."""
    if of_sheet := re.fullmatch(r"sheets\.(\d+)\.(\w+)", field):
        return f"the {of_sheet[2]} of sheet {int(of_sheet[1]) + 1}"
    if of_zone := re.fullmatch(r"zones\.(\d+)\.(\w+)", field):
        return f"{field_words(f'planting.{of_zone[2]}')} of zone {int(of_zone[1]) + 1}"
    return _FIELDS.get(field, f"the {field.rpartition('.')[2].replace('_', ' ')}")


def _amounts(finding: Finding, unit: Unit) -> Iterator[str]:
    amount, limit = _told_apart(finding.amount_mm, finding.limit_mm, unit)
    below = finding.amount_mm is not None and finding.amount_mm < 0
    over = _length(-(finding.amount_mm or 0.0), unit)
    wanted = f"{limit} is wanted."
    match finding.code:
        case "spacing" if finding.crops:
            yield f"They are {amount} apart, centre to centre; {_mean_words(finding, limit)}"
        case "spacing":
            yield f"They are {amount} apart, centre to centre; {wanted}"
        case "web" if len(finding.holes) > 1 and below:
            yield f"Their rims overlap by {over}; {limit} of foam is wanted."
        case "web" if below:
            yield f"It reaches over the edge by {over}; {limit} of foam is wanted."
        case "web":
            yield f"There is {amount} of foam; {wanted}"
        case "edge" if below:
            yield f"Its centre lies {over} off the raft; {limit} from the edge is wanted."
        case "edge":
            yield f"Its centre is {amount} from the edge; {wanted}"
        case "joint":
            turned = " when one of them lies turned half round" if finding.subject else ""
            words = _mean_words(finding, limit) if finding.crops else wanted
            yield f"They are {amount} apart{turned}; {words}"
        case "obstacle" if below:
            yield f"Its rim reaches {over} into it; {limit} off it is wanted."
        case "obstacle":
            yield f"Its rim is {amount} away; {wanted}"
        case "raft-fit" | "no-room" | "sheet-fit":
            yield from _room(finding, unit)
        case "unit-slip":
            is_small = (finding.amount_mm or 0.0) < (finding.limit_mm or 0.0)
            yield f"Usual is {limit} {'or more' if is_small else 'at most'}."
        case "bed-shape":
            yield "It encloses nothing or crosses itself; check its corners and their order."
        case "skew" if finding.severity == "question":
            yield "That is more than beds usually are; measure once more."
        case "skew":
            yield "The rafts are planned for the smallest rectangle that is safe."
        case "score-line":
            yield (
                f"It lies {amount} from the edge, where {finding.subject} is scored and may break. "
                "Let rafts be turned, make them shorter, or take a plain board."
            )
        case "zone-outside" if finding.raft:
            yield "The bed is split into other rafts now."
        case "zone-outside":
            yield "Move it onto a raft, or remove it."
        case "zone-empty":
            yield "Make it larger or its spacing smaller; a later zone may lie on it."
        case "zone-fixed":
            yield "Such rafts are made for their own place and cannot change places with others."
        case "blank-idle":
            yield f"The pattern has no site near {_subject_place(finding, unit)} any more."
        case "rounding":
            yield _too_near_on_steps(finding)
        case "pin-idle":
            yield f"It was at {_subject_place(finding, unit)} there."


def step_words(mm: float) -> str:
    """Write a step of the tape, or a length on its steps, in the unit it is whole in."""
    inches = Fraction(repr(mm)) / MM_PER["in"]
    return exact_text(Length.of(mm), "in" if (inches * 64).denominator == 1 else "mm")


def _too_near_on_steps(finding: Finding) -> str:
    """Say what rounding would break; so small a length is read in millimetres by everyone."""
    start = f"Rounded to {step_words(finding.limit_mm or 0.0)},"
    amount = _length(finding.amount_mm, "mm")
    if len(finding.holes) > 1:
        first, second = finding.holes
        return f"{start} {first} and {second} would come {amount} too near each other."
    return f"{start} {finding.holes[0]} would come {amount} too near an edge or an obstacle."


def _mean_words(finding: Finding, limit: str) -> str:
    """Say what two unlike crops want, by name where both have one that differs."""
    first, second = finding.crops
    if first == second or not (first and second):
        return f"{limit}, the mean of their spacings, is wanted."
    return f"{limit} is wanted, the mean for {first} and {second}."


def _room(finding: Finding, unit: Unit) -> Iterator[str]:
    amount, limit = _told_apart(finding.amount_mm, finding.limit_mm, unit)
    words = field_words(finding.subject)
    match finding.code:
        case "no-room":
            yield (
                f"The middle of the widest raft is {amount} from its edge; the centre of a hole "
                f"keeps {limit}."
            )
        case "sheet-fit" if finding.limit_mm is not None:
            yield f"It needs {amount} where the nearest, {finding.subject}, gives {limit}."
        case "sheet-fit":
            yield f"Not all rafts of the design {finding.raft} can be cut from them."
        case _ if finding.raft and (finding.amount_mm or 0.0) < 0:
            over = _length(-(finding.amount_mm or 0.0), unit)
            yield f"It reaches {over} into the wall; a clearance of {limit} is wanted."
        case _ if finding.raft:
            yield f"It is {amount} away; a clearance of {limit} is wanted."
        case _ if finding.severity == "note":
            yield f"{words.capitalize()} is 0; {limit} is usual, so that rafts come out freely."
        case _ if finding.limit_mm is None:
            yield f"{words.capitalize()} is {amount}, but the bed is too small for any."
        case _:
            yield f"{words.capitalize()} is {amount}; at most {limit} leaves room."


def _remedy(finding: Finding, unit: Unit, plan: Plan | None) -> Iterator[str]:
    match finding.cure:
        case MoveHole(raft, hole, x, y):
            move = _move(plan, finding.bed, MoveHole(raft, hole, x, y), unit)
            it = "it" if len(finding.holes) == 1 else f"{raft} {hole}"
            yield f"Moving {it}{move} clears it."
        case LeaveOut(raft, hole):
            it = "it" if len(finding.holes) == 1 else f"{raft} {hole}"
            yield f"No small move clears it; leaving {it} out does."
        case SetLength("planting.round_to", mm) if finding.code == "rounding":
            yield f"Steps of {step_words(mm)} leave none."
        case SetLength(_, mm) if finding.code == "rounding":
            yield f"A spacing of {step_words(mm)} leaves none."
        case SetLength(_, mm) if finding.code == "unit-slip":
            yield f"Was {_length(mm, unit)} meant?"
        case _:
            pass


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
    steps = ((dx, "to the right", "to the left"), (dy, "up", "down"))
    words = [
        f"{_length(abs(by), unit)} {ahead if by > 0 else back}"
        for by, ahead, back in steps
        if abs(by) >= 0.05
    ]
    return f" {' and '.join(words)}" if words else ""


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
    return f"Hole {finding.raft} {finding.holes[0]}" if finding.holes else "A hole"


def _holes(finding: Finding) -> str:
    """Name two holes, with their raft once when they share it."""
    first, second = (*finding.holes, "", "")[:2]
    if " " in first:
        return f"Holes {first} and {second}"
    return f"Holes {finding.raft} {first} and {second}"


def _between(finding: Finding) -> str:
    return "at the wall" if finding.subject == "clearance" else "between each other"


def _subject_place(finding: Finding, unit: Unit) -> str:
    x, y = (format_length(float(part), unit) for part in finding.subject.split())
    return f"x {x}, y {y}"


def _plural(count: int, noun: str) -> str:
    return noun if count == 1 else f"{noun}s"
