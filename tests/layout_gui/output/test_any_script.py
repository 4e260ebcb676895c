"""Names in any script, in every file that shows them; read back by libraries of others."""

import subprocess
import sys
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from geometry.drawing.lettering import line
from geometry.drawing.marks import Drawing, Group, Text
from geometry.drawing.outlining import Outlined, outlining
from geometry.drawing.paper import Page, Picture
from geometry.drawing.styles import Style
from geometry.drawing.text_width import text_width
from geometry.model.curves import Point
from layout_gui.__main__ import main
from layout_gui.output.pdf import render_pdf

NOWHERE = "\N{CJK UNIFIED IDEOGRAPH-8A08}"
ROOT = Path(__file__).parents[3]


def bars(text: str, bold: bool) -> Outlined:
    """A full bar, half an em high, as wide as the text; one sign is in no font."""
    width = 0.5 * len(text)
    corners = [Point(0, 0), Point(width, 0), Point(width, 0.5)]
    curve = (Point(width / 2, 0.5), Point(width / 3, 0.5), Point(0, 0.5))
    steps = [("move" if not n else "line", (corner,)) for n, corner in enumerate(corners)]
    missing = NOWHERE if NOWHERE in text else ""
    return Outlined(width, lambda: (*steps, ("curve", curve)), missing)  # type: ignore[arg-type]


@pytest.fixture(autouse=True)
def _outliner() -> Iterator[None]:
    with outlining(bars):
        yield


def pdf(*texts: Text) -> bytes:
    page = Page(210, 100, "p", (Picture(Drawing((Group("g", texts),))),), bookmark="بيت 計")
    return render_pdf([page], title="計画 بيت\u202e")


def operations(data: bytes) -> list[tuple[list[object], bytes]]:
    page = PdfReader(BytesIO(data)).pages[0]
    return list(ContentStream(page.get_contents(), page.pdf).operations)


def ink(data: bytes) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of what is black, in mm."""
    image = pypdfium2.PdfDocument(data)[0].render(scale=4, grayscale=True).to_numpy()
    rows, columns = np.nonzero(image < 128)
    mm = 25.4 / 72 / 4
    high = image.shape[0]
    return (
        float(columns.min() * mm), float((high - 1 - rows.max()) * mm),
        float((columns.max() + 1) * mm), float((high - rows.min()) * mm),
    )  # fmt: skip


@pytest.mark.parametrize(("anchor", "left"), [("left", 50), ("middle", 45), ("right", 40)])
def test_outlines_stand_where_the_text_would(anchor: str, left: float) -> None:
    found = ink(pdf(Text(Point(50, 60), "بيت!", 5, Style.LABEL, anchor)))  # type: ignore[arg-type]
    assert found == pytest.approx((left, 60, left + 10, 62.5), abs=0.1)


def test_outlines_turn_with_their_text() -> None:
    found = ink(pdf(Text(Point(50, 60), "بيت!", 5, Style.LABEL, angle=90)))
    assert found == pytest.approx((47.5, 60, 50, 70), abs=0.1)


def test_what_is_outlined_can_be_searched_for_and_what_follows_is_seen() -> None:
    """ISO 32000-1, 14.9.4: the replacement text of a marked sequence."""
    done = operations(
        pdf(
            Text(Point(20, 50), "Bed \u2068بيت\u2069 2", 5, Style.LABEL),
            Text(Point(20, 30), "plain", 5, Style.LABEL),
        )
    )
    names = [operator for _, operator in done]
    begin, end = names.index(b"BDC"), names.index(b"EMC")
    tag, properties = done[begin][0]
    assert (tag, properties["/ActualText"]) == ("/Span", "Bed بيت 2")  # type: ignore[index]
    within = names[begin:end]
    assert within.count(b"Tj") == 1
    assert b"f" in within
    modes = [operands[0] for operands, operator in done if operator == b"Tr"]
    assert modes == [3, 0]
    last_mode = max(number for number, name in enumerate(names) if name == b"Tr")
    assert last_mode < max(number for number, name in enumerate(names) if name == b"Tj")


def test_titles_and_bookmarks_keep_their_letters() -> None:
    reader = PdfReader(BytesIO(pdf()))
    assert reader.metadata is not None
    assert reader.metadata.title == "計画 بيت"
    assert [entry.title for entry in reader.outline] == ["بيت 計"]  # type: ignore[union-attr]


def test_the_same_names_give_the_same_bytes() -> None:
    text = Text(Point(20, 50), "بيت", 5, Style.LABEL)
    assert pdf(text) == pdf(text)


def test_markup_in_a_name_is_only_letters() -> None:
    text = line(20, 50, "<b>&amp;</b> %s (\\) \u202eR1", 5)
    assert "<b>&amp;</b> %s (\\) R1" in PdfReader(BytesIO(pdf(text))).pages[0].extract_text()
    assert ink(pdf(text))[2] < 20 + text_width(text.text, 5)


NAMED = """
{"format": "raftwright", "version": 1, "name": "%s", "beds": [{"name": "b",
"outline": {"kind": "rectangle", "length": 200, "width": 150},
"planting": {"spacing": 100, "hole_diameter": 50}}]}
"""


def test_a_command_names_the_letters_that_no_font_has(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("layout_gui.__main__._outline", bars)
    file = tmp_path / "p.raft.json"
    file.write_text(NAMED % f"بيت {NOWHERE}", "utf-8")

    assert main(["export", str(file), "--out", str(tmp_path), "--only", "cut-sheet.pdf"]) == 0
    told = capsys.readouterr().err
    assert told == (
        f"p.raft.json: No font here has all letters of “\u2068بيت {NOWHERE}\u2069”: "
        "shown as □. Install a font for Chinese.\n"
    )
    assert main(["export", str(file), "--out", str(tmp_path), "--only", "holes.csv"]) == 0
    assert capsys.readouterr().err == ""


def test_a_command_starts_qt_only_for_names_that_need_it(tmp_path: Path) -> None:
    code = (
        "import sys; from layout_gui.__main__ import main;"
        f"main(['export', sys.argv[1], '--out', {str(tmp_path)!r}, '--only', 'cut-sheet.pdf']);"
        "print('PySide6.QtGui' in sys.modules)"
    )
    for name, needed in (("Øre 2", "False"), ("חסה", "True")):
        file = tmp_path / "p.raft.json"
        file.write_text(NAMED % name, "utf-8")
        done = subprocess.run(
            [sys.executable, "-c", code, str(file)],
            cwd=ROOT, capture_output=True, text=True, check=True,
        )  # fmt: skip
        assert done.stdout.split()[-1] == needed
        assert done.stderr == ""


def test_a_command_draws_words_for_machines_as_text_or_as_outlines(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("layout_gui.__main__._outline", bars)
    file = tmp_path / "p.raft.json"
    file.write_text(NAMED % f"بيت {NOWHERE}", "utf-8")
    wanted = ["export", str(file), "--out", str(tmp_path), "--only", "b-1.svg,b.bed.dxf"]

    assert main(wanted) == 0
    assert capsys.readouterr().err == ""
    assert "<text" in (tmp_path / "b-1.svg").read_text("utf-8")
    assert main([*wanted, "--text", "outlines"]) == 0
    assert "Install a font for Chinese" in capsys.readouterr().err
    assert "<text" not in (tmp_path / "b-1.svg").read_text("utf-8")
    assert "\nTEXT\n" not in (tmp_path / "b.bed.dxf").read_text("utf-8")
