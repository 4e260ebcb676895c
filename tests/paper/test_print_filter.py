"""What a print queue makes of the template: the filter of CUPS run by hand, and measured.

The filter is ``pdftopdf`` of cups-filters, which every print job of a queue goes through; it knows
nothing of the PDF's wish not to be scaled. The queue has unprintable borders of 4.2 mm, as many
lasers do. The shares are those of the printing notes, 1.2, measured there with version 1.28.17.
"""

import os
import subprocess
from functools import cache
from pathlib import Path

import pytest

from geometry.drawing.paper import PAPERS
from tests.layout_gui.output.pdf_reading import Place, look, read
from tests.paper.renderers import PIXEL, pdfium, run_length
from tests.paper.samples import template_of

FILTER = Path("/usr/lib/cups/filter/pdftopdf")
POINTS = {"A4": (595, 842), "Letter": (612, 792)}
BORDER = 12
BAR_MM = 100.0

pytestmark = pytest.mark.skipif(
    not FILTER.exists(), reason="needs the filter pdftopdf, from cups-filters-core-drivers"
)


def queue(tray: str) -> str:
    """Describe a printer with this paper in its tray, in the PPD format 4.3."""
    lines = [
        '*PPD-Adobe: "4.3"',
        '*FormatVersion: "4.3"',
        '*FileVersion: "1.0"',
        "*LanguageVersion: English",
        "*LanguageEncoding: ISOLatin1",
        '*PCFileName: "QUEUE.PPD"',
        '*Manufacturer: "None"',
        '*Product: "(None)"',
        '*ModelName: "None"',
        '*ShortNickName: "None"',
        '*NickName: "None"',
        '*PSVersion: "(3010.000) 0"',
        '*LanguageLevel: "3"',
        '*cupsFilter2: "application/pdf application/vnd.cups-pdf 0 -"',
    ]
    for key in ("PageSize", "PageRegion"):
        lines += [f"*OpenUI *{key}: PickOne", f"*Default{key}: {tray}"]
        lines += [
            f'*{key} {name}: "<</PageSize[{width} {height}]>>setpagedevice"'
            for name, (width, height) in POINTS.items()
        ]
        lines.append(f"*CloseUI: *{key}")
    lines += [f"*DefaultImageableArea: {tray}", f"*DefaultPaperDimension: {tray}"]
    for name, (width, height) in POINTS.items():
        lines.append(
            f'*ImageableArea {name}: "{BORDER} {BORDER} {width - BORDER} {height - BORDER}"'
        )
        lines.append(f'*PaperDimension {name}: "{width} {height}"')
    return "\n".join(lines) + "\n"


@cache
def printed(paper: str, tray: str, options: str, folder: Path) -> bytes:
    """Send a template made for a paper to a queue with another in its tray."""
    ppd = folder / f"{tray}.ppd"
    ppd.write_text(queue(tray), encoding="latin-1")
    result = subprocess.run(
        [FILTER, "1", "grower", "template", "1", f"PageSize={tray} page-ranges=1 {options}"],
        input=template_of("first-raft", PAPERS[paper]),
        capture_output=True,
        check=True,
        env={**os.environ, "PPD": str(ppd)},
    )
    return result.stdout


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("queue")


def bars(data: bytes, length: float, slack: float = 0.1) -> tuple[list[Place], list[Place]]:
    """Return where the level and the upright strokes of a length begin."""
    strokes = look(read(data).pages[0]).strokes
    level = [(x, y) for x, y, end, _ in strokes if abs(end - x - length) < slack]
    upright = [(y, x) for x, y, _, end in strokes if abs(end - y - length) < slack]
    return level, upright


@pytest.mark.parametrize("options", ["", "print-scaling=auto", "print-scaling=none"])
@pytest.mark.parametrize("tray", ["A4", "Letter"])
def test_the_common_page_comes_out_true_on_either_paper_at_none_and_at_default(
    tray: str, options: str, folder: Path
) -> None:
    data = printed("common", tray, options, folder)

    assert [len(lines) for lines in bars(data, BAR_MM, 0.01)] == [1, 1]
    assert read(data).pages[0].mediabox[2:] == list(POINTS[tray])


@pytest.mark.parametrize("tray", ["A4", "Letter"])
def test_its_bars_are_as_long_in_dots(tray: str, folder: Path) -> None:
    data = printed("common", tray, "", folder)
    dark = pdfium(data, 0)

    for dots, lines in zip((dark, dark.T), bars(data, BAR_MM), strict=True):
        ((start, aside),) = lines
        assert run_length(dots, start, aside, BAR_MM) == pytest.approx(BAR_MM, abs=PIXEL)


@pytest.mark.parametrize(
    ("paper", "tray", "options", "share"),
    [
        ("A4", "A4", "", 1.0),
        ("A4", "Letter", "print-scaling=none", 1.0),
        ("A4", "Letter", "", 0.913),
        ("Letter", "A4", "", 0.934),
        ("common", "A4", "print-scaling=fit", 0.959),
    ],
)
def test_a_page_that_is_larger_than_the_paper_is_shrunk_unless_told_otherwise(
    paper: str, tray: str, options: str, share: float, folder: Path
) -> None:
    """Why the common page is the one that is offered first; and this test can fail."""
    data = printed(paper, tray, options, folder)

    assert [len(lines) for lines in bars(data, BAR_MM * share)] == [1, 1]
    assert read(data).pages[0].mediabox[2:] == list(POINTS[tray])
