"""What a printer gets is what the PDF says: every centre and every bar, to a twentieth of a mm."""

import sys
from dataclasses import dataclass, field
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream
from PySide6.QtCore import QMarginsF
from PySide6.QtGui import QPageLayout, QPageSize
from pytestqt.qtbot import QtBot

from geometry.drawing.cut_sheet import compose_cut_sheet
from geometry.drawing.marks import Circle, Drawing, Group, Text
from geometry.drawing.paper import COMMON, PAPERS, Page, PageSetup, Paper, Picture, own_paper
from geometry.drawing.styles import Style
from geometry.drawing.template import compose_template
from geometry.model.curves import Point
from geometry.plan import make_plan
from layout_gui.output.pdf import render_pdf
from layout_gui.screen.printing import (
    PrintJob,
    fit_of,
    loaded_paper,
    make_printer,
    page_size,
    set_page,
)
from tests.layout_gui.panels.desk import make_project

MM = 25.4 / 72
NEAR = 0.05
PLAN = make_plan(make_project())
A4 = PAPERS["A4"]


@dataclass
class Seen:
    """Centres with radii, and straight strokes, in mm from the lower left corner of the paper."""

    circles: list[tuple[float, float, float]] = field(default_factory=list)
    strokes: list[tuple[float, float, float, float]] = field(default_factory=list)


def look(page: PageObject) -> Seen:
    """Read a page, following every change of its coordinates."""
    seen, kept, to_page = Seen(), [], np.eye(3)
    points: list[tuple[float, float]] = []
    curves = 0
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        numbers = (
            [float(each) for each in operands] if operator in {b"cm", b"m", b"l", b"c"} else []
        )
        match operator:
            case b"q":
                kept.append(to_page)
            case b"Q":
                to_page = kept.pop()
            case b"cm":
                a, b, c, d, e, f = numbers
                to_page = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ to_page
            case b"m":
                points, curves = [_at(numbers, to_page)], 0
            case b"l":
                points.append(_at(numbers, to_page))
            case b"c":
                points.append(_at(numbers[4:], to_page))
                curves += 1
            case b"S":
                _note(points, curves, seen)
    return seen


def _at(numbers: list[float], to_page: np.ndarray) -> tuple[float, float]:
    x, y, _ = np.array([*numbers, 1]) @ to_page * MM
    return float(x), float(y)


def _note(points: list[tuple[float, float]], curves: int, seen: Seen) -> None:
    if curves == 4 and len(points) == 5:
        (x, y), reach = np.mean(points[1:], axis=0), np.ptp(points, axis=0)
        seen.circles.append((float(x), float(y), float(np.mean(reach)) / 2))
    elif not curves and len(points) == 2:
        seen.strokes.append((*points[0], *points[1]))


def print_to(
    qtbot: QtBot, path: Path, pages: tuple[Page, ...], dialog: str | None = None
) -> PdfReader:
    printer = make_printer("Bench test")
    printer.setOutputFileName(str(path))
    if dialog:  # what it hands back is not what was set before
        letter = QPageSize(QPageSize.PageSizeId.Letter)
        landscape = QPageLayout.Orientation.Landscape
        printer.setFullPage(False)
        printer.setPageLayout(QPageLayout(letter, landscape, QMarginsF(10, 10, 10, 10)))
    job = PrintJob(printer, pages)
    with qtbot.waitSignal(job.done, timeout=20_000):
        job.start()
    return PdfReader(BytesIO(path.read_bytes()))


