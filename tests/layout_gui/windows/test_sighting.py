"""A station is seen in more ways than one, and each is made when it is first wanted."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from layout_gui.panels import sights
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Room
from layout_gui.panels.sight_view import SightView
from layout_gui.panels.sights import Sight
from layout_gui.screen.theme import Theme
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_project
from tests.layout_gui.windows.open_window import discard, make_window

pytestmark = OFFSCREEN


class Seen(SightView):
    def __init__(self) -> None:
        super().__init__()
        self.moments: list[Now] = []
        self.themes: list[Theme] = []

    def show_now(self, now: Now) -> None:
        self.moments.append(now)

    def set_theme(self, theme: Theme) -> None:
        self.themes.append(theme)


@pytest.fixture
def made() -> list[Seen]:
    return []


@pytest.fixture
def window(
    qapp: QApplication, tmp_path: Path, made: list[Seen], monkeypatch: pytest.MonkeyPatch
) -> Iterator[MainWindow]:
    def make(_document: object, _selection: object) -> SightView:
        made.append(Seen())
        return made[-1]

    monkeypatch.setattr(sights, "SIGHTS", (Sight("seen", "Rafts", "From elsewhere", make),))
    bench = tmp_path / "bench.raft.json"
    window = make_window(tmp_path, disk={bench: make_project()})
    window.files.open_path(bench)
    yield window
    discard(window)


def seen(window: MainWindow) -> object:
    """The sight in the middle of the window."""
    room = window.stack.currentWidget()
    return room.view if isinstance(room, Room) else room


def test_a_sight_takes_the_place_of_the_bed_and_gives_it_back(
    window: MainWindow, made: list[Seen]
) -> None:
    assert window.sighting.bar.isHidden()
    window.go_to("Rafts")
    assert not window.sighting.bar.isHidden()
    assert made == []
    window.sighting.bar.buttons["seen"].click()
    assert seen(window) is made[0]
    assert made[0].moments[-1].bed is not None
    assert made[0].themes
    assert window.drawer.isHidden()
    window.go_to("Holes")
    assert window.stack.currentWidget() is window.view
    assert window.sighting.bar.isHidden()
    window.go_to("Rafts")
    assert seen(window) is made[0]
    window.sighting.bar.buttons[""].click()
    assert window.stack.currentWidget() is window.view
    assert not window.drawer.isHidden()
    assert len(made) == 1


def test_one_key_goes_through_the_sights(window: MainWindow, made: list[Seen]) -> None:
    action = window.actions_.by_id["next-sight"]
    assert not action.isEnabled()
    window.go_to("Rafts")
    window.actions_.refresh()
    assert action.isEnabled()
    action.trigger()
    assert seen(window) is made[0]
    action.trigger()
    assert window.stack.currentWidget() is window.view
