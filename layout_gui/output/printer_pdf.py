"""Writing printer pages, which need no project."""

from collections.abc import Sequence
from pathlib import Path

from geometry.drawing.paper import Paper
from geometry.drawing.printer_page import PrinterPages
from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.output.landing import whole_file


def write_printer_pages(
    papers: Sequence[Paper], path: Path, *, unit: Unit = "mm", replaces: bool = False
) -> Path:
    """Write a page for each paper by which a printer is measured; the file comes whole or not.

    Raises:
        FileExistsError: The file is there already and is not to be replaced.
        OSError: The file cannot be written; the error's file name says which.
    """
    from layout_gui.output.pdf import render_pdf  # noqa: PLC0415 - loaded when first used

    if path.exists() and not replaces:
        raise FileExistsError(
            tr("{name} is there already; give another name, or remove it first.", name=path.name)
        )
    pages = PrinterPages(tuple(papers), unit).pages()
    with whole_file(path) as part:
        part.write_bytes(render_pdf(pages, title=tr("Printer page")))
    return path
