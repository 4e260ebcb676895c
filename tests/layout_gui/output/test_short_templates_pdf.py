"""Short templates as files: read back by pypdf, they measure what they should."""

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from geometry.drawing.paper import PAPERS, PageSetup
from geometry.drawing.short.job import jobs
from geometry.drawing.short.strip import strip_of
from geometry.plan import Plan, make_plan
from layout_gui.output.export import export
from layout_gui.project.file import load
from tests.layout_gui.output.pdf_reading import Seen, look, read

SAMPLES = Path(__file__).parents[3] / "sample_projects"
FILES = ("strip.pdf", "corners.pdf", "cell.pdf", "jig.pdf", "pegboard.pdf", "trace.pdf")
A3 = PageSetup(PAPERS["A3"])


@pytest.fixture(scope="module")
def plan() -> Plan:
    return make_plan(load(SAMPLES / "school-bench.raft.json"))


@pytest.fixture(scope="module")
def folder(plan: Plan, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("short")
    export(plan, out, frozenset(FILES), setup=A3)
    return out


def _bars(seen: Seen) -> tuple[list[float], list[float]]:
    """How long the lying and the standing strokes are."""
    lying = [abs(x1 - x0) for x0, y0, x1, y1 in seen.strokes if abs(y1 - y0) < 1e-6]
    standing = [abs(y1 - y0) for x0, y0, x1, y1 in seen.strokes if abs(x1 - x0) < 1e-6]
    return lying, standing


@pytest.mark.parametrize("name", FILES)
def test_every_file_asks_for_no_scaling_and_has_the_size_of_the_paper(
    folder: Path, name: str
) -> None:
    pdf = read((folder / name).read_bytes())

    assert pdf.root_object["/ViewerPreferences"]["/PrintScaling"] == "/None"
    for page in pdf.pages:
        width, height = (float(side) * 25.4 / 72 for side in page.mediabox.upper_right)
        assert (width, height) == pytest.approx((297, 420), abs=0.01)


@pytest.mark.parametrize("name", ["strip.pdf", "corners.pdf", "cell.pdf"])
def test_the_bars_of_every_page_at_true_size_measure_100_mm(folder: Path, name: str) -> None:
    pages = read((folder / name).read_bytes()).pages

    for page in pages:
        for lengths in _bars(look(page)):
            assert min(abs(length - 100) for length in lengths) < 0.01


def test_the_marks_of_the_strip_are_a_pitch_apart_on_paper(plan: Plan, folder: Path) -> None:
    strip = strip_of(jobs(plan, A3)[0])
    assert strip is not None
    pages = read((folder / "strip.pdf").read_bytes()).pages
    circles = [
        circle for page in list(pages)[-len(strip.sheets):] for circle in look(page).circles
        if abs(circle[2] - 25) < 0.01
    ]  # fmt: skip

    # Where a join cuts between two marks they are on two pieces; all others are on one.
    apart = [
        float(np.hypot(one[0] - other[0], one[1] - other[1])) for one, other in pairwise(circles)
    ]
    pitches = [after - before for before, after in pairwise(strip.plan.strip)]
    assert len(circles) == len(strip.plan.strip)
    assert any(abs(found - pitch) < 0.01 for found in apart for pitch in pitches)


def test_a_corrected_printer_stretches_every_length(plan: Plan, tmp_path: Path) -> None:
    setup = PageSetup(PAPERS["A3"], across=1.01, along=0.99)
    export(plan, tmp_path, frozenset({"strip.pdf"}), setup=setup)

    pages = read((tmp_path / "strip.pdf").read_bytes()).pages
    for page in pages:
        text = page.extract_text()
        assert "1.01" in text
        assert "0.99" in text
        lying, standing = _bars(look(page))
        assert min(abs(length - 101) for length in lying) < 0.01
        assert min(abs(length - 99) for length in standing) < 0.01


def test_the_same_plan_gives_the_same_bytes(plan: Plan, folder: Path, tmp_path: Path) -> None:
    export(plan, tmp_path, frozenset(FILES), setup=A3)

    for name in FILES:
        assert (tmp_path / name).read_bytes() == (folder / name).read_bytes()
