"""Small holes: each a ready-made picture, thousands of them put together in one go."""

from functools import lru_cache
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen, QTransform

from geometry.holes.sites import Coordinates
from layout_gui.canvas.tones import Tones

Pixels = NDArray[np.uint32]
Kind = Literal["point", "speck", "dot"]
"""A square point, a disc in one colour, a disc with its rim."""

PHASES: Final = 4
"""A hole's picture is kept for so many places within a pixel, each way."""

POINTS_BELOW: Final = 4.0
"""Holes of fewer pixels across are points."""

BAR_SHARE: Final = 0.3
"""How high the bar of a small plugged hole is, as a share of its length."""

SPECK_BELOW: Final = 6.0
"""Holes of fewer pixels across are drawn in one colour, the one that stands out from the foam."""


def paint_dots(
    painter: QPainter, tones: Tones, to_screen: QTransform, holes: NDArray[np.float64]
) -> None:
    """Paint small holes (rows of x, y, diameter, plugged) with a painter that has no transform.

    ``to_screen`` knows shift and scale, no more. All are put together in one picture; where holes
    overlap, what covers more of a pixel is seen.
    """
    if not len(holes):
        return
    ratio = painter.device().devicePixelRatioF()
    scale = np.array([to_screen.m11(), to_screen.m22()]) * ratio
    centres = holes[:, :2] * scale + np.array([to_screen.dx(), to_screen.dy()]) * ratio
    sizes = (holes[:, 2] * abs(scale[0])).round(1)
    canvas, left, top = _sheet(centres, sizes, holes[:, 3] > 0, tones, ratio)
    height, width = canvas.shape
    # The picture lies in the array; it is painted before the array goes.
    picture = QImage(canvas.data, width, height, 4 * width, _FORMAT)
    picture.setDevicePixelRatio(ratio)
    painter.drawImage(QPointF(left / ratio, top / ratio), picture)


def _sheet(
    centres: Coordinates,
    sizes: NDArray[np.float64],
    plugged: NDArray[np.bool_],
    tones: Tones,
    ratio: float,
) -> tuple[Pixels, int, int]:
    """Put small holes together; also return the left and top of the picture in device pixels."""
    reach = _reach(float(sizes.max())) + 1
    cells = np.floor(centres)
    columns, rows = ((centres - cells) * PHASES).astype(np.int64).T
    phases = rows * PHASES + columns
    places = cells.astype(np.int64)
    low, high = places.min(axis=0) - reach, places.max(axis=0) + reach + 1
    width, height = (high - low).tolist()
    places -= low
    corners = places[:, 1] * width + places[:, 0]
    canvas = np.zeros(width * height, dtype=np.uint32)
    looks = np.rint(sizes * 20).astype(np.int64) + plugged
    is_one = bool((looks == looks[0]).all())
    for look in looks[:1].tolist() if is_one else np.unique(looks).tolist():
        alike = slice(None) if is_one else looks == look
        at, phase = corners[alike], phases[alike]
        dots = _dots(tones, look // 2 / 10, ratio, is_plugged=look % 2 == 1)
        # Pixel by pixel of a hole's picture, each for all holes.
        for right, down, values in dots:
            pixel = at + (down * width + right)
            canvas[pixel] = np.maximum(canvas[pixel], values[phase])
    left, top = low.tolist()
    return canvas.reshape(height, width), left, top


def kind_of(diameter: float) -> Kind:
    """Tell how a hole is drawn that is so many pixels across."""
    if diameter < POINTS_BELOW:
        return "point"
    return "speck" if diameter < SPECK_BELOW else "dot"


def paint_dot(
    painter: QPainter, tones: Tones, at: QPointF, diameter: float, *, is_plugged: bool
) -> None:
    """Draw one small hole: this alone decides what it looks like. Lengths in pixels.

    Too small for ticks: a plugged hole is a bar instead of a disc.
    """
    kind = kind_of(diameter)
    if kind == "point":
        half = diameter * 0.45
        high = max(0.45, BAR_SHARE * half) if is_plugged else half
        painter.fillRect(QRectF(at.x() - half, at.y() - high, 2 * half, 2 * high), tones.speck)
        return
    if is_plugged:
        high = max(1.6, BAR_SHARE * diameter)
        bar = QRectF(at.x() - diameter / 2, at.y() - high / 2, diameter, high)
        painter.fillRect(bar, tones.speck)
        return
    painter.setPen(QPen(tones.hole_line, 1) if kind == "dot" else Qt.PenStyle.NoPen)
    painter.setBrush(tones.hole if kind == "dot" else tones.speck)
    painter.drawEllipse(at, diameter / 2, diameter / 2)


_FORMAT: Final = QImage.Format.Format_ARGB32_Premultiplied


def _reach(diameter: float) -> int:
    """How many pixels the picture of a hole goes on beyond the one its centre lies in."""
    return int(diameter / 2) + 2


@lru_cache(maxsize=128)
def _dots(
    tones: Tones, diameter: float, ratio: float, *, is_plugged: bool
) -> tuple[tuple[int, int, Pixels], ...]:
    """The pictures of a small hole, pixel by pixel as far as there is anything to see.

    Each has its place from the pixel of the centre, right and down, and its colours by phase (x
    runs fastest). Lengths in device pixels.
    """
    reach = _reach(diameter)
    shifts = [(column / PHASES, row / PHASES) for row in range(PHASES) for column in range(PHASES)]
    by_phase = np.stack(
        [_dot(tones, diameter, *shift, ratio, is_plugged=is_plugged) for shift in shifts]
    )
    seen = by_phase.any(axis=0)
    return tuple(
        (right - reach, down - reach, np.ascontiguousarray(by_phase[:, down, right]))
        for down, right in np.argwhere(seen).tolist()
    )


def _dot(
    tones: Tones, diameter: float, right: float, down: float, ratio: float, *, is_plugged: bool
) -> Pixels:
    reach = _reach(diameter)
    side = 2 * reach + 1
    picture = QImage(side, side, _FORMAT)
    picture.fill(QColor(0, 0, 0, 0))
    picture.setDevicePixelRatio(ratio)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    at = QPointF(reach + right, reach + down) / ratio
    paint_dot(painter, tones, at, diameter / ratio, is_plugged=is_plugged)
    painter.end()
    pixels: Pixels = np.frombuffer(picture.constBits(), dtype=np.uint32).reshape(side, side).copy()
    return pixels
