"""The parts of the window that show a bed; loaded when there is one, or soon to be one."""

from PySide6.QtWidgets import QWidget

from layout_gui.canvas.view import BedView
from layout_gui.dialogs.asker import Asks
from layout_gui.document.cut_search import CutSearch
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.arrange_leaf import ArrangeLeaf
from layout_gui.panels.drawer import Drawer
from layout_gui.panels.findings import FindingsPanel
from layout_gui.panels.hole_table import HoleTable
from layout_gui.panels.leaves import Leaves
from layout_gui.panels.station_panels import StationPanels
from layout_gui.panels.whatif import WhatIf
from layout_gui.screen.theme import Theme
from layout_gui.windows.comparing import Comparing
from layout_gui.windows.hole_work import HoleWork
from layout_gui.windows.looking import Looking
from layout_gui.windows.settings import Settings
from layout_gui.windows.settling import Settling


class Furniture:
    """Canvas, drawer, fields and findings around one document.

    What loads numpy or the plan is imported here and not by the window, which is shown before.
    """

    def __init__(
        self,
        document: Document,
        selection: Selection,
        settings: Settings,
        asks: Asks,
        theme: Theme,
        window: QWidget,
    ) -> None:
        self.view = BedView(document, selection, theme)
        self.looking = Looking(self.view, document, selection, settings, window)
        self.leaves = Leaves(window)
        self.whatif = WhatIf(document, theme, leaves=self.leaves)
        self.table = HoleTable(document, selection)
        self.arrange = ArrangeLeaf(document, selection)
        self.drawer = Drawer([self.whatif, self.table, self.arrange])
        self.holes = HoleWork(
            document, selection, self.view, self.table, self.arrange, self.drawer, asks, window
        )
        self.comparing = Comparing(self.whatif, document, selection, asks, settings, window)
        self.cuts = CutSearch(document, window)
        self.fields = StationPanels(document, self.cuts, selection, asks, settings, self.leaves)
        self.findings = FindingsPanel()
        self.settling = Settling(
            self.findings,
            document,
            selection,
            self.view,
            asks,
            self.fields.currentWidget,
            window,
        )
