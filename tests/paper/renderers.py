"""Two programs that turn a page into dots, each with an engine of its own: pdfium and poppler."""

import shutil
import subprocess
from collections.abc import Callable

import numpy as np
import pypdfium2
import pytest
from numpy.typing import NDArray

DPI = 600
PIXEL = 25.4 / DPI
POPPLER = shutil.which("pdftoppm")

Darkness = NDArray[np.float64]
"""How dark each dot is, 0 to 1; the first row is the lowest of the page."""

Renderer = Callable[[bytes, int], Darkness]


def pdfium(data: bytes, number: int) -> Darkness:
    """Render a page, counted from 0, at ``DPI``."""
    document = pypdfium2.PdfDocument(data)
    image = document[number].render(scale=DPI / 72, grayscale=True).to_numpy()[::-1]
    document.close()
    return 1 - (image[:, :, 0] if image.ndim == 3 else image) / 255


def poppler(data: bytes, number: int) -> Darkness:
    """Render a page, counted from 0, at ``DPI``."""
    page = f"{number + 1}"
    result = subprocess.run(
        [f"{POPPLER}", "-r", f"{DPI}", "-gray", "-f", page, "-l", page, "-"],
        input=data,
        capture_output=True,
        check=True,
    )
    magic, width, height, most = result.stdout.split(maxsplit=4)[:4]
    assert (magic, most) == (b"P5", b"255")
    size = int(width) * int(height)
    image = np.frombuffer(result.stdout[-size:], dtype=np.uint8)
    return 1 - image.reshape(int(height), int(width))[::-1] / 255


RENDERERS = (
    pytest.param(pdfium, id="pdfium"),
    pytest.param(
        poppler,
        id="poppler",
        marks=pytest.mark.skipif(POPPLER is None, reason="needs pdftoppm, from poppler-utils"),
    ),
)


def cross_middle(
    dark: Darkness, x: float, y: float, inner: float, outer: float
) -> tuple[float, float]:
    """Measure in mm where the strokes cross that run ``inner`` to ``outer`` mm from a place.

    Each row of dots across an upright stroke, and each column across a level one, is weighed by
    itself; the median is what most say, whatever else crosses the strokes.
    """
    found = []
    for turned, along, across in ((False, x, y), (True, y, x)):
        dots = dark.T if turned else dark
        low, high = round((across - 0.6) / PIXEL), round((across + 0.6) / PIXEL)
        places = np.arange(low, high) + 0.5
        for way in (-1, 1):
            ends = sorted((along + way * inner, along + way * outer))
            strip = dots[low:high, round(ends[0] / PIXEL) : round(ends[1] / PIXEL)]
            weights = strip.sum(axis=0)
            assert (weights > 1).all()
            found.append(float(np.median(places @ strip / weights)) * PIXEL)
    left, right, below, above = found
    assert abs(left - right) < PIXEL
    assert abs(below - above) < PIXEL
    return (below + above) / 2, (left + right) / 2


def run_length(dark: Darkness, start: float, aside: float, length: float) -> float:
    """Measure in mm a level line that should begin at a place, by how much of it is dark.

    A dot that is half dark counts half; a line with a gap comes out short. It is measured on the
    side of its middle that has no ticks, which would lengthen it by half the width of their pen.
    """
    columns = slice(int((start - 2) / PIXEL), int((start + length + 2) / PIXEL))
    rows = [int((aside + way) / PIXEL) for way in (-0.06, 0.06)]
    return float(min(dark[row, columns].sum() for row in rows)) * PIXEL
