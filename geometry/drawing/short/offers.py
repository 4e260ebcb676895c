"""What each kind of template needs for each raft design: pages, the largest error, or why none."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from geometry.drawing.lettering import name_list
from geometry.drawing.paper import PageSetup
from geometry.drawing.short.cell import lay_cell
from geometry.drawing.short.corners import lay_corners
from geometry.drawing.short.document import ShortDocument
from geometry.drawing.short.jig import lay_jig
from geometry.drawing.short.job import about
from geometry.drawing.short.pegboard import lay_pegboard
from geometry.drawing.short.slips import SET_MM
from geometry.drawing.short.strip_pages import lay_strip
from geometry.drawing.short.trace import lay_trace
from geometry.drawing.template import lay_template
from geometry.plan import Plan
from geometry.tongue import mark, plural, tr
from geometry.watch import look_up

FULL: Final = "template.pdf"

SHORT: Final[tuple[tuple[str, str, Callable[[Plan, PageSetup], ShortDocument]], ...]] = (
    ("strip.pdf", mark("Strip"), lay_strip),
    ("corners.pdf", mark("Corners"), lay_corners),
    ("cell.pdf", mark("Cell"), lay_cell),
    ("jig.pdf", mark("Jig board"), lay_jig),
    ("pegboard.pdf", mark("Pegboard"), lay_pegboard),
    ("trace.pdf", mark("Trace"), lay_trace),
)
"""Every short template: its file, its title (to be translated) and its layout."""

TAPED_MM: Final = 2.0
"""What the proof by tape on the cover of the full template lets pass."""


@dataclass(frozen=True, slots=True)
class Offer:
    """One kind of template for one raft design.

    ``pages`` count its own pages of the document, 0 where it has a ``reason`` not to suit.
    ``error_mm`` is the largest error that it can make, ``stepped_mm`` the one without chalk lines
    where that can be done. ``title`` is to be translated.
    """

    design: str
    file: str
    title: str
    pages: int
    error_mm: float | None = None
    stepped_mm: float | None = None
    reason: str = ""


def offers(plan: Plan, setup: PageSetup) -> Iterator[Offer]:
    """Compare the kinds of templates, design by design: the full set, then the short ones."""
    full = {each.design.name: each for each in lay_template(plan, setup).sets}
    documents: list[tuple[str, str, ShortDocument]] = []
    for file, title, lay in SHORT:
        look_up()
        documents.append((file, title, lay(plan, setup)))
    for number, name in enumerate(full):
        look_up()
        pages = 1 + len(full[name].tiling.cells)
        yield Offer(name, FULL, mark("Template"), pages, TAPED_MM + SET_MM)
        for file, title, document in documents:
            short = document.sets[number]
            yield Offer(
                name,
                file,
                title,
                document.pages_of(short),
                short.error.worst if short.error is not None else None,
                short.stepped.worst if short.stepped is not None else None,
                short.reason,
            )


def summed(found: Sequence[Offer]) -> tuple[tuple[Offer, tuple[str, ...]], ...]:
    """Put the offers of all designs together, kind by kind: all pages, the largest errors.

    Beside each stand the designs that it does not suit; the reason is that of the first of them.
    """
    kinds: dict[str, list[Offer]] = {}
    for offer in found:
        kinds.setdefault(offer.file, []).append(offer)
    sums = []
    for own in kinds.values():
        errors = [each.error_mm for each in own if each.error_mm is not None]
        steps = [each.stepped_mm for each in own if each.stepped_mm is not None]
        missing = tuple(each.design for each in own if each.reason)
        whole = replace(
            own[0],
            design="",
            pages=sum(each.pages for each in own),
            error_mm=max(errors, default=None),
            stepped_mm=max(steps, default=None),
            reason=next((each.reason for each in own if each.reason), ""),
        )
        sums.append((whole, missing))
    return tuple(sums)


def sum_line(offer: Offer, missing: Sequence[str]) -> str:
    """Say in one line what a kind of template needs for all designs, and which it does not suit."""
    text = offer_line(offer)
    if not missing or not offer.pages:
        return text
    return tr("{text}; not for {designs}", text=text, designs=name_list(missing))


def offer_line(offer: Offer) -> str:
    """Say in one line what an offer needs and how true it is, or why it is left out."""
    title = tr(offer.title)
    if offer.error_mm is None or not offer.pages:
        return tr("{title}: left out. {reason}", title=title, reason=offer.reason)
    pages, error = plural(offer.pages, "page"), about(offer.error_mm)
    if offer.stepped_mm is None:
        return tr("{title}: {pages}, up to {error} off", title=title, pages=pages, error=error)
    return tr(
        "{title}: {pages}, up to {error} off on chalk lines, {stepped} when stepped",
        title=title,
        pages=pages,
        error=error,
        stepped=about(offer.stepped_mm),
    )
