"""Pictures of pages, read back by Pillow: their size, their dots per inch, and the bars in them."""

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PySide6.QtWidgets import QApplication

from geometry.drawing.marks import Circle, Drawing, Group, Text, stroke
from geometry.drawing.paper import PAPERS, Page, PageSetup, Picture
from geometry.drawing.styles import PENS, Style
from geometry.drawing.template import compose_template
from geometry.model.curves import Point
from geometry.plan import make_plan
from layout_gui.output.pictures import (
    PictureError,
    Pictures,
    is_page_picture,
    page_picture_name,
    pixels_of,
    raft_page,
    refuse_large,
)
from layout_gui.screen.pictures import paint_png, pictures
from tests.layout_gui.panels.desk import make_project

PLAN = make_plan(make_project())
ROOT = Path(__file__).parents[3]


@pytest.fixture(autouse=True)
def _application(qapp: QApplication) -> None:
    """Painting needs a running Qt."""


def paint(page: Page, dpi: int) -> bytes:
    """Paint as the program does: in a worker."""
    with ThreadPoolExecutor(1) as worker:
        return worker.submit(paint_png, page, dpi).result()


def read(data: bytes) -> tuple[Image.Image, np.ndarray]:
    image = Image.open(BytesIO(data))
    image.load()
    return image, np.asarray(image.convert("L"))


def page_of(*marks: object, width: float = 120.0, height: float = 80.0) -> Page:
    return Page(width, height, "one", (Picture(Drawing((Group("a", marks),))),))


def dark(values: np.ndarray) -> tuple[float, float]:
    """Where ink begins and ends along a line, to a part of a pixel, by how dark its ends are."""
    ink = (255 - values.astype(float)) / 255
    first, last = np.flatnonzero(ink > 0.02)[[0, -1]]
    return first + 1 - ink[first], last + ink[last]


@pytest.mark.parametrize("dpi", [72, 150, 300])
@pytest.mark.parametrize("stretch", [(1.0, 1.0), (1.01, 0.99)])
def test_a_bar_is_as_long_as_it_says(dpi: int, stretch: tuple[float, float]) -> None:
    marks = (
        stroke(Point(10, 20), Point(110, 20), Style.CUT),
        stroke(Point(60, 10), Point(60, 70), Style.CUT),
    )
    page = page_of(*marks)
    page = Page(page.width_mm, page.height_mm, "", page.pictures, stretch=stretch)

    image, grey = read(paint(page, dpi))

    per_mm = dpi / 25.4
    assert image.format == "PNG"
    assert image.size == pixels_of(page, dpi)
    assert image.info["dpi"] == pytest.approx((dpi, dpi), abs=0.02)
    across = grey[round((80 - 20) * stretch[1] * per_mm)]
    start, end = dark(across)
    assert end - start == pytest.approx(100 * stretch[0] * per_mm, abs=1)
    assert start == pytest.approx(10 * stretch[0] * per_mm, abs=1)
    down = grey[:, round(60 * stretch[0] * per_mm)]
    start, end = dark(down)
    assert end - start == pytest.approx(60 * stretch[1] * per_mm, abs=1)


def test_the_bars_of_a_template_measure_100_mm() -> None:
    page = compose_template(PLAN, PageSetup(PAPERS["A4"]))[0]
    bars = [
        mark.curves[0]
        for picture in page.pictures
        for group in picture.drawing.groups
        for mark in group.marks
        if mark.style is Style.CHECK_BAR and not isinstance(mark, (Text, Circle))
    ]
    flat = next(bar for bar in bars if abs(abs(bar.end.x - bar.start.x) - 100) < 1e-6)

    _, grey = read(paint(page, 300))

    per_mm = 300 / 25.4
    row = round((297 - flat.start.y) * per_mm)
    left = round((min(flat.start.x, flat.end.x) - 3) * per_mm)
    right = round((max(flat.start.x, flat.end.x) + 3) * per_mm)
    start, end = dark(grey[row - 1 : row + 2, left:right].min(axis=0))
    ticks = PENS[Style.CHECK_BAR].width_mm  # half of one stands out at each end
    assert end - start == pytest.approx((100 + ticks) * per_mm, abs=1)


def test_a_raft_is_drawn_at_its_size_with_room_around() -> None:
    design = PLAN.beds[0].designs[0]
    page = raft_page(design, "mm")

    _, grey = read(paint(page, 100))

    per_mm = 100 / 25.4
    middle = grey[round((10 + 17) * per_mm)]
    start, end = dark(middle)
    assert end - start == pytest.approx(float(design.shape.length) * per_mm, abs=2.5)
    assert start == pytest.approx(10 * per_mm, abs=1.5)


def test_a_picture_painted_beside_the_window_is_the_same() -> None:
    page = compose_template(PLAN)[1]

    assert paint(page, 60) == paint_png(page, 60)


def test_too_many_pixels_are_refused_with_what_would_do() -> None:
    page = page_of(width=1200.0, height=2400.0)

    with pytest.raises(PictureError, match=r"x\.png would be a picture of 402 million") as caught:
        pictures(300).of(page, "x.png")

    most = int(str(caught.value).split("choose ")[1].split()[0])
    refuse_large(page, most, "x.png")
    with pytest.raises(PictureError):
        refuse_large(page, most + 2, "x.png")
    with pytest.raises(PictureError, match=r"x\.png is too large for a picture"):
        refuse_large(page_of(width=30_000.0, height=12_000.0), 36, "x.png")
    long = page_of(width=210.0, height=5000.0)
    with pytest.raises(PictureError):
        refuse_large(long, 200, "x.png")


def test_too_little_memory_is_told() -> None:
    def fail(_page: Page, _dpi: int) -> bytes:
        raise MemoryError

    with pytest.raises(PictureError, match=r"too little memory for x\.png"):
        Pictures(100, fail).of(page_of(), "x.png")


def test_names_of_pictures_sort_and_are_known_again() -> None:
    names = [page_picture_name("cut-sheet.pdf", at, 120) for at in (1, 20, 120)]

    assert names[0] == "cut-sheet-001-of-120.png"
    assert sorted(names) == names
    assert all(is_page_picture(name, "cut-sheet.pdf") for name in names)
    for other in ("cut-sheet.png", "cut-sheet-1-of-x.png", "sheet-1-of-2.png", "mine.png"):
        assert not is_page_picture(other, "cut-sheet.pdf")


def test_the_command_paints_without_a_screen(tmp_path: Path) -> None:
    sample = ROOT / "sample_projects" / "school-bench.raft.json"
    command = [
        sys.executable, "-m", "layout_gui", "export", sample, "--out", tmp_path / "out",
        "--only", "cut-sheet.pdf,greenhouse-bench-1.dxf,greenhouse-bench-1.svg", "--png", "50",
    ]  # fmt: skip
    done = subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, check=False, env={"PATH": "/usr/bin"}
    )

    assert done.returncode == 0, done.stderr
    names = [Path(line).name for line in done.stdout.splitlines()]
    assert names[0] == "cut-sheet.pdf"
    assert names.count("greenhouse-bench-1.png") == 1
    assert sum(is_page_picture(name, "cut-sheet.pdf") for name in names) >= 5
    with Image.open(tmp_path / "out" / "greenhouse-bench-1.png") as image:
        assert image.info["dpi"] == pytest.approx((50, 50), abs=0.02)
