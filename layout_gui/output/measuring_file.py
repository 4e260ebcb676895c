"""Measuring pages as a file: all that there is to write before there is a bed."""

from collections.abc import Sequence
from pathlib import Path

from geometry.beds.shapes import ShapeName
from geometry.drawing.measuring import lay_blank_measuring
from geometry.drawing.paper import COMMON, Paper
from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.output.landing import whole_file


def write_measuring(
    path: Path, shapes: Sequence[ShapeName], paper: Paper = COMMON, unit: Unit | None = None
) -> Path:
    """Write the measuring pages of shapes as PDF, whole or not at all; a file there is replaced.

    With ``unit``, its box is ticked on the page.

    Raises:
        OSError: The file cannot be written; the error's file name says which.
    """
    from layout_gui.output.pdf import render_pdf  # noqa: PLC0415 - loaded when first used

    laid = lay_blank_measuring([(shape, "") for shape in shapes], paper, unit)
    with whole_file(path) as part:
        part.write_bytes(render_pdf(laid.pages(), title=tr("Measuring page")))
    return path
