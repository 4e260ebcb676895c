"""The step curve: plants against spacing. Importing this loads the plotting library."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from geometry.compare.steps import Step
from geometry.compare.thresholds import Threshold
from geometry.model.planting import Pattern
from geometry.tongue import tr
from geometry.units import MM_PER, Unit
from layout_gui.panels.words import PATTERN_WORDS, bare_length
from layout_gui.screen.theme import Theme

Steps = Sequence[Step]

_SIGNS: Final[dict[Pattern, str]] = {
    "best": "\u25ac",
    "square": "\u2500\u2500",
    "staggered": "\u2500 \u2500",
}


_NO_WORDS_BEFORE: Final = 0.12
"""In this share of the curve, from the left, there is no room for words before a ring."""


class StepCurve(pg.PlotWidget):  # type: ignore[misc]  # the library has no types
    """One line a pattern, a mark at the present spacing. A click names a spacing."""

    picked = Signal(float)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent, background=theme.background)
        self._unit: Unit = "mm"
        self._theme = theme
        self._series: Mapping[Pattern, Steps] = {}
        self._threshold: Threshold | None = None
        self._now_mm: float | None = None
        self._tried_mm: float | None = None
        self.setAccessibleName(tr("Plants against spacing"))
        self.setMinimumSize(170, 130)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setMenuEnabled(False)
        self.hideButtons()
        self.setMouseEnabled(x=False, y=False)
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.plotItem.vb.setDefaultPadding(0.05)
        self.plotItem.layout.setContentsMargins(0, 8, 10, 0)
        self.scene().sigMouseClicked.connect(self._on_clicked)

    def set_theme(self, theme: Theme) -> None:
        """Draw in other colours from now on."""
        self._theme = theme
        self.setBackground(theme.background)
        self._draw()

    def show_curve(
        self,
        series: Mapping[Pattern, Steps],
        *,
        now_mm: float,
        unit: Unit,
        threshold: Threshold | None = None,
    ) -> None:
        """Show these lines, where the bed stands now, and the ends of its own step."""
        self._series, self._now_mm, self._unit = series, now_mm, unit
        self._threshold = threshold
        self._tried_mm = None
        self._draw()

    def show_tried(self, spacing_mm: float | None) -> None:
        """Mark a spacing that is being tried."""
        self._tried_mm = spacing_mm
        self._draw()

    def _draw(self) -> None:
        item = self.plotItem
        item.clear()
        per = float(MM_PER[self._unit])
        theme = self._theme
        pens = {
            "best": pg.mkPen(theme.line, width=7),
            "square": pg.mkPen(theme.accent, width=2),
            "staggered": pg.mkPen(theme.text, width=2, dash=[4, 3]),
        }
        for name in sorted(self._series, key=list(pens).index):
            item.plot(*_as_steps(self._series[name], per), pen=pens[name])
        for side in ("left", "bottom"):
            axis = item.getAxis(side)
            axis.setPen(pg.mkPen(theme.line))
            axis.setTextPen(pg.mkPen(theme.quiet_text))
            axis.setStyle(tickFont=self.font(), tickLength=4)
        self._mark(self._now_mm, "now", theme.text, Qt.PenStyle.DotLine)
        self._mark(self._tried_mm, "tried", theme.accent, Qt.PenStyle.SolidLine)
        self._mark_threshold()
        item.setLabel("bottom", tr("spacing, {unit}", unit=self._unit), color=theme.quiet_text)
        item.setLabel("left", tr("plants"), color=theme.quiet_text)

    def _mark_threshold(self) -> None:
        """Ring the last spacing with as many plants, and the first below it with more."""
        found = self._threshold
        if found is None:
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

    def _mark(self, spacing_mm: float | None, word: str, colour: str, style: Qt.PenStyle) -> None:
        if spacing_mm is None:
            return
        line = pg.InfiniteLine(
            spacing_mm / float(MM_PER[self._unit]),
            angle=90,
            pen=pg.mkPen(colour, width=1.5, style=style),
            label=f"{word} {bare_length(spacing_mm, self._unit)}",
            labelOpts={"position": 0.94, "color": colour, "anchors": [(0, 0), (1, 0)]},
        )
        self.plotItem.addItem(line, ignoreBounds=True)

    def _on_clicked(self, event: Any) -> None:
        box = self.plotItem.vb
        if box.sceneBoundingRect().contains(event.scenePos()):
            x = box.mapSceneToView(event.scenePos()).x()
            self.picked.emit(x * float(MM_PER[self._unit]))


def legend(names: Sequence[Pattern]) -> str:
    """Say in words which line is which."""
    return "     ".join(f"{_SIGNS[name]} {tr(PATTERN_WORDS[name])}" for name in names)


def _as_steps(steps: Steps, per: float) -> tuple[Any, Any]:
    """Turn thresholds into a line: level up to each threshold, then straight down."""
    edges = np.repeat([float(step.spacing) / per for step in steps], 2)
    plants = np.repeat([step.count for step in steps], 2)
    return edges[:-1], plants[1:]
