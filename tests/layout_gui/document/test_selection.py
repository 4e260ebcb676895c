from PySide6.QtCore import QObject

from layout_gui.document.selection import Selection


def test_selecting_says_so_once_and_only_when_something_changed(qapp: QObject) -> None:
    selection = Selection()
    said: list[int] = []
    selection.changed.connect(lambda: said.append(1))
    selection.set_bed("North")
    selection.set_holes([("R1", "A1"), ("R1", "A2")])
    selection.set_holes([("R1", "A2"), ("R1", "A1")])
    assert len(said) == 2
    selection.toggle("R1", "A2")
    selection.toggle("R2", "B1")
    assert selection.holes == {("R1", "A1"), ("R2", "B1")}


def test_holes_and_whole_rafts_take_turns(qapp: QObject) -> None:
    selection = Selection()
    selection.set_bed("North")
    selection.set_holes([("R1", "A1")])
    selection.set_rafts(["R2"])
    assert selection.holes == frozenset()
    selection.toggle("R1", "A1")
    assert selection.rafts == frozenset()
    selection.set_bed("South")
    assert (selection.bed, selection.holes) == ("South", frozenset())
    selection.set_rafts(["R2"])
    selection.clear()
    assert (selection.bed, selection.rafts) == ("South", frozenset())
