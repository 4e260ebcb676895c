"""Mass against density: points, and curves through them. Importing this loads the plots."""

from collections.abc import Callable
from typing import Any, Final

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QWidget

from geometry.growth.harvest import Law, Weighed
from geometry.tongue import tr
from layout_gui.panels.yield_reading import Line, Shown, reach, scales
from layout_gui.screen.theme import Theme

SYMBOLS: Final = ("o", "t1", "d", "s")
OWN_SYMBOL: Final = "s"
SIGNS: Final = {"o": "\u25cb", "t1": "\u25b3", "d": "\u25c7", "s": "\u25a0"}
"""How the points of each line look, and the sign that stands for it in words."""

_PLACES: Final = 80
_SIZE: Final = 10
_ROOM: Final = QSize(280, 230)


def symbols_of(lines: tuple[Line, ...]) -> tuple[str, ...]:
    """Return the symbol of each line: filled squares are the grower's own."""
    others = iter(SYMBOLS[:-1] * len(lines))
    return tuple(OWN_SYMBOL if line.is_own else next(others) for line in lines)


class YieldCurve(pg.PlotWidget):  # type: ignore[misc]  # the library has no types
    """One of the two plots; ``per_area`` shows what a square metre gives, else one plant.

    It is there to be looked at: the table beneath says the same to those who cannot.
    """

    def __init__(self, theme: Theme, *, per_area: bool, parent: QWidget | None = None) -> None:
        super().__init__(parent, background=theme.background, enableMenu=False)
        self._theme = theme
        self._per_area = per_area
        self._shown: Shown | None = None
        self.setAccessibleName(tr("Mass on an area") if per_area else tr("Mass of a plant"))
        self.setMinimumSize(180, 150)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.hideButtons()
        self.setMouseEnabled(x=False, y=False)
        self.plotItem.vb.setDefaultPadding(0.06)
        self.plotItem.layout.setContentsMargins(6, 8, 12, 0)

    def sizeHint(self) -> QSize:
        """Ask for no more room than a plot needs; it grows where there is some."""
        return _ROOM

    def set_theme(self, theme: Theme) -> None:
        """Draw in other colours from now on."""
        self._theme = theme
        self.setBackground(theme.background)
        if self._shown is not None:
            self._draw(self._shown)

    def show_lines(self, shown: Shown) -> None:
        """Show these points and curves, and where the bed stands."""
        if shown != self._shown:
            self._shown = shown
            self._draw(shown)

    def curve_points(self, law: Law) -> tuple[Any, Any]:
        """Return the places of a curve in shown units, from where to where it is drawn."""
        by = scales(self._shown.unit if self._shown is not None else "mm")
        density = np.linspace(*reach(law), _PLACES)
        mass: Callable[[float], float] = law.kg_at if self._per_area else law.grams_at
        per = by.area if self._per_area else by.plant
        return density * by.density, np.array([mass(each) for each in density]) * per

    def place_of(self, point: Weighed, grams: float | None = None) -> tuple[float, float]:
        """Return where a point lies in shown units."""
        by = scales(self._shown.unit if self._shown is not None else "mm")
        mass = point.grams if grams is None else grams
        y = point.density * mass / 1000 * by.area if self._per_area else mass * by.plant
        return point.density * by.density, y

    def _draw(self, shown: Shown) -> None:
        item, theme, by = self.plotItem, self._theme, scales(shown.unit)
        item.clear()
        for side in ("left", "bottom"):
            axis = item.getAxis(side)
            axis.setPen(pg.mkPen(theme.line))
            axis.setTextPen(pg.mkPen(theme.quiet_text))
            axis.setStyle(tickFont=self.font(), tickLength=4)
        mass = (
            tr("together, {unit}", unit=by.area_unit)
            if self._per_area
            else tr("a plant, {unit}", unit=by.plant_unit)
        )
        style = {"color": theme.quiet_text, "font-size": f"{self.font().pointSizeF():.1f}pt"}
        item.setLabel("left", mass, **style)
        item.setLabel("bottom", by.density_unit, **style)
        for line, symbol in zip(shown.lines, symbols_of(shown.lines), strict=True):
            self._draw_line(line, symbol)
        item.setYRange(0, self._highest(shown), padding=0.06)
        if shown.density is not None and shown.lines:
            self._mark_now(shown.density * by.density)
        self.setAccessibleDescription(tr("The table beneath has the same figures."))

    def _highest(self, shown: Shown) -> float:
        """Return how high the axis goes: masses are compared from zero up."""
        ends = [
            self.place_of(point, point.most)[1] for line in shown.lines for point in line.points
        ]
        curves = [
            float(self.curve_points(line.law)[1].max())
            for line in shown.lines
            if isinstance(line.law, Law)
        ]
        return max([*ends, *curves], default=1.0)

    def _draw_line(self, line: Line, symbol: str) -> None:
        theme = self._theme
        colour = theme.accent if line.is_own else theme.text
        if isinstance(line.law, Law):
            x, y = self.curve_points(line.law)
            by = scales(self._shown.unit if self._shown is not None else "mm")
            within = (x >= line.law.low * by.density) & (x <= line.law.high * by.density)
            dashed = pg.mkPen(colour, width=1, style=Qt.PenStyle.DashLine)
            self.plotItem.plot(x, y, pen=dashed)
            self.plotItem.plot(x[within], y[within], pen=pg.mkPen(colour, width=2.5))
        for point in line.points:
            if point.most is not None:
                ends = [self.place_of(point), self.place_of(point, point.most)]
                self.plotItem.plot(
                    [x for x, _ in ends], [y for _, y in ends], pen=pg.mkPen(colour, width=2)
                )
        places = [
            self.place_of(point, grams)
            for point in line.points
            for grams in ([point.grams] if point.most is None else [point.grams, point.most])
        ]
        self.plotItem.addItem(
            pg.ScatterPlotItem(
                [x for x, _ in places],
                [y for _, y in places],
                symbol=symbol,
                size=_SIZE,
                pen=pg.mkPen(colour, width=2),
                brush=pg.mkBrush(colour if line.is_own else theme.background),
            )
        )

    def _mark_now(self, density: float) -> None:
        self.plotItem.addItem(
            pg.InfiniteLine(
                density,
                angle=90,
                pen=pg.mkPen(self._theme.text, width=1.5, style=Qt.PenStyle.DotLine),
                label=tr("now"),
                labelOpts={
                    "position": 0.94,
                    "color": self._theme.text,
                    "anchors": [(0, 0), (1, 0)],
                    "fill": self._theme.background,
                },
            )
        )
