"""Every word on paper is in the tongue that is spoken; a page's text is read mark by mark."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from geometry.drawing.cut_sheet import lay_cut_sheet
from geometry.drawing.handout import lay_handout
from geometry.drawing.labels import lay_labels
from geometry.drawing.marks import Text
from geometry.drawing.measuring import lay_measuring
from geometry.drawing.paper import COMMON, Page
from geometry.drawing.shopping_pages import lay_shopping
from geometry.drawing.template import lay_template
from geometry.plan import Plan, make_plan
from geometry.tongue import speaking
from layout_gui.output.documents import Laid
from layout_gui.project.file import load
from tests.tongue.pseudo import OPEN, PSEUDO, outside

SAMPLES = sorted((Path(__file__).parents[2] / "sample_projects").glob("*.raft.json"))

_FILLING = r"\b(?:nu|ñ|ña|ñan|ñand|ñandé)\b"
_PLAIN = re.compile(r"[^\W\d_]*[aeiou][^\W\d_]+|[^\W\d_]+[aeiou]")


def words_of(pages: Iterator[Page]) -> Iterator[str]:
    for page in pages:
        yield page.name
        yield page.bookmark
        for picture in page.pictures:
            for group in picture.drawing.groups:
                yield from (mark.text for mark in group.marks if isinstance(mark, Text))


def names_of(plan: Plan) -> list[str]:
    project = plan.project
    names = [project.name, "Raftwright", *(sheet.name for sheet in project.sheets)]
    for part in (project.choices, project.pots, project.runs):
        names += [each.name for each in part]
    # A long name is broken between its words.
    names += [word for pot in project.pots for word in pot.name.split()]
    for bed in plan.beds:
        names += [bed.bed.name, *(design.name for design in bed.designs)]
        names += [obstacle.name for obstacle in bed.bed.obstacles]
        names += [zone.name for zone in bed.bed.zones]
    return sorted((name for name in names if name), key=len, reverse=True)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.name.partition(".")[0])
def test_no_word_on_paper_escapes_the_tongue(sample: Path) -> None:
    plan = make_plan(load(sample))
    names = [re.escape(name) for name in names_of(plan)]
    known = re.compile(
        "|".join([*names, _FILLING, r"\b(?:mm|cm|in|ft|nu)\b|[mf]t?²", r"\b[A-Z]{1,2}[0-9]+\b"])
    )
    with speaking(PSEUDO):
        words = set(words_of(iter(lay_cut_sheet(plan, COMMON).pages())))
        words |= set(words_of(iter(lay_template(plan).pages())))

    # A long line is broken within its brackets, so here the accents tell.
    escaped = {text for text in words if _PLAIN.search(known.sub("", outside(text)))}
    assert any(OPEN in text for text in words)
    assert sorted(escaped) == []


@pytest.mark.parametrize("lay", [lay_shopping, lay_labels, lay_measuring, lay_handout])
def test_no_word_of_lists_and_handouts_escapes_the_tongue(lay: Callable[[Plan], Laid]) -> None:
    plan = make_plan(load(next(each for each in SAMPLES if "market" in each.name)))
    names = [re.escape(name) for name in names_of(plan)]
    known = re.compile("|".join([*names, _FILLING, r"\b(?:mm|cm|in|ft|nu)\b|[mf]t?²"]))
    with speaking(PSEUDO):
        words = set(words_of(lay(plan).pages()))

    escaped = {text for text in words if _PLAIN.search(known.sub("", outside(text)))}
    assert any(OPEN in text for text in words)
    assert sorted(escaped) == []
