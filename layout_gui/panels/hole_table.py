"""The table of holes, a leaf of the drawer: all that the bed shows, in rows to type in."""

from fractions import Fraction
from typing import Final

from PySide6.QtCore import QItemSelection, QItemSelectionModel, Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QHeaderView,
    QVBoxLayout,
    QWidget,
)

from geometry.errors import GeometryError
from geometry.plan import BedPlan
from geometry.tongue import tr, tr_n
from geometry.units import Length, parse_length
from layout_gui.document.document import Document
from layout_gui.document.selection import HoleName, Selection
from layout_gui.panels.background import Background
from layout_gui.panels.drawer import Leaf
from layout_gui.panels.fields import ChoiceField, LengthField, LengthNote
from layout_gui.panels.flow import flowing, named
from layout_gui.panels.hole_model import TITLES, HoleModel
from layout_gui.panels.hole_rows import COLUMNS, Floats, HoleRows
from layout_gui.panels.now import Now
from layout_gui.panels.parts import button, label
from layout_gui.panels.typed_rows import TypedRows
from layout_gui.project import edits
from layout_gui.project.arrange import exact_pins

_MOST_SPANS: Final = 5_000
"""Selected rows that lie in more pieces are told, not shown: Qt would take seconds."""
_MOST_FOLLOWED: Final = 50_000
_WIDTHS: Final = (60, 60, 84, 84, 118, 130, 96, 96)


class HoleView(TypedRows):
    """Rows of holes; Enter edits a place, Ctrl+A takes all rows that are shown."""

    def fit_to_text(self) -> None:
        """Make rows as high and columns as wide as the text needs."""
        metrics = self.fontMetrics()
        self.verticalHeader().setDefaultSectionSize(metrics.height() + 9)
        for column, width in enumerate(_WIDTHS):
            self.setColumnWidth(column, round(width * metrics.horizontalAdvance("0") / 8))