@pytest.mark.parametrize(
    "setup",
    [
        PageSetup(),
        PageSetup(A4, across=1.01, along=0.99),
        PageSetup(PAPERS["Letter"]),
        PageSetup(own_paper(610, 700)),
    ],
    ids=["common", "corrected", "Letter", "roll"],
)
def test_the_printer_gets_the_places_of_the_pdf(
    qtbot: QtBot, tmp_path: Path, setup: PageSetup
) -> None:
    every = compose_template(PLAN, setup)
    pages = (*every[:2], every[-1])
    ours = PdfReader(BytesIO(render_pdf(pages, title="x")))

    theirs = print_to(qtbot, tmp_path / "printed.pdf", pages, dialog="other paper")

    assert len(theirs.pages) == len(ours.pages) == len(pages)
    for mine, printed in zip(ours.pages, theirs.pages, strict=True):
        for side in ("width", "height"):  # Qt rounds the paper to whole points: 0.35 mm
            assert abs(float(getattr(mine.mediabox, side) - getattr(printed.mediabox, side))) < 0.5
        down = float(mine.mediabox.height - printed.mediabox.height) * MM
        assert abs(down) < 0.2
        one, other = look(mine), look(printed)
        assert one.circles or one.strokes
        for kind in ("circles", "strokes"):
            first, second = np.array(getattr(one, kind)), np.array(getattr(other, kind))
            assert len(first) == len(second) > 0
            # From the upper left corner, where printers begin; whole points are left aside.
            second += [0, down, 0] if kind == "circles" else [0, down, 0, down]
            gaps = np.abs(first[:, None, :] - second[None, :, :]).max(axis=2)
            assert gaps.min(axis=0).max() < NEAR
            assert gaps.min(axis=1).max() < NEAR


def test_the_correction_of_the_printer_is_seen_in_the_bars(qtbot: QtBot, tmp_path: Path) -> None:
    pages = compose_template(PLAN, PageSetup(A4, across=1.01, along=0.99))[:1]

    seen = look(print_to(qtbot, tmp_path / "printed.pdf", pages).pages[0])

    lengths = {(round(abs(x1 - x0), 2), round(abs(y1 - y0), 2)) for x0, y0, x1, y1 in seen.strokes}
    assert (101.0, 0.0) in lengths
    assert (0.0, 99.0) in lengths


def test_words_are_text_of_the_bundled_font(qtbot: QtBot, tmp_path: Path) -> None:
    pages = compose_cut_sheet(PLAN, A4)

    reader = print_to(qtbot, tmp_path / "printed.pdf", pages)

    ours = PdfReader(BytesIO(render_pdf(pages, title="x")))
    for mine, printed in zip(ours.pages, reader.pages, strict=True):
        words, theirs = _signs(mine), _signs(printed)
        assert len(words) > 100
        assert theirs == words
    fonts = [font["/BaseFont"] for font in reader.pages[0]["/Resources"]["/Font"].values()]
    assert all("DejaVuSans" in font for font in fonts)


def _signs(page: PageObject) -> str:
    """All signs in order of the alphabet: where words end is a guess of the reader."""
    return "".join(sorted("".join(page.extract_text().split())))


def test_a_script_that_the_font_lacks_is_drawn_all_the_same(qtbot: QtBot, tmp_path: Path) -> None:
    words = Text(Point(20, 20), "計画", 5, Style.LABEL)
    page = Page(100, 100, "one", (Picture(Drawing((Group("a", (words,)),))),))

    (printed,) = print_to(qtbot, tmp_path / "printed.pdf", (page,)).pages

    assert b" l\n" in printed.get_contents().get_data()


def page_of(paper: Paper) -> Page:
    return Page(paper.width_mm, paper.height_mm, "one", ())


