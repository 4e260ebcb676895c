"""The window: it puts the parts together and tells each of them when something changed.

It is shown before numpy, shapely and the plan are loaded. What needs them is imported by
``furniture``, or within the function that needs it.
"""

from __future__ import annotations

from functools import cached_property, partial
from pathlib import Path
from typing import TYPE_CHECKING, Final, Protocol  # noqa: TID251  nothing heavy before the window

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import (
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QLineEdit,
    QMainWindow,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from geometry.errors import GeometryError
from geometry.tongue import isolated, tr
from geometry.units import Unit
from layout_gui import log
from layout_gui.dialogs.asker import SUFFIX, Asker, Asks
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.head import Head
from layout_gui.panels.last_line import LastLine
from layout_gui.panels.notice import Notice
from layout_gui.panels.now import Now
from layout_gui.panels.parts import focus_into, label, stacked
from layout_gui.panels.road import Road
from layout_gui.panels.start import StartPage
from layout_gui.panels.stations import Station, StationName, no_stations
from layout_gui.screen.theme import (
    Theme,
    ThemeChoice,
    pick_theme,
    system_is_dark,
    system_wants_contrast,
)
from layout_gui.windows.actions import ARMING, TABLE_MENU, TOOLS, Actions
from layout_gui.windows.arrivals import Arrivals
from layout_gui.windows.bed_work import BedWork
from layout_gui.windows.desk import LEAVES, Part
from layout_gui.windows.files import Files, ready_beds, sample_files
from layout_gui.windows.keeping import Keeping
from layout_gui.windows.language import LanguageChoice
from layout_gui.windows.look import dress, follow_desktop
from layout_gui.windows.settings import Settings
from layout_gui.windows.sighting import Sighting
from layout_gui.windows.things import Things, station_of

if TYPE_CHECKING:
    from geometry.beds.shapes import ShapeName
    from geometry.plan import Plan
    from layout_gui.canvas.view import BedView
    from layout_gui.document.cut_search import CutSearch
    from layout_gui.panels.drawer import Drawer
    from layout_gui.panels.findings import FindingsPanel
    from layout_gui.panels.hole_table import HoleTable
    from layout_gui.panels.leaves import Leaves
    from layout_gui.panels.make_view import MakeView
    from layout_gui.panels.station_panels import StationPanels
    from layout_gui.panels.whatif import WhatIf
    from layout_gui.windows.comparing import Comparing
    from layout_gui.windows.guiding import Guiding
    from layout_gui.windows.helping import Helping
    from layout_gui.windows.hole_work import HoleWork
    from layout_gui.windows.looking import Looking
    from layout_gui.windows.measuring import Measuring
    from layout_gui.windows.settling import Settling

_TITLE_BAR: Final = 40
"""Room left above and below for the frame that the desktop puts around the window."""
_NARROW: Final = 1180
"""Narrower windows begin with the drawer folded away."""
_COLUMNS: Final = {True: (226, 316), False: (272, 350)}
"""Widths of the road and of the fields in a narrow window and in a wide one."""
_GROWTH: Final = {True: 1.45, False: 1.5}
"""How much wider the columns are with text twice as large."""
_MOST: Final = (0.24, 0.38)
"""Which share of the window they take at most, as long as they can be read."""
_EMPTY: Final = 92
"""How high the findings are when there are none."""
_DRAWER: Final = 330
"""How high the drawer is when it is pulled up."""


class _Squeezes(Protocol):
    def begin(self, theme: Theme) -> None: ...


class MainWindow(QMainWindow):
    """Road, canvas, drawer, fields, findings and the last line around one document.

    A window that is not ``furnished`` has no more than the start page and the road; what shows a
    bed is made by ``furnish``, with the first bed at the latest.
    """

    view: BedView
    whatif: WhatIf
    table: HoleTable
    holes: HoleWork
    drawer: Drawer
    cuts: CutSearch
    fields: StationPanels
    findings: FindingsPanel
    looking: Looking
    leaves: Leaves
    _comparing: Comparing
    _settling: Settling

    def __init__(
        self,
        document: Document,
        selection: Selection,
        settings: Settings,
        asks: Asks | None = None,
        *,
        furnished: bool = True,
        state: Path | None = None,
    ) -> None:
        super().__init__()
        self.document = document
        self.selection = selection
        self.theme_choice: ThemeChoice = settings.theme
        self.language_choice: LanguageChoice = settings.language
        self._settings = settings
        self._asks: Asks = asks if asks is not None else Asker(self)
        self._may_close = False
        self.things = Things(document, selection, self._on_failed)
        self.is_furnished = False
        self._fields_open = True
        self._is_narrow = False
        self._bed_at = 0
        self._drawn_leaves: tuple[float | None, ...] | None = None
        self._expected: QWidget | None = None
        self._station: StationName = "Bed"
        self._hint = ""
        theme = self._theme()
        self.files = Files(document, self._asks, settings, self, state=state)
        self.keeping = Keeping(document, self.files, settings, self._asks, self)
        # Before the canvas hears of the plan: a bed that is gone leaves its place to another.
        document.plan_changed.connect(self._keep_bed)
        self.road = Road(theme)
        samples = [(_sample_name(path), path) for path in sample_files()]
        self.start = StartPage(samples, ready_beds())
        self.head, self.notice, self.last_line = Head(), Notice(), LastLine()
        self.bed_work = BedWork(document, selection, self._on_failed, self.last_line.show_hint)
        self.arrivals = Arrivals(self.files, self.notice, self)
        self.sighting = Sighting(document, selection, self._theme, self)
        self._squeezing: _Squeezes | None = None
        self._guiding: Guiding | None = None
        self._make_view: MakeView | None = None
        self._measuring: Measuring | None = None
        self.actions_ = Actions(self, self, settings)
        self.actions_.offer_samples(samples)
        self._lay_out()
        self._connect()
        self._restore()
        if furnished:
            self.furnish()
        self.road.go_to("Bed")
        self.refresh()
        self.start.begin()

    def furnish(self) -> None:
        """Make the parts that show a bed, unless they are there."""
        if self.is_furnished:
            return
        from layout_gui.windows.furniture import Furniture  # noqa: PLC0415  after the first picture

        made = Furniture(
            self.document, self.selection, self._settings, self._asks, self._theme(), self
        )
        self.view, self.fields = made.view, made.fields
        self.whatif, self.drawer, self.findings = made.whatif, made.drawer, made.findings
        self.cuts, self._settling, self.leaves = made.cuts, made.settling, made.leaves
        self.table, self.holes = made.table, made.holes
        self.looking, self._comparing = made.looking, made.comparing
        # Not before: the canvas selects the bed it finds while it is made.
        self.is_furnished = True
        if self._expected is not None:
            self._expected.deleteLater()
        self._put_in()
        self._connect_furniture()
        self._fit_width()
        self._split.restoreState(self._settings.bytes("columns"))
        if self._station != "Bed" or self.document.beds:
            self._on_went_to(self._station)
        else:
            self._show_place(self.now())

    def expect(self, path: Path) -> None:
        """Say that a file will be opened, in the place where its bed is going to be."""
        words = label(tr("Opening {name} …", name=path.name), "quiet")
        words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._expected = words
        self.stack.addWidget(words)
        self.stack.setCurrentWidget(words)

    def now(self) -> Now:
        """Return this moment, as all parts are to show it."""
        picked = self.selection
        document = self.document
        return Now(
            document.project,
            document.plan,
            picked.bed,
            picked.rafts,
            picked.holes,
            picked.zone,
            picked.thing,
        )

    def refresh(self) -> None:
        """Let every part that is in sight show this moment."""
        if not self.is_furnished:
            self.road.show_stations(no_stations())
            self._show_file()
            return
        now = self.now()
        self._show_place(now)
        self.road.show_stations(self._said_at_stations(now))
        self.last_line.show_now(now)
        self._show_file()
        if self._guiding is not None:
            self._guiding.show_now(now)
        if now.bed is not None and not self.is_guided:
            self.fields.show_now(self._station, now)
            self.findings.show_now(now)
            self.drawer.show_now(now)
            self._show_leaves()
            self.sighting.show_now(now)
            if self._station == "Make" and (now.plan.beds or not now.project.beds):
                self.make_view.set_plan(now.plan)

    def _said_at_stations(self, now: Now) -> tuple[Station, ...]:
        from layout_gui.panels.grow_words import grow_words  # noqa: PLC0415  loaded when first used
        from layout_gui.panels.station_facts import stations  # noqa: PLC0415  the same

        made = self.fields.exported is now.project
        return stations(now, made=made, grow=grow_words(now))

    def guide(self) -> None:
        """Open the guide at the first question that is not answered yet."""
        self.guiding.begin()

    @property
    def guiding(self) -> Guiding:
        """The guide and its place in the window; made when it is first wanted."""
        from layout_gui.windows.guiding import Guiding  # noqa: PLC0415  loaded when first used

        if self._guiding is None:
            self.furnish()
            self._guiding = Guiding(self, self._theme(), self)
            self._guiding.turned.connect(self._show_hint)
            self.stack.addWidget(self._guiding.stage)
            self._right.addWidget(self._guiding.panel)
            self._right.setMinimumWidth(self._least_fields())
        return self._guiding

    @property
    def make_view(self) -> MakeView:
        """The pages at Make; made when they are first wanted."""
        if self._make_view is None:
            from layout_gui.panels.make_view import MakeView  # noqa: PLC0415  loaded when first used
            from layout_gui.panels.page_setup import read_setup  # noqa: PLC0415  the same
            from layout_gui.project.printer_file import PrinterFile  # noqa: PLC0415  the same

            setup = read_setup(self._settings.page_texts, PrinterFile().read().printers)
            self._make_view = pages = MakeView(self._theme(), setup)
            self.stack.addWidget(pages)
            self.fields.setup_chosen.connect(pages.set_setup)
            pages.pages_chosen.connect(self.fields.pages_chosen)
            pages.in_sight.connect(self.fields.in_sight)
        return self._make_view

    def print_measuring(self, shape: ShapeName, unit: Unit) -> None:
        """Write the measuring page of a shape, to be filled in beside the water."""
        from layout_gui.windows.measuring import Measuring  # noqa: PLC0415  loaded when first used

        if self._measuring is None:
            self._measuring = Measuring(self._asks, self._settings, self)
            self._measuring.said.connect(self.last_line.show_hint)
            self._measuring.failed.connect(self._on_failed)
        self._measuring.ask(shape, unit)

    @property
    def is_guided(self) -> bool:
        """Whether the guide is open."""
        return self._guiding is not None and self._guiding.is_on

    def go_to(self, station: StationName) -> None:
        """Go to a station."""
        self.road.go_to(station)

    @property
    def units(self) -> Unit:
        """The unit of the project; without a bed the one that the first is to be measured in."""
        return self.document.project.units if self.document.beds else self.start.unit

    def set_units(self, unit: Unit) -> None:
        """Show lengths in another unit; with a bed, an undoable step that moves nothing."""
        if not self.document.beds:
            self.start.choose_unit(unit)
            if self._guiding is not None:
                self._guiding.panel.choose_unit(unit)
            return
        self.take_typed()
        from layout_gui.project import edits  # noqa: PLC0415  loaded when first used

        project = edits.set_units(self.document.project, unit)
        self.document.apply(tr("Lengths in {unit}", unit=unit), project)

    def give_back(self) -> None:
        """Forget the hand edits of the bed that is shown; undo brings them back."""
        from layout_gui.project import edits  # noqa: PLC0415  loaded when first used

        project = edits.clear_hand_edits(self.document.project, self.selection.bed)
        self.document.apply(tr("Give all holes back"), project)

    def give_crop(self) -> None:
        """Plant the selected rafts with another crop; the fields then say which."""
        from layout_gui.project import edits  # noqa: PLC0415  loaded when first used

        project, bed = self.document.project, self.selection.bed
        rafts = tuple(sorted(self.selection.rafts))
        try:
            zone = edits.fresh_zone(edits.find_bed(project, bed), rafts=rafts)
            changed = edits.add_zone(project, bed, zone)
        except GeometryError as error:
            self._on_failed(str(error))
            return
        self.document.apply(tr("Another crop on {rafts}", rafts=", ".join(rafts)), changed)
        self.selection.set_zone(zone.name)

    @property
    def is_compared(self) -> bool:
        """Whether there is a comparison to write."""
        return self.is_furnished and self.whatif.comparison is not None

    def export_comparison(self, kind: str) -> None:
        """Write the comparison of the bed in sight to pages ("pdf") or to a table ("csv")."""
        self._comparing.export(kind)

    def print_pages(self) -> None:
        """Go to the pages and print those that are ticked."""
        self.road.go_to("Make")
        self.fields.print_pages()

    def squeeze(self) -> None:
        """Search for more holes on a raft of the bed that is shown."""
        self.squeezing.begin(self._theme())

    def stop(self) -> None:
        """Give up the plan that is being made and go back to the last one."""
        before = self.document.project
        self.document.stop()
        if self.document.project is not before:
            self.last_line.show_hint(tr("Stopped; Redo brings the change back"))
        self.refresh()

    @property
    def squeezing(self) -> _Squeezes:
        """What searches for more holes; made when it is first wanted."""
        from layout_gui.windows.squeezing import Squeezing  # noqa: PLC0415  loaded when first used

        if self._squeezing is None:
            self._squeezing = Squeezing(self.document, self.selection, self)
        return self._squeezing

    def next_bed(self, step: int) -> None:
        """Turn to the bed so many places further on, past the last one to the first."""
        beds = self.document.beds
        if beds:
            self.selection.set_bed(beds[(self._bed_at + step) % len(beds)].name)

    def set_theme(self, choice: ThemeChoice) -> None:
        """Change the colours of the window and remember them."""
        self.theme_choice = self._settings.theme = choice
        follow_desktop(choice)
        self._dress()

    @property
    def text_percent(self) -> int:
        """How large text is, beside the size it has at first."""
        return self._settings.text_percent

    def set_text(self, percent: int) -> None:
        """Make all text of the window as large as this, beside the size it has at first."""
        self._settings.text_percent = percent
        self._dress()
        self._fit_width()

    def set_language(self, choice: LanguageChoice) -> None:
        """Remember another language, which is spoken from the next start on."""
        self.language_choice = self._settings.language = choice
        self.last_line.show_hint(tr("The language changes with the next start"))

    def fold(self, part: Part) -> None:
        """Fold a part of the window away, or unfold it."""
        if part in LEAVES:
            self.furnish()
            self.drawer.toggle(LEAVES[part])
            if self.drawer.open_leaf is not None:
                focus_into(self.drawer.open_leaf)
        elif part == "fields":
            self._fields_open = not self._fields_open
            is_wanted = self._fields_open and bool(self.document.beds)
            self._right.setVisible(is_wanted or self.is_guided)
        else:
            self.setWindowState(self.windowState() ^ Qt.WindowState.WindowFullScreen)

    def is_open(self, part: Part) -> bool:
        """Tell whether a part of the window is unfolded."""
        if part in LEAVES:
            return self.is_furnished and self.drawer.is_up(LEAVES[part])
        return self._fields_open if part == "fields" else self.isFullScreen()

    def take_typed(self) -> None:
        """Take what stands typed in a field and is not entered yet: it is part of the work."""
        field = self.focusWidget()
        if isinstance(field, (QLineEdit, QAbstractSpinBox)) and field.isVisible():
            field.clearFocus()
            if field.isVisible():
                field.setFocus()

    def next_pane(self) -> None:
        """Move the keyboard to the next part of the window that is in sight."""
        panes = [pane for pane in self._panes() if pane.isVisibleTo(self)]
        here = [pane.isAncestorOf(self.focusWidget()) for pane in panes]
        first = here.index(True) + 1 if True in here else 0
        for pane in panes[first:] + panes[:first]:
            if focus_into(pane):
                return

    def show_help(self, page: str) -> None:
        """Show a page of the help; without a name, what goes with what has the keyboard."""
        if page:
            self.helping.show_page(page)
        else:
            self.helping.show_for(self.focusWidget(), self._station)

    @cached_property
    def helping(self) -> Helping:
        """What opens the help; made when it is first wanted."""
        from layout_gui.windows.helping import Helping  # noqa: PLC0415  loaded when first used

        return Helping(self, self.actions_.key_rows, self._theme)

    def show_about(self) -> None:
        """Show what this program is."""
        from layout_gui.dialogs.reading import about_dialog  # noqa: PLC0415  loaded when first used

        about_dialog(self).open()

    def choose_keys(self) -> None:
        """Let the person give commands other keys."""
        from layout_gui.dialogs.keys_dialog import KeysDialog  # noqa: PLC0415  loaded when first used

        KeysDialog(self.actions_.keyring(), self).open()

    def describe(self) -> None:
        """Let the grower write down who drew the project up, its revision, and notes."""
        from layout_gui.windows.describing import describe  # noqa: PLC0415  loaded when first used

        describe(self.document, self)

    def show_machine(self) -> None:
        """Show the report about this machine."""
        from layout_gui.dialogs.machine import machine_dialog  # noqa: PLC0415  when first used

        machine_dialog(self).open()

    def show_log(self) -> None:
        """Show what the program did."""
        from layout_gui.dialogs.machine import log_dialog  # noqa: PLC0415  loaded when first used

        state = self.files.state
        log_dialog(log.text_of(state), str(state / log.NAME), self).open()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about unsaved changes first; the answer comes later."""
        self.take_typed()
        is_writing = self.is_furnished and self.fields.is_writing
        if self._may_close or not (self.document.is_modified or is_writing):
            self._keep()
            self.keeping.finish()
            event.accept()
            return
        event.ignore()
        ask = partial(self.files.guarded, self._close_now)
        if is_writing:
            self.keeping.ask_to_stop_writing(ask)
        else:
            ask()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold the drawer and draw the columns in when the window becomes narrow."""
        super().resizeEvent(event)
        self._right.setMinimumWidth(self._least_fields())
        if (self.width() < self._narrow) is not self._is_narrow:
            self._fit_width()

    def _fit_width(self) -> None:
        self._is_narrow = self.width() < self._narrow
        road, fields = self._columns(is_narrow=self._is_narrow)
        self._right.setMinimumWidth(self._least_fields())
        self._split.setSizes([road, self.width() - road - fields, fields])
        if self.is_furnished:
            self.drawer.set_open(is_open=not self._is_narrow)

    def _columns(self, *, is_narrow: bool) -> tuple[int, int]:
        """How wide the road and the fields are to be: large text takes more room."""
        road, fields = _COLUMNS[is_narrow]
        share = (self.text_percent - 100) / 100 * (_GROWTH[is_narrow] - 1) + 1
        most = [
            max(round(self.width() * each), least)
            for each, least in zip(_MOST, _COLUMNS[True], strict=True)
        ]
        return min(round(road * share), most[0]), min(round(fields * share), most[1])

    def _least_fields(self) -> int:
        """How narrow the column of the fields may be made."""
        guide = self._guiding.panel.minimumWidth() if self._guiding is not None else 0
        return max(self._columns(is_narrow=True)[1], guide)

    @property
    def _narrow(self) -> int:
        """Below which width the window counts as narrow: large text takes more room."""
        return _NARROW * self.text_percent // 100

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files, of whatever kind: what cannot be opened is told."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open what was dropped, or say why not."""
        event.acceptProposedAction()
        self.take_typed()
        self.arrivals.take_dropped(event.mimeData())

    def _lay_out(self) -> None:
        room = self.screen().availableSize()
        # A screen with large text holds less: what is larger than it could not be reached.
        self.setMinimumSize(min(860, room.width()), min(600, room.height() - _TITLE_BAR))
        self.resize(min(1440, room.width()), min(900, room.height() - _TITLE_BAR))
        self.setAcceptDrops(True)
        self.stack = stacked(self.start)
        self._middle = middle = QSplitter(Qt.Orientation.Vertical)
        middle.addWidget(self.sighting.above(self.stack))
        middle.setStretchFactor(0, 1)
        middle.setCollapsible(0, False)
        self._has_findings = False
        self._right = QSplitter(Qt.Orientation.Vertical)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        for column in (self.road, middle, self._right):
            self._split.addWidget(column)
        self._split.setStretchFactor(1, 1)
        self._right.setVisible(False)
        for splitter in (middle, self._right, self._split):
            splitter.setHandleWidth(1)
            splitter.setChildrenCollapsible(False)
        inside = QWidget()
        box = QVBoxLayout(inside)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        for part in (self.keeping.notice, self.notice, self._split, self.last_line):
            box.addWidget(part, 1 if part is self._split else 0)
        self.setCentralWidget(inside)
        self.setMenuWidget(self.head)
        by_id = self.actions_.by_id
        self.actions_.fill(self.head.menu_bar)
        self.head.add_step(by_id["undo"])
        self.head.add_step(by_id["redo"])
        self.head.add_units({unit: by_id[f"units-{unit}"] for unit in ("mm", "cm", "in")})

    def _put_in(self) -> None:
        self.stack.addWidget(self.view)
        self._middle.addWidget(self.drawer)
        self._middle.setCollapsible(1, False)
        self._right.addWidget(self.fields)
        self._right.addWidget(self.findings)
        self._right.setStretchFactor(0, 1)
        by_id = self.actions_.by_id
        self.drawer.add_view_actions([by_id[name] for name in ("farther", "nearer", "fit")])
        self.view.addActions(self.actions_.on_canvas)
        self.table.view.addActions([by_id[name] for name in TABLE_MENU])
        self.looking.put_in(by_id, TOOLS, ARMING, self.last_line, self.actions_.refresh)

    def _connect(self) -> None:
        document, files = self.document, self.files
        document.state_changed.connect(self._show_file)
        document.failed.connect(self._on_failed)
        document.progressed.connect(self.last_line.working.show_progress)
        self.last_line.working.stop_wanted.connect(self.stop)
        self.last_line.working.work_out_wanted.connect(document.work_out)
        document.undo_stack.indexChanged.connect(self._on_step)
        self.sighting.changed.connect(self._on_sight)
        self.sighting.went_to.connect(self.road.go_to)
        self.sighting.said.connect(self.last_line.show_hint)
        self.selection.changed.connect(self._on_selection)
        self.road.went_to.connect(self._on_went_to)
        self.start.guide_wanted.connect(self.guide)
        self.start.measuring_wanted.connect(
            lambda shape: self.print_measuring(shape, self.start.unit)
        )
        self.start.unit_changed.connect(self.actions_.refresh)
        self.start.ready_wanted.connect(lambda path: files.open_ready(path, self.start.unit))
        self.start.forget_wanted.connect(files.forget_recent)
        self.start.started.connect(lambda project: document.start(project, modified=True))
        self.start.open_wanted.connect(files.open)
        self.start.file_wanted.connect(files.open_path)
        self.start.sample_wanted.connect(files.open_sample)
        files.said.connect(self.last_line.show_hint)
        files.ways_on.connect(self.notice.offer)
        files.recent_changed.connect(self._show_recent)
        self._show_recent()

    def _connect_furniture(self) -> None:
        self.view.hint_changed.connect(self._on_hint)
        self.leaves.changed.connect(self._show_leaves)
        self.holes.said.connect(self.last_line.show_hint)
        self.fields.finished.connect(self.refresh)
        self.fields.said.connect(self.last_line.show_hint)
        self.fields.squeeze_wanted.connect(self.squeeze)
        self.fields.zone_wanted.connect(self.actions_.by_id["draw-zone"].trigger)
        self.fields.obstacle_wanted.connect(self.actions_.by_id["draw-obstacle"].trigger)
        self._settling.went_to.connect(self._on_settled_at)
        self._settling.said.connect(self.last_line.show_hint)
        self.whatif.said.connect(self.last_line.show_hint)
        self._comparing.said.connect(self.last_line.show_hint)
        self.drawer.folded.connect(self._on_folded)
        self.findings.emptied.connect(self._on_emptied)
        # After the parts: they look at a plan before the window asks them about it.
        self.document.plan_changed.connect(self._on_plan)

    def _restore(self) -> None:
        self.restoreGeometry(self._settings.bytes("geometry"))
        self._fit_width()
        self._split.restoreState(self._settings.bytes("columns"))
        hints = QGuiApplication.styleHints()
        hints.colorSchemeChanged.connect(self._dress)
        wishes = hints.accessibility()
        wishes.contrastPreferenceChanged.connect(self._dress)

    def _keep(self) -> None:
        self._settings.set_bytes("geometry", self.saveGeometry())
        if self.is_furnished:
            self._settings.set_bytes("columns", self._split.saveState())

    def _dress(self, _wish: object = None) -> None:
        theme = self._theme()
        dress(theme, self.text_percent)
        self.road.set_theme(theme)
        if self.is_furnished:
            for part in (self.view, self.drawer, self.sighting):
                part.set_theme(theme)
        if self._make_view is not None:
            self._make_view.set_theme(theme)
        if self._guiding is not None:
            self._guiding.set_theme(theme)

    def _theme(self) -> Theme:
        return pick_theme(
            self.theme_choice,
            system_is_dark=system_is_dark(),
            system_wants_contrast=system_wants_contrast(),
        )

    def _panes(self) -> tuple[QWidget, ...]:
        if not self.is_furnished:
            return self.road, self.stack
        guide = (self._guiding.panel,) if self._guiding is not None else ()
        return (
            self.road,
            self.sighting.bar,
            self.stack,
            self.drawer,
            self.fields,
            self.findings,
            *guide,
        )

    def _show_place(self, now: Now) -> None:
        has_bed = now.bed is not None
        is_guided = self.is_guided
        sight = None
        if has_bed and not is_guided:
            sight = self.sighting.place(self._station, self.stack)
        place = self.make_view if has_bed and self._station == "Make" else sight or self.view
        nowhere = self._guiding.stage if self._guiding and is_guided else self.start
        before: QWidget | None = self.stack.currentWidget()
        keyboard: QWidget | None = self.focusWidget()
        is_first = has_bed and before not in {self.view, self._make_view, *self.sighting.rooms}
        has_left = False
        if before is not None and before is not place and isinstance(keyboard, QWidget):
            has_left = before.isAncestorOf(keyboard)
        self.stack.setCurrentWidget(place if has_bed else nowhere)
        if has_bed and not is_guided and (is_first or has_left):
            # What had the keyboard is out of sight; it would go to whatever comes next.
            focus_into(place)
        if self._right.isHidden() and has_bed and self._fields_open:
            QTimer.singleShot(0, self, self._share_right)  # its height is known once it is shown
        self._right.setVisible(is_guided or (has_bed and self._fields_open))
        self.fields.setVisible(not is_guided)
        self.findings.setVisible(not is_guided)
        self.sighting.show_bar(is_wanted=has_bed and not is_guided)
        self.last_line.zoom.setVisible(has_bed and place is not sight)
        has_drawer = has_bed and place is self.view and not is_guided
        if self.drawer.isHidden() and has_drawer:
            QTimer.singleShot(0, self, self._on_folded)
        self.drawer.setVisible(has_drawer)

    def _show_file(self) -> None:
        document = self.document
        name = self.files.name
        kind = (
            tr("{name}[*] (read-only)", name=name)
            if document.is_read_only
            else f"{isolated(name)}[*]"
        )
        self.setWindowTitle(f"{kind} \N{EN DASH} Raftwright")
        self.setWindowModified(document.is_modified)
        self.head.show_file(name, _state_words(document))
        is_missing = bool(document.beds) and not document.is_worked_out
        self.last_line.working.show_state(is_busy=document.is_busy, is_missing=is_missing)
        self.actions_.refresh()

    def _show_recent(self) -> None:
        paths = self._settings.recent
        self.start.show_recent(paths, gone=[path for path in paths if not path.is_file()])
        self.actions_.show_recent(paths)

    def _on_went_to(self, station: StationName) -> None:
        self._station = station
        if self._guiding is not None:
            self._guiding.visit(station)
        self.refresh()
        if self.is_furnished:
            self._show_hint()
            self._show_leaves()
            self.view.set_skew(is_shown=station == "Bed")

    def _on_sight(self) -> None:
        self.refresh()
        self._show_hint()

    def _on_settled_at(self, station: StationName) -> None:
        """Go where a finding is settled, and see the bed there from above."""
        self.road.go_to(station)
        if self.sighting.is_open:
            self.sighting.choose("")

    def _show_leaves(self) -> None:
        """Draw the leaves that are wanted: at Grow, and elsewhere where they are pinned."""
        from layout_gui.panels.leaves import leaf_widths  # noqa: PLC0415  loaded when first used

        is_wanted = self._station == "Grow" or self.leaves.is_pinned
        widths = leaf_widths(self.now(), self.leaves.wish) if is_wanted else None
        if widths != self._drawn_leaves:
            self._drawn_leaves = widths
            self.view.set_canopy(widths)

    def _on_selection(self) -> None:
        names = [bed.name for bed in self.document.beds]
        if self.selection.bed in names:
            self._bed_at = names.index(self.selection.bed)
        station = station_of(self.selection)
        if station is not None and self._station not in {station, "Make"}:
            self.road.go_to(station)
        else:
            self.refresh()

    def _keep_bed(self, _plan: Plan) -> None:
        if self.document.beds:
            self.furnish()
        names = [bed.name for bed in self.document.beds]
        if self.selection.bed not in names:
            self.selection.set_bed(names[min(self._bed_at, len(names) - 1)] if names else "")

    def _on_plan(self, _plan: Plan) -> None:
        self.refresh()

    def _on_hint(self, hint: str) -> None:
        """Show what can be done on the bed, for as long as that is in sight."""
        self._hint = hint
        self._show_hint()

    def _show_hint(self) -> None:
        is_elsewhere = self._station == "Make" or self.sighting.is_open
        hint = "" if is_elsewhere else self._hint
        self.last_line.show_hint(self.guiding.hint if self.is_guided else hint)

    def _on_step(self, _at: int) -> None:
        self.notice.hide()
        self._show_hint()  # what was done before is no longer the last thing that was
        if self.document.is_busy:
            # The plan comes later; until then the fields must not write to the project of before.
            self.refresh()

    def _on_folded(self) -> None:
        self.actions_.refresh()
        drawer = self.drawer.minimumHeight()
        if self.drawer.is_open:
            drawer = max(_DRAWER, min(self.drawer.wanted_height, self._middle.height() // 2))
        self._middle.setSizes([max(self._middle.height() - drawer, 0), drawer])

    def _on_emptied(self, is_empty: bool) -> None:  # noqa: FBT001 - a signal's argument
        self._has_findings = not is_empty
        self._share_right()

    def _share_right(self) -> None:
        height = self._right.height()
        findings = height * 2 // 5 if self._has_findings else _EMPTY
        self._right.setSizes([height - findings, findings])

    def _on_failed(self, sentence: str) -> None:
        self.notice.say(sentence)
        self.refresh()

    def _close_now(self) -> None:
        if self.is_furnished:
            self.fields.stop_writing()
        self._may_close = True
        # Not from within closeEvent, where closing again would be ignored.
        QTimer.singleShot(0, self.close)


def _sample_name(path: Path) -> str:
    words = path.name.removesuffix(SUFFIX).replace("_", "-").split("-")
    name = " ".join(word.upper() if len(word) == 1 else word for word in words)
    return name[:1].upper() + name[1:]


def _state_words(document: Document) -> str:
    if document.is_busy:
        return tr("working it out \N{HORIZONTAL ELLIPSIS}")
    if document.is_at_the_disk:
        return tr("one moment \N{HORIZONTAL ELLIPSIS}")
    if document.is_read_only:
        return tr("read-only")
    if document.is_modified or (document.path is None and document.beds):
        return tr("not saved yet")
    return tr("saved") if document.path else ""
