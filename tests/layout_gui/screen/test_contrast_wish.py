import gc

from PySide6.QtWidgets import QApplication

from layout_gui.screen.theme import system_wants_contrast


def test_the_desktop_can_be_asked_again_and_again(qapp: QApplication) -> None:
    # The hints are lost with their wrapper; asking must not depend on who else holds it.
    answers = []
    for _ in range(3):
        answers.append(system_wants_contrast())
        gc.collect()
    assert answers == [False, False, False]
