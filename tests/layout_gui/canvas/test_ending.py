"""The canvas is taken apart in whatever order the end of the program brings."""

import shiboken6
from PySide6.QtWidgets import QApplication

from layout_gui.canvas.view import BedView
from layout_gui.document.selection import Selection
from layout_gui.screen.theme import LIGHT
from tests.layout_gui.panels.desk import OFFSCREEN, make_document, make_project
from tests.layout_gui.windows.open_window import discard

pytestmark = OFFSCREEN


def test_a_view_that_scrolls_back_after_its_items_are_gone_is_content(qapp: QApplication) -> None:
    view = BedView(make_document(make_project()), Selection(), LIGHT)
    view.resize(900, 600)
    view.show()
    for _ in range(2):
        view.zoom_in()

    shiboken6.delete(view.scene())
    view.horizontalScrollBar().setValue(0)

    assert view.horizontalScrollBar().value() == 0
    discard(view)
