"""Every view of the window with everything in it unfolded, for checks that must reach all of it."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from fractions import Fraction
from importlib import import_module
from typing import Final

from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from geometry.model.log import BatchGrown, Log, Note, RaftMade
from geometry.model.outlines import Rectangle
from geometry.model.pot import Pot
from geometry.model.project import Project
from geometry.model.run import Run, RunStage
from geometry.model.water import Water
from geometry.model.zone import Zone, ZoneRules
from geometry.units import Length
from layout_gui.panels.parts import Fold
from layout_gui.panels.sights import sights_of
from layout_gui.panels.stations import STATIONS
from layout_gui.windows.loading import WORK
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import make_bench, make_project

LEAVES: Final = ("what-if", "table", "arrange")
mm = Length.of


def make_full_project() -> Project:
    """Two rafts with something of everything: water, pots, a zone, a run, and rows in the log."""
    bench = make_bench(water=Water(mm(200), mm(30)))
    assert bench.planting is not None
    zone = Zone("Z1", ZoneRules("basil, 8 in"), Rectangle(mm(200), mm(200)), (mm(900), mm(100)))
    planting = replace(bench.planting, pot="P1")
    project = make_project(replace(bench, planting=planting, zones=(zone,)))
    stages = (RunStage("S1", 14), RunStage("S2", 21, bed="Bench"))
    day = date(2026, 3, 2)
    log = Log(
        rafts=(RaftMade("R1", made=day),),
        batches=(BatchGrown("B1", day, 10, 9, 8, 8, grams=Fraction(2000), per_m2=Fraction(20)),),
        notes=(Note("7", "raft", "R1", day),),
    )
    return replace(
        project,
        pots=(Pot("P1", mm(48), mm(60), mm(36), mm(56), mm(2)),),
        runs=(Run("B1", "lettuce, head", stages, target=9, first=day),),
        log=log,
    )


def every_view(window: MainWindow, wait: Callable[[Callable[[], object]], object]) -> Iterator[str]:
    """Go to every station, sight and leaf of the drawer in turn, all folds open; name each.

    ``wait`` waits until what it is given holds.
    """
    for name in WORK:  # as ``Loading`` does, before there can be a bed
        import_module(name)
    for station in STATIONS:
        window.go_to(station)
        window.drawer.set_open(is_open=False)
        for sight in ("", *(each.name for each in sights_of(station))):
            if sights_of(station):
                window.sighting.choose(sight)
            unfold_all(window)
            wait(lambda: not window.document.is_busy)
            if station == "Make":
                wait(lambda: window.make_view.pages.count() > 0)
            settle()
            yield f"{station} {sight}".strip()
        if sights_of(station):
            window.sighting.choose("")
    window.go_to("Holes")
    for leaf in LEAVES:
        window.drawer.set_open(is_open=True, key=leaf)
        if leaf == "what-if":
            wait(lambda: window.whatif.inside is not None)
        settle()
        yield leaf
    window.drawer.set_open(is_open=False)


def unfold_all(window: MainWindow) -> None:
    """Open every fold in sight, also those within others."""
    for _ in range(3):
        closed = [
            fold
            for fold in window.findChildren(Fold)
            if fold.isVisibleTo(window) and not fold.is_open
        ]
        for fold in closed:
            fold.toggle()
        if not closed:
            break
        settle()


def settle() -> None:
    """Let layouts come to rest."""
    for _ in range(3):
        QApplication.processEvents()


def waiting(qtbot: QtBot) -> Callable[[Callable[[], object]], object]:
    """Return what ``every_view`` waits with."""
    return lambda done: qtbot.waitUntil(lambda: bool(done()), timeout=20_000)
