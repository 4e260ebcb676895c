"""What a run takes and gives, in words."""

from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from math import floor

from geometry.drawing.run_figures import lack_words
from geometry.flow.room import Taken
from geometry.flow.run_plan import RunPlan
from geometry.flow.what_if import Loss, Order, raft_places
from geometry.model.run import Run
from geometry.tongue import listed, number, tr, tr_n
from layout_gui.panels.dates import date_text
from layout_gui.panels.words import counted


def exact(value: Fraction) -> str:
    """Write a number of plants with a decimal where it is no whole one, never rounded up."""
    return number(floor(value * 10) / 10)


def batch_words(made: RunPlan) -> str:
    """Say what is sown for each batch and what comes of it."""
    if made.lack:
        return lack_words(made)
    words = tr_n(
        "Each batch: {n} seed, {harvest} to pick.",
        "Each batch: {n} seeds, {harvest} to pick.",
        made.seeds,
        harvest=exact(made.harvest),
    )
    if made.run.picks > 1:
        words = tr(
            "{words} That much {times} times, {plants} in all.",
            words=words,
            times=made.run.picks,
            plants=exact(made.harvest * made.run.picks),
        )
    return f"{words} {pack_words(made)}".rstrip()


def pack_words(made: RunPlan) -> str:
    """Say how many packs a sowing takes; empty where no pack is known."""
    packs = []
    if made.seed_packs is not None:
        packs.append(tr_n("{n} pack of seed", "{n} packs of seed", made.seed_packs))
    if made.plug_packs is not None:
        packs.append(tr_n("{n} pack of plugs", "{n} packs of plugs", made.plug_packs))
    return tr("That is {packs}.", packs=listed(packs)) if packs else ""


def target_words(made: RunPlan) -> str:
    """Say what the batch is made of, and what one raft less would give."""
    if made.lack:
        return ""
    last = [stage for stage in made.stages if stage.rafts]
    if not last:
        return ""
    rafts = counted(last[-1].rafts, "raft")
    if made.run.share_rafts:
        return tr("{plants} a batch, on rafts they share", plants=counted(last[-1].plants, "plant"))
    if made.run.target is not None and made.one_less is not None and last[-1].rafts > 1:
        return tr(
            "{rafts} give {harvest}; one less gives {less}",
            rafts=rafts,
            harvest=exact(made.harvest),
            less=exact(made.one_less),
        )
    return tr("{rafts} give {harvest}", rafts=rafts, harvest=exact(made.harvest))


def week_words(made: RunPlan) -> str:
    """Say what comes out a week, in whole plants."""
    return tr("{n} a week", n=floor(made.per_week)) if not made.lack else tr("not reckoned yet")


def calendar_words(made: RunPlan) -> str:
    """Say when there is something to pick first, and when to sow last."""
    if made.run.first is None:
        return tr("{days} from sowing to picking. Give the day of the first sowing, and the weeks "
                  "have dates.", days=counted(made.days, "day"))  # fmt: skip
    if made.first_harvest is None:
        return "" if made.lack else lack_words(made)
    words = tr("First harvest on {day}.", day=date_text(made.first_harvest))
    if made.last_sowing is not None:
        words = tr("{first} Last sowing on {day}.", first=words, day=date_text(made.last_sowing))
    return words


def stage_line(run: Run, at: int, made: RunPlan | None) -> str:
    """Say one stage in a line: its name, its days, and what it takes."""
    stage = run.stages[at]
    parts = [stage.name, counted(stage.days, "day")]
    own = made.stages[at] if made is not None and at < len(made.stages) else None
    if own is not None and own.places:
        parts.append(tr_n("{n} raft place", "{n} raft places", own.places))
    elif own is not None:
        parts.append(counted(own.plants, "plant"))
    return ", ".join(parts)


def stage_words(made: RunPlan, at: int) -> str:
    """Say what one stage takes, and how that comes about."""
    if made.lack or not made.stages[at].rafts:
        return ""
    own = made.stages[at]
    if made.run.share_rafts:
        return tr(
            "{plants} at once on {rafts}",
            plants=counted(own.plants * own.at_once, "plant"),
            rafts=counted(own.places, "raft"),
        )
    return tr(
        "{rafts} a batch, {batches} side by side: {places} places",
        rafts=counted(own.rafts, "raft"),
        batches=tr_n("{n} batch", "{n} batches", own.at_once),
        places=own.places,
    )


def places_words(taken: Taken, rafts: Sequence[tuple[str, int]], spares: int) -> str:
    """Say how full each bed is on its fullest day, of how many rafts, and how many are spare."""
    most = taken.most
    lines = [
        tr(
            "{bed}: {taken} of {rafts} places on the fullest day.",
            bed=bed,
            taken=most[bed],
            rafts=count,
        )
        for bed, count in rafts
        if bed in most
    ]
    if lines and spares:
        floating = sum(most.values())
        more = -(-floating * spares // 100)
        lines.append(
            tr_n(
                "With {percent} % to wash and dry in turn, {n} raft more.",
                "With {percent} % to wash and dry in turn, {n} rafts more.",
                more,
                percent=spares,
            )
        )
    return " ".join(lines)


def loss_words(loss: Loss | None) -> str:
    """Say what a batch that fails costs, and what sowing again brings."""
    if loss is None:
        return tr("There is no such batch on that day.")
    days = loss.batch.picks
    words = (
        tr(
            "{n} are missing in the week of {day}, and nowhere else.",
            n=loss.batch.harvest,
            day=date_text(days[0]),
        )
        if len(days) == 1
        else tr(
            "{n} are missing, at each of the {times} pickings {span}.",
            n=loss.batch.harvest,
            times=len(days),
            span=span_words(days[0], days[-1]),
        )
    )
    again = tr(
        "Sown again on {sown}, as many are ripe on {ripe}, {late} late.",
        sown=date_text(loss.sown),
        ripe=date_text(loss.ripe),
        late=counted(max(loss.late, 0), "day"),
    )
    free = (
        tr_n("{n} raft is free until then.", "{n} rafts are free until then.", loss.free)
        if loss.free
        else ""
    )
    return f"{words} {again} {free}".rstrip()


def order_words(order: Order) -> str:
    """Say by when to sow how much for an order."""
    return tr_n(
        "For {plants} on {day}, sow {n} seed by {by}.",
        "For {plants} on {day}, sow {n} seeds by {by}.",
        order.seeds,
        plants=order.plants,
        day=date_text(order.day),
        by=date_text(order.sow_by),
    )


def density_words(made: RunPlan, other: RunPlan | None) -> str:
    """Compare plants that are moved apart with plants at the last spacing all along."""
    if other is None or other.lack:
        return ""
    now, then = raft_places(made), raft_places(other)
    return tr(
        "Moved apart on the way, all batches take {now} raft places; at the last spacing all along "
        "they would take {then}, with one handling less of every plant.",
        now=now,
        then=then,
    )


def span_words(first: date, last: date) -> str:
    """Write two days as a span."""
    return tr("{first} to {last}", first=date_text(first), last=date_text(last))
