"""How long a frame takes: one hole moved, with plan, findings and repaint; zoom; pan; a pattern.

The floor is a bare graphics view that paints as many ellipses, in the same run. On a busy machine
take the time of processor, the best, and the ratio.

PYTHONPATH=. python tests/benchmarks/canvas_frames.py            10,000 holes on distinct rafts
PYTHONPATH=. python tests/benchmarks/canvas_frames.py farm       a hectare of raceway
"""

import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from math import ceil, sqrt

from PySide6.QtCore import QEvent, QEventLoop, QObject, QPoint, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import QApplication, QGraphicsScene, QGraphicsView

from geometry.model.bed import Bed, Split
from geometry.model.outlines import Rectangle
from geometry.model.planting import Pin, Planting
from geometry.model.project import Project
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.canvas.view import BedView
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.screen.theme import LIGHT


def bed_of(along: int, across: int, spacing: float) -> Project:
    """Rafts of 2.4 x 1.2 m, holes in straight rows."""
    of = Length.of
    planting = Planting(
        of(spacing), of(50), pattern="square", edge_margin=of(60), web=of(25), joints="separate"
    )
    outline = Rectangle(of(2405 * along + 15), of(1205 * across + 15))
    bed = Bed("Bed", outline, of(10), of(5), rafts=Split(along, across), planting=planting)
    return Project("Benchmark", beds=(bed,))


def with_distinct_rafts(project: Project) -> Project:
    """Give every raft one pinned hole, each a little elsewhere."""
    (bed,) = make_plan(project).beds
    pins = []
    for number, placed in enumerate(bed.rafts):
        x, y = placed.design.holes.xy[0].tolist()
        home = (Length.rounded(x), Length.rounded(y))
        at = Length.rounded(x + 1 + number % 7), Length.rounded(y + 1 + number % 11)
        pins.append(Pin(placed.name, *at, home))
    planting = bed.bed.planting
    assert planting is not None
    planted = replace(bed.bed, planting=replace(planting, pins=tuple(pins)))
    return replace(project, beds=(planted,))


def timed(what: str, repeat: int, action: Callable[[int], None]) -> None:
    """Print median and worst time of an action, events and repaint included."""
    times, work = [], []
    for turn in range(repeat):
        start, worked = time.perf_counter(), time.process_time()
        action(turn)
        QApplication.processEvents()
        times.append(1000 * (time.perf_counter() - start))
        work.append(1000 * (time.process_time() - worked))
    best, median = min(work[1:]), statistics.median(work[1:])
    floor.append(best)
    print(
        f"{what:36} processor best {best:6.1f} ms ({best / floor[0]:4.2f} of the floor), median"
        f" {median:6.1f}; on the clock best {min(times[1:]):6.1f}, worst {max(times[1:]):6.1f}"
    )


floor: list[float] = []
"""The first time measured, of the bare view."""


