"""What two renderers make of the pages at 600 dots an inch, measured to a dot."""

from math import hypot

import numpy as np
import pytest

from geometry.drawing.paper import PAPERS, PageSetup
from geometry.drawing.raft import CROSS_MM, cross_size
from geometry.drawing.template import lay_template
from geometry.drawing.template_set import TemplateSet
from geometry.drawing.tile_edges import corners
from geometry.drawing.tiles import Cell
from tests.layout_gui.output.pdf_reading import look, read
from tests.paper.renderers import PIXEL, RENDERERS, Renderer, cross_middle, run_length
from tests.paper.samples import plan_of, template_of

Fullest = tuple[TemplateSet, Cell, list[tuple[float, float, float]]]


@pytest.mark.parametrize("render", RENDERERS)
@pytest.mark.parametrize(
    ("sample", "paper"),
    [("twin-raceways", "common"), ("first-raft", "A4"), ("market-bench", "Letter")],
)
def test_centre_marks_lie_to_a_dot_where_crosses_and_plan_have_them(
    sample: str, paper: str, render: Renderer
) -> None:
    """Printing notes, test 2: on the page of each sample that shows the most holes."""
    template, cell, places = _fullest_page(sample, paper)
    tiling = template.tiling
    dark = render(template_of(sample, PAPERS[paper]), template.numbers[cell] - 1)
    shift = tiling.on_page(cell)
    offsets = []
    for column, row in corners(cell):
        x, y = shift.point(*tiling.cross_place(column, row))
        found = cross_middle(dark, x, y, 0.6, 1.9)
        offsets.append((found[0] - x, found[1] - y))
    assert np.ptp(offsets, axis=0).max() < PIXEL
    aside = np.mean(offsets, axis=0)
    for x, y, radius in places:
        size = cross_size(radius)
        found = cross_middle(dark, x, y, min(1.0, size / 4) + 0.3, size - 0.3)
        assert hypot(*(np.array(found) - aside - (x, y))) < PIXEL
    assert len(places) >= 2


@pytest.mark.parametrize("render", RENDERERS)
@pytest.mark.parametrize(("across", "along"), [(1.0, 1.0), (1.01, 0.99)])
def test_bars_are_as_long_as_they_say_times_the_correction(
    across: float, along: float, render: Renderer
) -> None:
    """Printing notes, tests 2 and 4: 100 mm and 4 in both ways, 101 and 99 mm if corrected."""
    data = template_of("first-raft", PAPERS["common"], across, along)
    dark = render(data, 0)
    strokes = look(read(data).pages[0]).strokes
    level = [(x, y, end - x) for x, y, end, other in strokes if other == y]
    upright = [(y, x, end - y) for x, y, other, end in strokes if other == x]

    for dots, lines, factor in ((dark, level, across), (dark.T, upright, along)):
        for bar in (100.0, 101.6):
            ((start, aside, length),) = [
                line for line in lines if abs(line[2] - bar * factor) < 0.1
            ]
            found = run_length(dots, start, aside, length)
            assert found == pytest.approx(bar * factor, abs=PIXEL)


def _fullest_page(sample: str, paper: str) -> Fullest:
    """Return the set and cell with the most whole centre marks; their places and radii."""
    found: list[Fullest] = []
    for template in lay_template(plan_of(sample), PageSetup(PAPERS[paper])).sets:
        holes, tiling = template.design.holes, template.tiling
        window = tiling.window().grown(-CROSS_MM)
        for cell in tiling.cells:
            centres = tiling.on_page(cell).points(holes.xy).tolist()
            places = [
                (x, y, diameter / 2)
                for (x, y), diameter in zip(centres, holes.diameters.tolist(), strict=True)
                if window.left <= x <= window.right and window.bottom <= y <= window.top
            ]
            found.append((template, cell, places))
    return max(found, key=lambda page: len(page[2]))
