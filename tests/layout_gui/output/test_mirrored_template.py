"""The set for drilling from below: mirrored once, readable, measured from the same corner."""

import re
from dataclasses import replace
from functools import cache
from math import hypot

import numpy as np
import pytest

from geometry.drawing.paper import PageSetup
from geometry.drawing.template import Template, compose_template, lay_mirrored, lay_template
from geometry.model.curves import Line, Loop, Point
from geometry.plan import PlacedRaft, Plan, RaftDesign
from geometry.rafts.layout import RaftShape
from layout_gui.output.pdf import render_pdf
from tests.builders import make_bed_plan, make_design, make_holes, make_loop, make_plan, make_shape
from tests.layout_gui.output.pdf_reading import Seen, look, read

PLACES = [(40.0, 45.0), (120.0, 60.0), (200.0, 150.0), (60.0, 240.0), (230.0, 250.0)]


def _design(*, turned: bool) -> RaftDesign:
    """A raft without any symmetry; long enough to lie turned, or not."""
    length, width = (620.0, 170.0) if turned else (260.0, 300.0)
    loop = make_loop((0, 0), (length, 0), (length, width - 30), (length - 50, width), (0, width))
    whole = make_shape(length, width)
    shape = RaftShape(loop, whole.length, whole.width, is_rectangle=False)
    places = [(x * length / 300, y * width / 300) for x, y in PLACES]
    return make_design("odd-1", shape, make_holes(places, diameter=31))


def _mirrored(design: RaftDesign) -> RaftDesign:
    length = float(design.shape.length)
    flipped = [
        Line(Point(length - line.end.x, line.end.y), Point(length - line.start.x, line.start.y))
        for line in reversed(design.shape.loop.curves)
        if isinstance(line, Line)
    ]
    places = design.holes.xy * (-1, 1) + (length, 0)
    shape = replace(design.shape, loop=Loop(tuple(flipped)))
    return replace(design, shape=shape, holes=replace(design.holes, xy=places))


def _plan(design: RaftDesign) -> Plan:
    return make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)]))


@cache
def _printed(*, turned: bool) -> tuple[Template, tuple[Seen, ...]]:
    template = lay_mirrored(_plan(_design(turned=turned)))
    data = render_pdf(template.pages(), title="t")
    return template, tuple(look(page) for page in read(data).pages)


def _rims(seen: Seen, radius: float = 15.5) -> set[tuple[float, float]]:
    return {(round(x, 2), round(y, 2)) for x, y, r in seen.circles if abs(r - radius) < 1e-3}


@pytest.mark.parametrize("turned", [False, True])
def test_mirrored_twice_is_the_template_itself(*, turned: bool) -> None:
    design = _design(turned=turned)
    plain = [
        look(page) for page in read(render_pdf(compose_template(_plan(design)), title="t")).pages
    ]
    twice = lay_mirrored(_plan(_mirrored(design)))
    again = [look(page) for page in read(render_pdf(twice.pages(), title="t")).pages]

    assert twice.sets[0].tiling.turned == turned
    assert list(map(_rims, plain)) == list(map(_rims, again))
    assert any(map(_rims, plain))


@pytest.mark.parametrize("turned", [False, True])
def test_holes_on_the_paper_are_those_seen_from_below(*, turned: bool) -> None:
    """Needs no code of ours to put back: distances are kept, the sense of turning is not."""
    template, pages = _printed(turned=turned)
    holes = template.sets[0].design.holes
    tiling = template.sets[0].tiling
    found: dict[str, tuple[float, float]] = {}
    for cell, number in template.sets[0].numbers.items():
        seen, box = pages[number - 1], tiling.shown(cell)
        for text, x, y in seen.words:
            if text in holes.names:
                rim = min(_rims(seen), key=lambda rim: hypot(rim[0] - x, rim[1] - y))
                window = tiling.window()
                found[text] = rim[0] - window.left + box.left, rim[1] - window.bottom + box.bottom
    paper = np.array([found[name] for name in holes.names])
    for first, second, third in ((0, 1, 2), (1, 2, 3), (2, 3, 4)):
        here, there = (
            paper[[second, third]] - paper[first],
            holes.xy[[second, third]] - holes.xy[first],
        )
        assert np.hypot(*here.T) == pytest.approx(np.hypot(*there.T), abs=0.02)
        assert _cross(here) == pytest.approx(-_cross(there), rel=1e-3)


def _cross(pair: np.ndarray) -> float:
    return float(pair[0, 0] * pair[1, 1] - pair[0, 1] * pair[1, 0])


@pytest.mark.parametrize("turned", [False, True])
def test_crosses_are_measured_from_the_datum_corner_of_the_raft(*, turned: bool) -> None:
    template, pages = _printed(turned=turned)
    for cell, number in template.sets[0].numbers.items():
        seen = pages[number - 1]
        shift = template.sets[0].tiling.on_page(cell)
        rings = [(x, y) for x, y, r in seen.circles if abs(r - 2.5) < 1e-3]
        words = " ".join(text for text, _, _ in seen.words)
        said = set(re.findall(r"cross [A-Z]+[0-9]+: x (-?[0-9.]+), y (-?[0-9.]+)", words))
        assert len(said) == 4
        for along, across in said:
            at = shift.point(float(along), float(across))
            assert min(hypot(at.x - x, at.y - y) for x, y in rings) < 0.08


@pytest.mark.parametrize("turned", [False, True])
def test_every_page_says_loudly_that_it_is_mirrored(*, turned: bool) -> None:
    template, pages = _printed(turned=turned)
    for seen in pages:
        words = [text for text, _, _ in seen.words]
        assert "MIRRORED, SEEN FROM BELOW" in " ".join(words)
    for seen in pages[1:]:
        assert "MIRRORED" in [text for text, _, _ in seen.words]
    drawn = list(template.pages())
    loud = [
        mark
        for mark in (m for group in drawn[1].pictures[0].drawing.groups for m in group.marks)
        if getattr(mark, "text", "") == "MIRRORED"
    ]
    assert loud[0].height >= 9


def test_the_plain_set_says_top_face_and_never_mirrored() -> None:
    pages = compose_template(_plan(_design(turned=False)))
    for page in pages:
        words = [
            mark.text
            for picture in page.pictures
            for group in picture.drawing.groups
            for mark in group.marks
            if hasattr(mark, "text")
        ]
        assert "TOP FACE" in " ".join(words)
        assert not any("MIRRORED" in text for text in words)


def test_both_sets_have_the_same_code_and_take_as_many_pages() -> None:
    plan = _plan(_design(turned=False))
    plain, mirrored = lay_template(plan, PageSetup()), lay_mirrored(plan)

    assert plain.total == mirrored.total
    assert plain.sets[0].stamp == mirrored.sets[0].stamp
