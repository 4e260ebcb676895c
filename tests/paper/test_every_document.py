"""What holds for every document of every sample, read back by pypdf."""

import hashlib
import os
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from geometry.drawing.paper import PAPERS, PageSetup
from geometry.tongue import speaking
from layout_gui.output.documents import BY_FILE, DOCUMENTS
from layout_gui.output.export import export
from layout_gui.tongues import tongue_of
from tests.paper.samples import plan_of

MM = 25.4 / 72
FEW = range(1, 4)
"""Of sets of dozens of pages that are alike so many are enough here."""

PAPER_OF = {
    "courtyard-l": "common", "lined-trough": "A4", "market-bench": "Letter", "round-pool": "A3",
}  # fmt: skip
"""Each outline, zones and several beds; what holds of a document hangs on little else."""
SOME = ("school-bench",)


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("written")


@cache
def documents_of(sample: str, folder: Path) -> dict[str, PdfReader]:
    pages = {document.file: FEW for document in DOCUMENTS}
    setup = PageSetup(PAPERS[PAPER_OF[sample]])
    paths = export(plan_of(sample), folder / sample, frozenset(BY_FILE), setup=setup, pages=pages)
    assert len(paths) == len(DOCUMENTS)
    return {path.name: PdfReader(path) for path in paths}


@pytest.mark.parametrize("sample", PAPER_OF)
def test_a_document_wishes_to_be_printed_true_and_says_what_it_is(
    sample: str, written: Path
) -> None:
    """ISO 32000-1, tables 28 and 150; printing notes 1.1."""
    titles = set()
    for name, reader in documents_of(sample, written).items():
        root = reader.trailer["/Root"]
        assert reader.pdf_header == "%PDF-1.7", name
        assert root["/ViewerPreferences"]["/PrintScaling"] == "/None", name
        assert root["/ViewerPreferences"]["/Duplex"] == "/Simplex", name
        assert root["/ViewerPreferences"]["/DisplayDocTitle"], name
        assert root["/Lang"] == "en", name
        assert plan_of(sample).project.name in reader.metadata.title, name
        assert reader.metadata.creator == "Raftwright", name
        assert reader.outline, name
        titles.add(reader.metadata.title)
    assert len(titles) == len(DOCUMENTS)


@pytest.mark.parametrize("sample", PAPER_OF)
def test_pages_are_as_large_as_the_paper(sample: str, written: Path) -> None:
    paper = PAPERS[PAPER_OF[sample]]
    for name, reader in documents_of(sample, written).items():
        for page in reader.pages:
            width, height = (float(side) * MM for side in page.mediabox[2:])
            assert width == pytest.approx(paper.width_mm, abs=0.001), name
            assert height == pytest.approx(paper.height_mm, abs=0.001), name


@pytest.mark.parametrize("sample", PAPER_OF)
def test_every_font_is_embedded_and_can_be_searched(sample: str, written: Path) -> None:
    for name, reader in documents_of(sample, written).items():
        fonts = dict(_fonts(reader))
        assert fonts, name
        for base, font in fonts.items():
            assert "DejaVuSans" in base, name
            assert "/FontFile2" in font["/FontDescriptor"].get_object(), name
            assert "/ToUnicode" in font, name


def test_documents_name_their_language(tmp_path: Path) -> None:
    with speaking(tongue_of("es")):
        (path,) = export(plan_of("first-raft"), tmp_path, frozenset({"cut-sheet.pdf"}))

    assert PdfReader(path).trailer["/Root"]["/Lang"] == "es"


def test_two_processes_with_other_seeds_write_the_same_bytes(tmp_path: Path) -> None:
    """Whatever is kept in sets and read by its hash must not show."""
    runs = [
        subprocess.Popen(
            [sys.executable, __file__, str(tmp_path / seed)],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
        )
        for seed in ("1", "2")
    ]
    assert [run.wait(120) for run in runs] == [0, 0]

    sums = [
        {
            str(path.relative_to(tmp_path / seed)): hashlib.sha256(path.read_bytes()).hexdigest()
            for path in (tmp_path / seed).rglob("*.pdf")
        }
        for seed in ("1", "2")
    ]
    assert sums[0] == sums[1]
    assert len(sums[0]) == len(SOME) * len(DOCUMENTS)


def _fonts(reader: PdfReader) -> list[tuple[str, DictionaryObject]]:
    return [
        (font["/BaseFont"], font)
        for page in reader.pages
        for font in (one.get_object() for one in page["/Resources"]["/Font"].values())
    ]


if __name__ == "__main__":
    for some in SOME:
        export(plan_of(some), Path(sys.argv[1]) / some, frozenset(BY_FILE))
