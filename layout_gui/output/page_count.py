"""How many pages a document takes, said before anything is printed."""

from typing import Final

from geometry.drawing.paper import PageSetup
from geometry.drawing.template import Template
from geometry.tongue import number, tr_n
from layout_gui.output.documents import Laid

_MOST_NOTES: Final = 2


def count_words(laid: Laid, setup: PageSetup) -> str:
    """Say how many pages there are, how large, and how many are left out as nothing is on them."""
    words = tr_n("{n} page of {size}", "{n} pages of {size}", laid.total, size=setup.paper.size)
    if not isinstance(laid, Template):
        return words
    if setup.paper.roll_mm is not None:
        words = tr_n(
            "{n} page, the long ones from a roll {roll} mm wide",
            "{n} pages, the long ones from a roll {roll} mm wide",
            laid.total,
            roll=number(setup.paper.roll_mm),
        )
    if laid.left_out:
        words = tr_n(
            "{words}, {n} blank one left out",
            "{words}, {n} blank ones left out",
            laid.left_out,
            words=words,
        )
    return words


def paper_notes(laid: Laid) -> tuple[str, ...]:
    """Say which rafts the paper is too narrow for, and what helps."""
    if not isinstance(laid, Template):
        return ()
    notes = [each.roll_note for each in laid.sets if each.roll_note]
    if len(notes) <= _MOST_NOTES:
        return tuple(notes)
    more = len(notes) - _MOST_NOTES
    return (
        *notes[:_MOST_NOTES],
        tr_n("{n} more raft is too wide.", "{n} more rafts are too wide.", more),
    )


def template_words(laid: Laid, setup: PageSetup) -> tuple[str, ...]:
    """Say how many pages a template takes and what to know of its paper; empty for the rest."""
    return (count_words(laid, setup), *paper_notes(laid)) if isinstance(laid, Template) else ()
