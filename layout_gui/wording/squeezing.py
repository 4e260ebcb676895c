"""What squeezing found."""

from geometry.compare.squeezing import Offer, Question
from geometry.tongue import plural, tr, tr_n
from layout_gui.wording.lengths import step_words


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