def measure_floor(count: int) -> None:
    """Repaint a bare view with as many ellipses, all in sight."""
    scene = QGraphicsScene()
    across = ceil(sqrt(count * 1.6))
    for number in range(count):
        scene.addEllipse(number % across * 12, number // across * 12, 6, 6)
    bare = QGraphicsView(scene)
    bare.setRenderHint(QPainter.RenderHint.Antialiasing)
    bare.resize(1600, 1000)
    bare.show()
    bare.fitInView(scene.sceneRect(), Qt.AspectRatioMode.KeepAspectRatio)
    QApplication.processEvents()
    timed("floor: a bare view repainted", 6, lambda _turn: bare.viewport().repaint())
    bare.close()


def told(plans: list[float]) -> str:
    """Say how long the plans took."""
    return f"best {1000 * min(plans):.1f} ms, median {1000 * statistics.median(plans):.1f}"


class Application(QApplication):
    """Notes how long the window's own thread was busy in one go: from an event to the next."""

    longest = 0.0
    is_within = False

    def notify(self, receiver: QObject, event: QEvent) -> bool:
        """Deliver an event; what it brings about at once is part of it."""
        if self.is_within:
            return super().notify(receiver, event)
        self.is_within, began = True, time.thread_time()
        try:
            return super().notify(receiver, event)
        finally:
            self.longest = max(self.longest, time.thread_time() - began)
            self.is_within = False


def measure_goes(app: Application, project: Project) -> None:
    """Change the spacing as the window does it, and tell what its own thread has to do for it."""
    document = Document()
    view = BedView(document, Selection(), LIGHT)
    view.resize(1600, 1000)
    view.show()
    document.start(project)
    shown = [0.0]
    document.plan_changed.connect(lambda _plan: shown.append(time.perf_counter()))
    while document.is_busy or not document.plan.beds:
        app.processEvents()
    busy, until = [], []
    for turn in range(8):
        bed = document.project.beds[0]
        assert bed.planting is not None
        wider = replace(bed.planting, spacing=Length.of(141 + turn % 2))
        app.longest, began, worked = 0.0, time.perf_counter(), time.thread_time()
        document.apply("Pattern", replace(document.project, beds=(replace(bed, planting=wider),)))
        asked = time.thread_time() - worked
        while document.is_busy:
            app.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
        until.append(1000 * (shown[-1] - began))
        app.processEvents()
        busy.append(1000 * max(app.longest, asked))
    print(
        f"spacing changed: longest go of the window's thread best {min(busy[1:]):.1f} ms, median"
        f" {statistics.median(busy[1:]):.1f}; shown after best {min(until[1:]):.0f} ms on the clock"
    )
    view.close()


def main() -> None:
    """Run all measurements."""
    app = Application([])
    is_farm = "farm" in sys.argv
    project = bed_of(85, 40, 195) if is_farm else bed_of(10, 8, 150)
    if not is_farm:
        project = with_distinct_rafts(project)
    plans: list[float] = []

    def clocked(project: Project, previous: object) -> object:
        start = time.perf_counter()
        plan = make_plan(project, previous)  # type: ignore[arg-type]
        plans.append(time.perf_counter() - start)
        return plan

    document = Document(make_plan=clocked, patience_s=60)  # type: ignore[arg-type]
    selection = Selection()
    view = BedView(document, selection, LIGHT)
    view.resize(1600, 1000)
    view.show()
    measure_floor(make_plan(project).plants)
    start = time.perf_counter()
    document.start(project)
    app.processEvents()
    plan = document.plan.beds[0]
    print(f"{len(plan.rafts)} rafts, {len(plan.designs)} designs, {plan.plants} holes")
    print(f"first plan {plans[0] * 1000:.0f} ms, with first picture "
          f"{(time.perf_counter() - start) * 1000:.0f} ms")  # fmt: skip

    def whole(_turn: int) -> None:
        view.viewport().repaint()

    timed("whole repaint, bed shown whole", 6, whole)
    name = plan.rafts[len(plan.rafts) // 2].name
    selection.set_holes([(name, "C4")])
    plans.clear()

    def nudge(turn: int) -> None:
        key = Qt.Key.Key_Right if turn % 2 else Qt.Key.Key_Up
        event = QKeyEvent(QEvent.Type.KeyPress, key, Qt.KeyboardModifier.NoModifier)
        QApplication.sendEvent(view, event)

    timed("one hole nudged, plan and repaint", 30, nudge)
    print(f"   of which the plan: {told(plans)}")
    (spot,) = view._hands.places.spots(selection.holes)  # type: ignore[union-attr]

    def send(kind: QEvent.Type, x: float, y: float) -> None:
        at = view.viewportTransform().map(QPointF(x, y))
        left, free = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.AltModifier
        QApplication.sendEvent(view.viewport(), QMouseEvent(kind, at, at, left, left, free))

    plans.clear()
    send(QEvent.Type.MouseButtonPress, spot.x, spot.y)
    send(QEvent.Type.MouseMove, spot.x + 10 / view.pixels_per_mm, spot.y)
    timed(
        "one hole dragged, plan and repaint",
        40,
        lambda turn: send(QEvent.Type.MouseMove, spot.x + 20 + turn, spot.y + 13 + turn % 9),
    )
    print(f"   of which the plan: {told(plans)}")
    send(QEvent.Type.MouseButtonRelease, spot.x + 60, spot.y + 13)

    def drop(turn: int) -> None:
        (held,) = view._hands.places.spots([(name, "C4")])  # type: ignore[union-attr]
        to = held.x + (40 if turn % 2 else -40)
        send(QEvent.Type.MouseButtonPress, held.x, held.y)
        send(QEvent.Type.MouseMove, held.x + 10 / view.pixels_per_mm, held.y)
        send(QEvent.Type.MouseButtonRelease, to, held.y + 3)

    plans.clear()
    timed("one hole taken, dragged and dropped", 20, drop)
    print(f"   of which the plan: {told(plans)}")

    def change_pattern(turn: int) -> None:
        bed = document.project.beds[0]
        assert bed.planting is not None
        wider = replace(bed.planting, spacing=Length.of(151 + turn % 2), pins=bed.planting.pins)
        document.apply("Pattern", replace(document.project, beds=(replace(bed, planting=wider),)))

    plans.clear()
    timed("spacing changed, until it is shown", 8, change_pattern)
    print(f"   of which the plan: {told(plans)}")
    document.undo_stack.setIndex(0)
    app.processEvents()
    measure_goes(app, project)
    centre = view.viewport().rect().center()
    for zooms in (3, 3, 4, 4):
        for _ in range(zooms):
            view.zoom_in()
        holes = plan.bed.planting.hole_diameter.mm * view.pixels_per_mm  # type: ignore[union-attr]
        timed(f"whole repaint, holes {holes:.1f} px", 6, whole)
        timed("   panned by 40 px", 10, lambda _turn: view._pan(40, 0))
    view.fit()
    timed("zoomed in and out", 12, lambda turn: view._zoom(1.25 if turn % 2 else 0.8, centre))
    timed("pointer moved", 30, lambda turn: send(QEvent.Type.MouseMove, 4000 + 60 * turn, 3000))
    selection.set_holes(view._hands.places.all_names())  # type: ignore[union-attr]
    timed("whole repaint, everything selected", 6, whole)
    view._show_pointer(QPoint(5, 5))


if __name__ == "__main__":
    main()