class HoleTable(Leaf):
    """Shows the holes of the bed, follows the selection and leads it.

    ``copy_wanted`` and ``paste_wanted`` are for whoever has the clipboard.
    """

    copy_wanted = Signal()
    paste_wanted = Signal()
    leave_out_wanted = Signal()

    def __init__(
        self, document: Document, selection: Selection, parent: QWidget | None = None
    ) -> None:
        tip = tr("All holes in rows: places can be typed, copied and pasted")
        super().__init__("table", tr("Table of holes"), tip, parent)
        self._document = document
        self._selection = selection
        self._now: Now | None = None
        self._is_leading = False
        self._is_following = False
        self._shown: frozenset[HoleName] = frozenset()
        self.model = HoleModel(self)
        self.model.typed.connect(self._on_typed)
        self.model.gaps_wanted.connect(self._measure)
        self._measuring = Background(self)
        self._measuring.done.connect(self._on_measured)
        self._measuring.failed.connect(self._on_unmeasured)
        self._asked: HoleRows | None = None
        self.view = HoleView()
        self.raft_field, self.sort_field = ChoiceField(), ChoiceField()
        self.new_raft, self.new_x, self.new_y = ChoiceField(), LengthField(), LengthField()
        self.add_button = button(tr("Add a hole there"), self._add)
        self.copy_button = button(tr("Copy rows"), self.copy_wanted.emit, "link")
        self.paste_button = button(tr("Paste rows"), self.paste_wanted.emit, "link")
        self.leave_button = button(tr("Leave out"), self.leave_out_wanted.emit, "link")
        self.new_button = button(tr("New hole…"), self._on_new, "link")
        self.message = label("", "warn")
        self._prepare()
        self._lay_out()

    @property
    def about(self) -> str:
        """How many holes are shown and selected."""
        shown = self.model.rowCount()
        words = tr_n("{n} hole", "{n} holes", shown)
        chosen = len(self._selection.holes)
        if not chosen:
            return words
        return tr("{holes}, {n} selected", holes=words, n=chosen)

    @property
    def raft(self) -> str:
        """The raft that rows without one belong to: the one shown alone, or the selected one."""
        if self.model.raft:
            return self.model.raft
        chosen = self._selection.rafts | {raft for raft, _ in self._selection.holes}
        return next(iter(chosen)) if len(chosen) == 1 else ""

    @property
    def has_keyboard(self) -> bool:
        """Whether keys go to the rows."""
        focus = QApplication.focusWidget()
        return focus is not None and (focus is self.view or self.view.isAncestorOf(focus))

    def set_open(self, *, is_open: bool) -> None:
        """Show the holes from now on, or leave it."""
        super().set_open(is_open=is_open)
        if is_open and self._now is not None:
            self._show(self._now)
        elif not is_open:
            self.say("")

    def show_now(self, now: Now) -> None:
        """Show the holes of this moment, if the leaf is open."""
        self._now = now
        if self.is_open:
            self._show(now)

    def say(self, reason: str) -> None:
        """Say why something could not be done; nothing takes it away."""
        self.message.setText(reason)
        self.message.setVisible(bool(reason))

    # -- what is shown ---------------------------------------------------------------------------

    def _show(self, now: Now) -> None:
        plan = now.bed_plan
        is_settled = now.plan.project is now.project
        # A hole dragged on a very large bed must stay under the pointer: its row waits.
        if is_settled or plan is None or plan.plants <= _MOST_FOLLOWED:
            self.model.show_plan(plan, now.project.units, resort=is_settled)
        for field in (self.new_x, self.new_y):
            field.set_unit(now.project.units)
        self._show_rafts(plan)
        self.add_button.setEnabled(now.planting is not None)
        self.new_button.setEnabled(now.planting is not None)
        if self._selection.holes != self._shown:
            self._follow()
        self.about_changed.emit()

    def _show_rafts(self, plan: BedPlan | None) -> None:
        names = [raft.name for raft in plan.rafts] if plan else []
        self.raft_field.set_options([("", tr("all rafts")), *((name, name) for name in names)])
        self.raft_field.show_value(self.model.raft)
        wanted = self.new_raft.value()
        self.new_raft.set_options([(name, name) for name in names])
        self.new_raft.show_value(
            self.raft or (wanted if wanted in names else names[0] if names else None)
        )

    def _follow(self) -> None:
        """Select the rows of the selected holes and bring the first of them into sight."""
        self._shown = self._selection.holes
        if self._is_leading:
            return
        spans = self.model.spans(self._selection.holes)
        chosen = QItemSelection()
        last = len(COLUMNS) - 1
        for first, end in spans if len(spans) <= _MOST_SPANS else ():
            chosen.select(self.model.index(first, 0), self.model.index(end, last))
        self._is_following = True
        rows = self.view.selectionModel()
        rows.select(chosen, QItemSelectionModel.SelectionFlag.ClearAndSelect)
        if spans:
            column = max(self.view.currentIndex().column(), 0)
            first_row = self.model.index(spans[0][0], column)
            rows.setCurrentIndex(first_row, QItemSelectionModel.SelectionFlag.NoUpdate)
            self.view.scrollTo(first_row)
        self._is_following = False

    def _on_rows_selected(self) -> None:
        """Select on the bed what is selected in the rows."""
        if self._is_following:
            return
        chosen = self.view.selectionModel().selection()
        ranges = [chosen.at(number) for number in range(chosen.count())]
        spans = [(each.top(), each.bottom()) for each in ranges]
        self._is_leading = True
        self._selection.set_holes(self.model.names(spans))
        self._shown = self._selection.holes
        self._is_leading = False
        self.about_changed.emit()

    def _measure(self) -> None:
        rows = self.model.rows
        if rows is None or rows is self._asked:
            return
        self._asked = rows
        # A copy that nobody else looks at: the worker's distances come back as a whole.
        beside = HoleRows(rows.plan)
        self._measuring.ask(lambda _is_wanted: (rows, beside.measure()))

    def _on_measured(self, found: tuple[HoleRows, Floats]) -> None:
        self.model.take_gaps(*found)

    def _on_unmeasured(self, error: BaseException) -> None:
        if not isinstance(error, GeometryError):
            raise error
        self.say(str(error))

    # -- what is done ----------------------------------------------------------------------------

    def _on_typed(self, name: HoleName, axis: str, text: str) -> None:
        """Put the hole, or all selected ones if it is one of them, to the typed place."""
        now = self._now
        plan = now.bed_plan if now else None
        if now is None or plan is None or now.plan.project is not now.project:
            self.say(tr("The holes are still being placed; type it again in a moment."))
            return
        chosen = self._selection.holes
        names = sorted(chosen) if name in chosen else [name]
        try:
            place = parse_length(text, now.project.units)
            project = edits.place_holes(now.project, plan, _places(plan, names, axis, place))
        except GeometryError as error:
            self.say(str(error))
            return
        self.say("")
        words = tr_n(
            "{axis} {place} for {n} hole",
            "{axis} {place} for {n} holes",
            len(names),
            axis=axis,
            place=text.strip(),
        )
        self._document.apply(words, project)

    def _on_new(self) -> None:
        """Show or hide what a new hole is typed into."""
        self.new_hole.setVisible(self.new_hole.isHidden())
        if not self.new_hole.isHidden():
            self.new_x.setFocus()

    def _add(self) -> None:
        now = self._now
        plan = now.bed_plan if now else None
        raft = self.new_raft.value()
        if now is None or plan is None or not isinstance(raft, str):
            return
        try:
            x = parse_length(self.new_x.text(), now.project.units)
            y = parse_length(self.new_y.text(), now.project.units)
            project = edits.place_holes(now.project, plan, {}, [(raft, x, y)])
        except GeometryError as error:
            self.say(str(error))
            return
        self.say("")
        self._document.apply(tr("Add a hole on {raft}", raft=raft), project)

    def _on_raft_chosen(self, raft: object) -> None:
        self.model.show_raft(str(raft))
        self.about_changed.emit()

    def _on_order_chosen(self, chosen: object) -> None:
        if isinstance(chosen, tuple):
            column, descending = chosen
            order = Qt.SortOrder.DescendingOrder if descending else Qt.SortOrder.AscendingOrder
            self.view.sortByColumn(COLUMNS.index(column), order)

    def _on_reset(self) -> None:
        """Rows that were put in order anew are selected anew."""
        self._follow()
        self.sort_field.show_value(self.model.order)

    # --------------------------------------------------------------------------------------------

    def _prepare(self) -> None:
        view = self.view
        view.setModel(self.model)
        view.setAccessibleName(tr("Table of holes"))
        view.setAccessibleDescription(
            tr(
                "One row a hole. Enter or F2 edits x or y, of all selected rows at once; Del leaves"
                " holes out; Ctrl+C copies rows, Ctrl+V pastes them."
            )
        )
        view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        view.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        triggers = QAbstractItemView.EditTrigger
        view.setEditTriggers(
            triggers.DoubleClicked | triggers.EditKeyPressed | triggers.AnyKeyPressed
        )
        view.setTabKeyNavigation(False)
        view.setShowGrid(False)
        view.setAlternatingRowColors(True)
        view.setWordWrap(False)
        view.verticalHeader().hide()
        view.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header = view.horizontalHeader()
        header.setHighlightSections(False)
        header.setStretchLastSection(True)
        header.setMinimumSectionSize(44)
        # With the rows' own selection it would ask every row for every heading it paints.
        header.setSelectionModel(QItemSelectionModel(self.model, header))
        view.fit_to_text()
        view.setSortingEnabled(True)
        view.sortByColumn(0, Qt.SortOrder.AscendingOrder)
        view.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
        view.selectionModel().selectionChanged.connect(lambda _on, _off: self._on_rows_selected())
        self.model.modelReset.connect(self._on_reset)
        self.raft_field.setAccessibleName(tr("Show the holes of"))
        self.raft_field.committed.connect(self._on_raft_chosen)
        self.sort_field.setAccessibleName(tr("Sorted by"))
        options: list[tuple[object, str]] = []
        for name in COLUMNS:
            options.append(((name, False), tr(TITLES[name])))
            options.append(((name, True), tr("{column}, downwards", column=tr(TITLES[name]))))
        self.sort_field.set_options(options)
        self.sort_field.show_value(self.model.order)
        self.sort_field.committed.connect(self._on_order_chosen)
        self.new_raft.setAccessibleName(tr("Raft of the new hole"))
        self.new_x.setAccessibleName(tr("x of the new hole"))
        self.new_y.setAccessibleName(tr("y of the new hole"))
        self.copy_button.setToolTip(tr("Copies the selected rows, for a spreadsheet too (Ctrl+C)"))
        self.paste_button.setToolTip(
            tr("A row that names a hole moves it, any other adds one (Ctrl+V)")
        )
        self.message.hide()

    def _lay_out(self) -> None:
        tools = flowing(
            named(tr("Show"), self.raft_field),
            named(tr("sorted by"), self.sort_field),
            self.copy_button,
            self.paste_button,
            self.leave_button,
            self.new_button,
        )
        self.new_hole = flowing(
            named(tr("New hole on"), self.new_raft),
            named(tr("x"), self.new_x),
            named(tr("y"), self.new_y),
            self.add_button,
        )
        self.new_hole.hide()
        box = QVBoxLayout(self)
        box.setContentsMargins(16, 2, 16, 12)
        box.setSpacing(6)
        box.addWidget(tools)
        box.addWidget(self.new_hole)
        box.addWidget(LengthNote(self.new_x, self.new_y))
        box.addWidget(self.message)
        box.addWidget(self.view, 1)


def _places(
    plan: BedPlan, names: list[HoleName], axis: str, place: Length
) -> dict[HoleName, tuple[edits.Coordinate, edits.Coordinate]]:
    """Return where the named holes go: one coordinate as typed, the other as it is."""
    rows = HoleRows(plan)
    numbers = rows.numbers(names)
    places: dict[HoleName, tuple[edits.Coordinate, edits.Coordinate]] = {}
    pins = exact_pins(plan)
    for name, (x, y) in zip(rows.names(numbers), rows.xy[numbers].tolist(), strict=True):
        exact = pins.get((x, y), (Fraction(x), Fraction(y)))
        own = edits.fine_length(exact[1 if axis == "x" else 0])
        places[name] = (place, own) if axis == "x" else (own, place)
    return places
