"""The step curve: plants against spacing. Importing this loads the plotting library."""

from bisect import bisect_left
from collections.abc import Sequence
from fractions import Fraction
from typing import Any, Final

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from geometry.compare.steps import Step
from geometry.compare.thresholds import Threshold
from geometry.model.planting import Pattern
from geometry.tongue import number, tr
from geometry.units import MM_PER, Unit
from layout_gui.panels.curve_reading import (
    Reading,
    Series,
    line_near,
    on_the_tape,
    ordered,
    read,
    reading_sentence,
    step_at,
)
from layout_gui.panels.words import PATTERN_WORDS, bare_length
from layout_gui.screen.theme import Theme

_DASHES: Final[dict[Pattern, list[int] | None]] = {
    "best": None,
    "square": None,
    "staggered": [5, 3],
    "hexagonal": [1, 2],
    "mixed": [7, 2, 1, 2],
    "rectangular": [3, 3],
    "rings": [1, 3],
    "rows": [8, 4],
}
_SYMBOLS: Final[dict[Pattern, str]] = {
    "square": "s",
    "staggered": "t1",
    "hexagonal": "h",
    "mixed": "d",
    "rectangular": "s",
    "rings": "o",
    "rows": "t",
}
_SIGNS: Final[dict[Pattern, str]] = {
    "best": "\u25ac",
    "square": "\u2500\u25a0",
    "staggered": "\u2504\u25b2",
    "hexagonal": "\u2508\u2b22",
    "mixed": "\u254d\u25c6",
    "rectangular": "\u2504\u25a0",
    "rings": "\u2508\u25cf",
    "rows": "\u254c\u25bc",
}
_MOST_SYMBOLS: Final = 40
"""Lines of more steps have no symbol at each: they would run together."""
_SNAP_PX: Final = 5.0
"""So near to the end of a step a pointer means the end itself."""
_NO_WORDS_BEFORE: Final = 0.12
"""In this share of the curve, from the left, there is no room for words before a ring."""
_ROOMY_PX: Final = 150
_TOLD_APART: Final = 80
_THIN: Final = 125
_PAGE: Final = 5
"""So many steps are jumped by Page Up and Page Down."""


class _Axis(pg.AxisItem):  # type: ignore[misc]  # the library has no types
    """Writes numbers as people read them, and no thousands as 1."""

    def __init__(self, side: str) -> None:
        super().__init__(side)
        self.enableAutoSIPrefix(False)

    def tickStrings(self, values: list[float], scale: float, _spacing: float) -> list[str]:
        """Write the numbers at the marks."""
        return [number(round(value * scale, 4)) for value in values]


class _PlantsAxis(_Axis):
    """Counts plants: no mark ever stands between two whole numbers."""

    def tickSpacing(self, low: float, high: float, size: float) -> list[tuple[float, float]]:
        """Leave out the levels of marks that are no whole numbers."""
        found = super().tickSpacing(low, high, size)
        return [(each, at) for each, at in found if each == int(each) and each >= 1] or [(1, 0)]