@pytest.mark.parametrize(
    ("paper", "loaded", "fit"),
    [
        (A4, QPageSize.PageSizeId.A4, "same"),
        (A4, QPageSize.PageSizeId.Letter, "smaller"),
        (PAPERS["Letter"], QPageSize.PageSizeId.A4, "smaller"),
        (COMMON, QPageSize.PageSizeId.A4, "larger"),
        (COMMON, QPageSize.PageSizeId.Letter, "larger"),
        (COMMON, QPageSize.PageSizeId.A5, "smaller"),
        (A4, QPageSize.PageSizeId.A3, "larger"),
        (own_paper(420, 297), QPageSize.PageSizeId.A3, "same"),
        (own_paper(400, 290), QPageSize.PageSizeId.A3, "larger"),
    ],
)
def test_the_paper_in_the_printer_is_compared(
    qtbot: QtBot, paper: Paper, loaded: QPageSize.PageSizeId, fit: str
) -> None:
    printer = make_printer("x")
    printer.setOutputFileName("")
    printer.setPageSize(QPageSize(loaded))
    page, tray = page_of(paper), loaded_paper(printer)
    assert fit_of(tray, page) == fit

    set_page(printer, page_of(own_paper(500, 700)), tray)  # what was printed before is no matter
    left, top = set_page(printer, page, tray)

    layout = printer.pageLayout()
    assert layout.margins() == QMarginsF()
    full = layout.fullRect(QPageLayout.Unit.Millimeter)
    if fit == "larger":  # in the middle of the paper that is there
        assert layout.pageSize().id() is loaded
        assert full.width() == pytest.approx(paper.width_mm + 2 * left, abs=0.01)
        assert full.height() == pytest.approx(paper.height_mm + 2 * top, abs=0.01)
        assert left >= 0
        assert top >= 0
    else:
        assert (left, top) == (0, 0)
        assert full.width() == pytest.approx(paper.width_mm, abs=0.2)
        assert full.height() == pytest.approx(paper.height_mm, abs=0.2)


def test_standard_papers_are_known_by_name() -> None:
    named = {name: page_size(p.width_mm, p.height_mm).id() for name, p in PAPERS.items()}

    for name in ("A4", "A3", "Letter", "Legal", "Tabloid"):
        assert named[name] is QPageSize.PageSizeId[name]
    assert page_size(210.0000001, 297).id() is QPageSize.PageSizeId.A4
    assert named["common"] is QPageSize.PageSizeId.Custom


def test_a_job_that_is_cancelled_leaves_the_old_file(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "printed.pdf"
    path.write_text("old")
    pages = compose_template(PLAN)
    printer = make_printer("x")
    printer.setOutputFileName(str(path))
    job = PrintJob(printer, pages)
    heard: list[int] = []
    job.told.connect(heard.append)
    job.told.connect(lambda number: job.cancel() if number == 3 else None)

    with qtbot.assertNotEmitted(job.done, wait=50):
        job.start()
        qtbot.waitUntil(lambda: not job.is_running)

    assert heard == [1, 2, 3]
    assert all(after == before + 1 for before, after in pairwise(heard))
    assert [each.name for each in tmp_path.iterdir()] == ["printed.pdf"]
    assert path.read_text() == "old"


def test_a_folder_that_is_not_there_is_told(qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    printer = make_printer("x")
    printer.setOutputFileName(str(tmp_path / "file" / "printed.pdf"))
    job = PrintJob(printer, compose_template(PLAN))

    with qtbot.waitSignal(job.failed) as heard:
        job.start()

    assert "cannot be written" in heard.args[0]
    assert not job.is_running
    assert [each.name for each in tmp_path.iterdir()] == ["file"]


def test_a_page_of_very_many_holes_does_not_block(qtbot: QtBot, tmp_path: Path) -> None:
    marks = tuple(
        Circle(Point(20 + 9 * column, 20 + 9 * row), 4, Style.HOLE)
        for column in range(50)
        for row in range(100)
    )
    page = Page(500, 1000, "one", (Picture(Drawing((Group("a", marks),))),))

    (printed,) = print_to(qtbot, tmp_path / "printed.pdf", (page,)).pages

    assert printed.get_contents().get_data().count(b" c\nh") >= 5_000


@pytest.mark.skipif(sys.platform != "linux", reason="a disk in memory is Linux")
def test_a_disk_that_fills_up_leaves_the_old_file(qtbot: QtBot, small_disk: Path) -> None:
    (small_disk / "ballast").write_bytes(bytes(40_000))
    path = small_disk / "printed.pdf"
    path.write_text("old")
    printer = make_printer("x")
    printer.setOutputFileName(str(path))
    job = PrintJob(printer, compose_template(PLAN)[:4])

    with qtbot.waitSignal(job.failed, timeout=20_000) as heard:
        job.start()

    assert "cannot be written" in heard.args[0]
    assert sorted(each.name for each in small_disk.iterdir()) == ["ballast", "printed.pdf"]
    assert path.read_text() == "old"