class StepCurve(pg.PlotWidget):  # type: ignore[misc]  # the library has no types
    """One line a pattern, a mark at the present spacing.

    The pointer or the arrow keys say a place (``said``); a click or Enter picks it (``picked``,
    with a ``Reading``). Left and Right go along the steps of a line, Up and Down change the line.
    Enter at the place that is tried already wants it used (``wanted``).
    """

    picked = Signal(object)
    wanted = Signal()
    said = Signal(str)
    """The sentence of the place pointed at; empty when there is none."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(
            parent,
            background=theme.background,
            enableMenu=False,
            axisItems={"left": _PlantsAxis("left"), "bottom": _Axis("bottom")},
        )
        self._unit: Unit = "mm"
        self._theme = theme
        self._series: Series = {}
        self._threshold: Threshold | None = None
        self._now_mm: float | None = None
        self._now_plants = 0
        self._own: Pattern = "best"
        self._tried_mm: float | None = None
        self._shown: object = None
        self._cursor: Reading | None = None
        self._pointer: list[Any] = []
        self.setAccessibleName(tr("Plants against spacing"))
        self.setMinimumSize(150, 110)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.hideButtons()
        self.setMouseEnabled(x=False, y=False)
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.plotItem.vb.setDefaultPadding(0.05)
        self.plotItem.layout.setContentsMargins(6, 8, 10, 0)
        self.scene().sigMouseClicked.connect(self._on_clicked)
        self.scene().sigMouseMoved.connect(self._on_moved)
        self._describe("")

    @property
    def cursor_at(self) -> Reading | None:
        """The place that was said last; None before any."""
        return self._cursor

    def set_theme(self, theme: Theme) -> None:
        """Draw in other colours from now on."""
        self._theme = theme
        self.setBackground(theme.background)
        self._draw()

    def show_curve(
        self,
        series: Series,
        *,
        now_mm: float,
        now_plants: int,
        own: Pattern,
        unit: Unit,
        threshold: Threshold | None = None,
    ) -> None:
        """Show these lines, where the bed stands now, and the ends of its own step.

        ``own`` is the bed's own pattern.
        """
        shown = (dict(series), now_mm, now_plants, own, unit, threshold)
        if shown == self._shown:
            return
        self._shown = shown
        self._series, self._now_mm, self._unit = series, now_mm, unit
        self._now_plants, self._own = now_plants, own
        self._threshold = threshold
        self._draw()
        if self._cursor is not None:
            self._point_at(read(series, self._cursor.pattern, self._cursor.spacing))

    def show_tried(self, spacing_mm: float | None) -> None:
        """Mark a spacing that is being tried."""
        if spacing_mm != self._tried_mm:
            self._tried_mm = spacing_mm
            self._draw()

    # -- reading it ------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go along the steps, change the line, try or use what is pointed at."""
        key = Qt.Key(event.key())
        along = {
            Qt.Key.Key_Left: -1,
            Qt.Key.Key_Right: 1,
            Qt.Key.Key_PageUp: -_PAGE,
            Qt.Key.Key_PageDown: _PAGE,
            Qt.Key.Key_Home: -(10**9),
            Qt.Key.Key_End: 10**9,
        }
        if key in along:
            self._walk(along[key])
        elif key in {Qt.Key.Key_Up, Qt.Key.Key_Down}:
            self._change_line(1 if key == Qt.Key.Key_Down else -1)
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space}:
            self._enter()
        else:
            event.ignore()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Leave keys to the window; the library keeps a list of those that are down."""
        event.ignore()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Say where the keyboard stands on the curve."""
        super().focusInEvent(event)
        if self._cursor is None:
            self._walk(0)
        self.viewport().update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the frame of the keyboard away."""
        super().focusOutEvent(event)
        self.viewport().update()

    def leaveEvent(self, event: QEvent) -> None:
        """Forget the place when the pointer leaves, unless the keyboard is here."""
        super().leaveEvent(event)
        if not self.hasFocus():
            self._point_at(None)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw a frame around the curve while the keyboard is here."""
        super().paintEvent(event)
        if self.hasFocus():
            painter = QPainter(self.viewport())
            painter.setPen(QPen(pg.mkColor(self._theme.accent), 2))
            painter.drawRect(self.viewport().rect().adjusted(1, 1, -1, -1))

    def _walk(self, by: int) -> None:
        """Go so many steps along the line, to the wide end of a step."""
        here = self._cursor or self._here()
        if here is None:
            return
        steps = self._series.get(here.pattern, ())
        at = step_at(steps, here.spacing)
        if at is None:
            return
        is_within = here.spacing < steps[at].spacing
        # From within a step the first one to the right is its own end.
        to = at + by - (1 if by > 0 and is_within else 0)
        to = max(0, min(to, len(steps) - 1))
        spacing = here.spacing if by == 0 else steps[to].spacing
        self._point_at(read(self._series, here.pattern, spacing))

    def _here(self) -> Reading | None:
        """The present place: on the bed's own line, or the first there is."""
        if self._now_mm is None:
            return None
        now = Fraction(self._now_mm).limit_denominator(10**6)
        lines = [self._own, *ordered(self._series)]
        found = (read(self._series, line, now) for line in lines)
        return next((reading for reading in found if reading is not None), None)

    def _change_line(self, by: int) -> None:
        here = self._cursor or self._here()
        lines = ordered(self._series)
        if here is None or here.pattern not in lines:
            return
        pattern = lines[(lines.index(here.pattern) + by) % len(lines)]
        self._point_at(read(self._series, pattern, here.spacing))

    def _enter(self) -> None:
        here = self._cursor
        if here is None:
            return
        if self._tried_mm is not None and abs(self._tried_mm - float(here.spacing)) < 1e-6:
            self.wanted.emit()
        else:
            self.picked.emit(here)

    def _on_moved(self, place: Any) -> None:
        reading = self._reading_at(place)
        if reading is not None or not self.hasFocus():
            self._point_at(reading)

    def _on_clicked(self, event: Any) -> None:
        reading = self._reading_at(event.scenePos())
        if reading is not None:
            self._point_at(reading)
            self.picked.emit(reading)

    def _reading_at(self, place: Any) -> Reading | None:
        """What the pointer means: the nearest line, at a whole step of the tape or a step's end."""
        box = self.plotItem.vb
        if not box.sceneBoundingRect().contains(place):
            return None
        at = box.mapSceneToView(place)
        per = MM_PER[self._unit]
        spacing = Fraction(at.x()).limit_denominator(10**6) * per
        pattern = line_near(self._series, spacing, at.y(), self._own)
        if pattern is None:
            return None
        reach = Fraction(_SNAP_PX * box.viewPixelSize()[0]).limit_denominator(10**6) * per
        steps = self._series[pattern]
        near = bisect_left(steps, spacing - reach, key=lambda step: step.spacing)
        if near < len(steps) - 1 and abs(steps[near].spacing - spacing) <= reach:
            return read(self._series, pattern, steps[near].spacing)
        found = read(self._series, pattern, spacing)
        return found and on_the_tape(found, self._unit)

    def _point_at(self, reading: Reading | None) -> None:
        """Say a place and mark it."""
        self._cursor = reading
        for item in self._pointer:
            self.plotItem.removeItem(item)
        self._pointer = []
        if reading is None:
            self._describe("")
            self.said.emit("")
            return
        x = float(reading.spacing / MM_PER[self._unit])
        theme = self._theme
        line = pg.InfiniteLine(x, angle=90, pen=pg.mkPen(theme.quiet_text, width=1))
        ring = pg.ScatterPlotItem(
            [x],
            [reading.plants],
            size=11,
            pen=pg.mkPen(theme.accent, width=3),
            brush=pg.mkBrush(theme.background),
        )
        self._pointer = [line, ring]
        for item in self._pointer:
            self.plotItem.addItem(item, ignoreBounds=True)
        sentence = reading_sentence(reading, self._unit, self._now_plants)
        self._describe(sentence)
        self.said.emit(sentence)

    def _describe(self, sentence: str) -> None:
        how = tr("Left and Right go along the steps, Up and Down change the line, Enter tries.")
        self.setAccessibleDescription(f"{sentence} {how}".strip())

    # -- drawing it ------------------------------------------------------------------------------

    def _draw(self) -> None:
        item = self.plotItem
        item.clear()
        self._pointer = []
        per = float(MM_PER[self._unit])
        theme = self._theme
        lines = ordered(self._series)
        if "best" in lines:  # the widest line, beneath the others
            lines = ["best", *(line for line in lines if line != "best")]
        for name in lines:
            self._draw_line(name, per)
        for side in ("left", "bottom"):
            axis = item.getAxis(side)
            axis.setPen(pg.mkPen(theme.line))
            axis.setTextPen(pg.mkPen(theme.quiet_text))
            axis.setStyle(tickFont=self.font(), tickLength=4)
        self._mark(self._now_mm, tr("now"), theme.text, Qt.PenStyle.DotLine, 0.94)
        self._mark(self._tried_mm, tr("tried"), theme.accent, Qt.PenStyle.SolidLine, 0.74)
        self._mark_threshold()
        self._show_labels()
        if self._cursor is not None:
            self._point_at(read(self._series, self._cursor.pattern, self._cursor.spacing))

    def _show_labels(self) -> None:
        """Name the axes where there is room for it."""
        item, quiet = self.plotItem, self._theme.quiet_text
        item.setLabel("bottom", tr("spacing, {unit}", unit=self._unit), color=quiet)
        item.setLabel("left", tr("plants"), color=quiet)
        is_roomy = self.height() >= _ROOMY_PX
        item.getAxis("bottom").showLabel(is_roomy)
        item.getAxis("left").showLabel(is_roomy)

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Leave the names of the axes out where they would take the room of the curve."""
        super().resizeEvent(event)
        if event is not None and event.size() != event.oldSize() and self._series:
            self._show_labels()

    def _draw_line(self, name: Pattern, per: float) -> None:
        """Draw a line; dash and symbol tell it from the others, not its colour alone."""
        steps, theme = self._series[name], self._theme
        colour = theme.accent if name == "square" else theme.text
        if name == "best":
            colour = _band(theme)
        width = 7 if name == "best" else 2
        pen = pg.mkPen(colour, width=width, dash=_DASHES[name])
        self.plotItem.plot(*_as_steps(steps, per), pen=pen)
        symbol = _SYMBOLS.get(name)
        ends = steps[:-1]
        if symbol is None or not ends or len(ends) > _MOST_SYMBOLS:
            return
        self.plotItem.addItem(
            pg.ScatterPlotItem(
                [float(step.spacing) / per for step in ends],
                [step.count for step in ends],
                symbol=symbol,
                size=6,
                pen=pg.mkPen(colour, width=1),
                brush=pg.mkBrush(colour),
            )
        )

    def _mark_threshold(self) -> None:
        """Ring the last spacing with as many plants, and the first below it with more."""
        found = self._threshold
        if found is None or self._tried_mm is not None:  # the words would run into each other
            return
        ends = [(found.same_up_to, found.plants, ""), (found.more_at, found.more_plants, "+")]
        shown = [float(step.spacing) for steps in self._series.values() for step in steps]
        low, high = min(shown, default=0.0), max(shown, default=0.0)
        left = (low + (high - low) * _NO_WORDS_BEFORE) / float(MM_PER[self._unit])
        for spacing, plants, sign in ends:
            if spacing is None:
                continue
            x = float(spacing / MM_PER[self._unit])
            ring = pg.ScatterPlotItem(
                [x], [plants], size=9, pen=pg.mkPen(self._theme.text, width=2), brush=None
            )
            words = f"{sign}{plants - found.plants}" if sign else f"{plants}"
            text = pg.TextItem(
                words,
                color=self._theme.text,
                anchor=(1.2, 1) if sign and x > left else (-0.1, 1),
                fill=self._theme.background,
            )
            text.setFont(self.font())
            text.setPos(x, plants)
            self.plotItem.addItem(ring, ignoreBounds=True)
            self.plotItem.addItem(text, ignoreBounds=True)

    def _mark(
        self, spacing_mm: float | None, word: str, colour: str, style: Qt.PenStyle, high: float
    ) -> None:
        """Draw a line at a spacing, its word so high up."""
        if spacing_mm is None:
            return
        line = pg.InfiniteLine(
            spacing_mm / float(MM_PER[self._unit]),
            angle=90,
            pen=pg.mkPen(colour, width=1.5, style=style),
            label=f"{word} {bare_length(spacing_mm, self._unit)}",
            labelOpts={
                "position": high,
                "color": colour,
                "anchors": [(0, 0), (1, 0)],
                "fill": self._theme.background,
            },
        )
        self.plotItem.addItem(line, ignoreBounds=True)


def legend(names: Sequence[Pattern]) -> str:
    """Say in words which line is which."""
    return "     ".join(f"{_SIGNS[name]} {tr(PATTERN_WORDS[name])}" for name in names)


def _band(theme: Theme) -> Any:
    """Return the colour of the wide line, so far from that of the words that these show on it."""
    band, words = pg.mkColor(theme.edge), pg.mkColor(theme.text)
    if abs(band.lightness() - words.lightness()) < _TOLD_APART:
        band.setAlpha(_THIN)
    return band


def _as_steps(steps: Sequence[Step], per: float) -> tuple[Any, Any]:
    """Turn thresholds into a line: level up to each threshold, then straight down."""
    edges = np.repeat([float(step.spacing) / per for step in steps], 2)
    plants = np.repeat([step.count for step in steps], 2)
    return edges[:-1], plants[1:]
