"""The log, a sight of the station Grow: rafts as they were made, batches as they grew, notes."""

from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import Final

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import (
    QApplication,
    QButtonGroup,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from geometry.errors import GeometryError
from geometry.model.log import Note
from geometry.model.project import Project
from geometry.tongue import mark, tr, tr_n
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.output.as_made import names_as_made
from layout_gui.output.documents import CUT_SHEET, TEMPLATE
from layout_gui.output.export import export
from layout_gui.panels import dates
from layout_gui.panels.background import Background, IsWanted
from layout_gui.panels.fields import TextField
from layout_gui.panels.flow import flowing, named
from layout_gui.panels.log_model import LogModel, ways_here
from layout_gui.panels.log_table import LogTable
from layout_gui.panels.measured_part import MeasuredPart
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Press, button, label
from layout_gui.panels.sight_view import SightView
from layout_gui.panels.viewer import fresh_folder
from layout_gui.project.as_made import plan_as_made
from layout_gui.project.edits_log import (
    Kind,
    add_entries,
    not_noted,
    note_made,
    remove_entries,
    set_entry,
    subject_of,
    use_measured,
)
from layout_gui.project.log_cells import (
    Ways,
    fresh_entry,
    paste_rows,
    read_cell,
    rows_text,
    subjects,
)
from layout_gui.screen.theme import Theme

KINDS: Final[dict[Kind, str]] = {
    "rafts": mark("Rafts made"),
    "batches": mark("Batches"),
    "notes": mark("Notes"),
}
_EMPTY: Final[dict[Kind, str]] = {
    "rafts": mark(
        "No raft is noted yet. When the rafts are drilled, note them as made: each keeps its "
        "drawing, so that a replacement can be printed years later, whatever the plan shows then."
    ),
    "batches": mark(
        "No batch is noted yet. Write down what was sown, what came up, what was set afloat and "
        "what was picked: after a few batches the plan can go by your own figures."
    ),
    "notes": mark(
        "No note yet. A note about a raft or a batch is shown again where that raft, or a copy of "
        "its design, is worked on."
    ),
}
_ADD: Final[dict[Kind, str]] = {
    "rafts": mark("Add a raft by hand"),
    "batches": mark("Add a batch"),
    "notes": mark("Add a note"),
}
_FIRST_CELL: Final[dict[Kind, str]] = {"rafts": "label", "batches": "run", "notes": "text"}
_MOST_TOLD: Final = 4


class LogView(SightView):
    """Three lists, one in sight, with what can be done beside them."""

    def __init__(
        self,
        document: Document,
        selection: Selection,
        parent: QWidget | None = None,
        *,
        today: Callable[[], date] = dates.today,
        open_url: Callable[[QUrl], bool] | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        self._today = today
        self._open_url = open_url or QDesktopServices.openUrl
        self._printing = Background(self)
        self._printing.done.connect(self._on_printed)
        self._printing.failed.connect(self._on_failed)
        self.models = {kind: LogModel(kind, self) for kind in KINDS}
        self.tables = {
            kind: LogTable(self.models[kind], tr(words), self._options)
            for kind, words in KINDS.items()
        }
        self.empty = {kind: label(tr(words), "quiet") for kind, words in _EMPTY.items()}
        self.message = label("")
        self.message.hide()
        self.measured = MeasuredPart(self._use_measured)
        self.tabs: dict[Kind, QPushButton] = {}
        self.search = TextField(empty_means=tr("all"))
        self.search.setAccessibleName(tr("Show only rows with"))
        self.search.textChanged.connect(self._on_search)
        self.note_button = button("", self._note_made, "primary")
        self.note_button.setToolTip(
            tr("Keeps the drawing of each raft as it is now: of the selected rafts, or of all")
        )
        self.print_button = button(tr("Print as it was made"), self._print_as_made)
        self.print_button.setToolTip(
            tr("Opens template and cut sheet of the raft in this row, exactly as they were then")
        )
        self.wash_button = button(tr("Washed today"), self._washed, "link")
        self.about_button = button(tr("Note about this row"), self._note_about, "link")
        self.copy_button = button(tr("Copy rows"), self._copy, "link")
        self.paste_button = button(tr("Paste rows"), self._paste, "link")
        self.remove_button = button(tr("Remove"), self._remove, "link")
        self.add_button = button("", self._add)
        self._pages = QStackedWidget()
        self._kind: Kind = "rafts"
        self._lay_out()
        self.see("rafts")

    # -- what is shown ---------------------------------------------------------------------------

    @property
    def kind(self) -> Kind:
        """The list in sight."""
        return self._kind

    def see(self, kind: Kind) -> None:
        """Show one of the lists."""
        self._kind = kind
        self.tabs[kind].setChecked(True)
        self._pages.setCurrentIndex(list(KINDS).index(kind))
        self.say("")
        self._show_buttons()

    def show_now(self, now: Now) -> None:
        """Show the log of this moment."""
        project = now.project
        for kind, model in self.models.items():
            model.show_project(project)
            count = len(model.entries)
            self.tabs[kind].setText(f"{tr(KINDS[kind])} ({count})")
            self.empty[kind].setVisible(not count)
            self.tables[kind].setVisible(bool(count))
        self.measured.show_project(project)
        self._show_buttons()

    def set_theme(self, theme: Theme) -> None:
        """Colours come with the style of the window."""

    def say(self, words: str, *, warns: bool = False) -> None:
        """Say what came of something, or why it could not be done."""
        self.message.setProperty("role", "warn" if warns else "")
        self.message.style().polish(self.message)
        self.message.setText(words)
        self.message.setVisible(bool(words))

    def _show_buttons(self) -> None:
        kind, table = self._kind, self.tables[self._kind]
        chosen = table.numbers
        wanted = self._to_note()
        self.note_button.setText(
            tr_n("Note {n} raft as made", "Note {n} rafts as made", len(wanted))
        )
        self.note_button.setVisible(kind == "rafts" and bool(wanted))
        self.add_button.setText(tr(_ADD[kind]))
        self.print_button.setVisible(kind == "rafts")
        self.wash_button.setVisible(kind == "rafts")
        self.about_button.setVisible(kind != "notes")
        self.print_button.setEnabled(len(chosen) == 1 and not self._printing.is_busy)
        for press in (self.wash_button, self.copy_button, self.remove_button):
            press.setEnabled(bool(chosen))
        self.about_button.setEnabled(len(chosen) == 1)

    def _to_note(self) -> tuple[tuple[str, str], ...]:
        """The rafts that are offered: those selected on the bed, else all that are not noted."""
        plan = self._document.plan
        if plan.project is not self._document.project:
            return ()
        rafts = self._selection.rafts
        if rafts and self._selection.bed:
            bed = self._selection.bed
            known = {raft.name for each in plan.beds if each.bed.name == bed for raft in each.rafts}
            return tuple((bed, raft) for raft in sorted(rafts) if raft in known)
        return not_noted(self._document.project, plan)

    def _options(self, key: str) -> Sequence[str]:
        project = self._document.project
        match key:
            case "where":
                places = [
                    tr("{bed} {raft}", bed=bed.bed.name, raft=raft.name)
                    for bed in self._document.plan.beds
                    for raft in bed.rafts[:200]
                ]
                return [*places, tr("spare"), tr("retired")]
            case "about":
                return list(subjects(project))
            case "run":
                known = [batch.run for batch in project.log.batches]
                return list(dict.fromkeys([*(run.name for run in project.runs), *known]))
            case _:
                return ()

    def _ways(self) -> Ways:
        return ways_here(self._document.project)

    # -- what is done ----------------------------------------------------------------------------

    def _apply(self, words: str, made: Callable[[], Project]) -> bool:
        try:
            project = made()
        except GeometryError as error:
            self.say(str(error), warns=True)
            return False
        self.say("")
        self._document.apply(words, project)
        for model in self.models.values():
            model.show_project(self._document.project)
        return True

    def _on_typed(self, kind: Kind, number: int, key: str, text: str) -> None:
        project = self._document.project

        def made() -> Project:
            return set_entry(project, kind, number, **read_cell(kind, key, text, self._ways()))

        self._apply(tr("Change the log"), made)

    def _note_made(self) -> None:
        rafts = self._to_note()
        plan, project = self._document.plan, self._document.project
        words = tr_n("Note {n} raft as made", "Note {n} rafts as made", len(rafts))
        if self._apply(words, lambda: note_made(project, plan, rafts, self._today())):
            self.say(
                tr_n(
                    "{n} raft is noted with its drawing. Write its label on the foam, and what "
                    "it really measures into this row.",
                    "{n} rafts are noted with their drawings. Write the labels on the foam, and "
                    "what they really measure into these rows.",
                    len(rafts),
                )
            )

    def _add(self) -> None:
        kind, project = self._kind, self._document.project
        entry = fresh_entry(kind, project, self._today())
        if self._apply(tr(_ADD[kind]), lambda: add_entries(project, kind, [entry])):
            self.tables[kind].show_entry(
                len(self.models[kind].entries) - 1, _FIRST_CELL[kind], edit=True
            )

    def _remove(self) -> None:
        kind, numbers, project = self._kind, self.tables[self._kind].numbers, self._document.project
        if numbers:
            words = tr_n("Remove {n} row of the log", "Remove {n} rows of the log", len(numbers))
            self._apply(words, lambda: remove_entries(project, kind, numbers))

    def _washed(self) -> None:
        project = self._document.project
        numbers = self.tables["rafts"].numbers

        def made() -> Project:
            changed = project
            for number in numbers:
                washes = (project.log.rafts[number].washes or 0) + 1
                changed = set_entry(changed, "rafts", number, washes=washes, washed=self._today())
            return changed

        words = tr_n("Note a wash of {n} raft", "Note a wash of {n} rafts", len(numbers))
        self._apply(words, made)

    def _note_about(self) -> None:
        project = self._document.project
        chosen = self.tables[self._kind].numbers
        if len(chosen) != 1:
            return
        entry = self.models[self._kind].entries[chosen[0]]
        subject = subject_of(entry)
        if subject is None:
            return
        note = Note("", "raft" if subject[0] == "raft" else "batch", subject[1], self._today())
        if self._apply(tr("Add a note"), lambda: add_entries(project, "notes", [note])):
            self.see("notes")
            self.tables["notes"].show_entry(len(project.log.notes), "text", edit=True)

    def _use_measured(self, run: str) -> None:
        project = self._document.project
        if self._apply(
            tr("Use what was measured of {run}", run=run), lambda: use_measured(project, run)
        ):
            self.say(tr("The plan of {run} goes by your own figures now.", run=run))

    def _copy(self) -> None:
        numbers = self.tables[self._kind].numbers
        if numbers:
            QApplication.clipboard().setText(rows_text(self._kind, self._document.project, numbers))
            self.say(tr_n("{n} row copied.", "{n} rows copied.", len(numbers)))

    def _paste(self) -> None:
        self.paste_text(QApplication.clipboard().text())

    def paste_text(self, text: str) -> None:
        """Take over rows as one step; lines that cannot be used are told one by one."""
        if not text.strip():
            self.say(tr("There is nothing to paste; copy rows in a spreadsheet first."), warns=True)
            return
        try:
            pasted = paste_rows(self._kind, text, self._ways())
        except GeometryError as error:
            self.say(str(error), warns=True)
            return
        if pasted.added or pasted.changed:
            words = tr_n("Paste {n} row", "Paste {n} rows", pasted.added + pasted.changed)
            self._document.apply(words, pasted.project)
        told = [
            tr("{added} rows added, {changed} changed.", added=pasted.added, changed=pasted.changed)
        ]
        told += [
            tr("Line {line}: {reason}", line=each.line, reason=each.reason)
            for each in pasted.refused[:_MOST_TOLD]
        ]
        if (more := len(pasted.refused) - _MOST_TOLD) > 0:
            told.append(tr_n("{n} more line was not used.", "{n} more lines were not used.", more))
        self.say("\n".join(told), warns=bool(pasted.refused))

    def _on_search(self, text: str) -> None:
        for table in self.tables.values():
            table.order.setFilterFixedString(text.strip())

    # -- printing a raft as it was made ------------------------------------------------------------

    def _print_as_made(self) -> None:
        numbers = self.tables["rafts"].numbers
        if len(numbers) != 1:
            return
        made = self._document.project.log.rafts[numbers[0]]
        try:
            plan = plan_as_made(self._document.project, made.label)
        except GeometryError as error:
            self.say(str(error), warns=True)
            return

        def work(is_wanted: IsWanted) -> tuple[str, tuple[Path, ...]]:
            names = names_as_made(plan, {TEMPLATE, CUT_SHEET})
            folder = fresh_folder()
            return made.label, export(plan, folder, names, progress=lambda _s, _w: is_wanted())

        self.say(tr("Writing the pages of “{label}” \u2026", label=made.label))
        self._printing.ask(work)
        self._show_buttons()

    def _on_printed(self, written: tuple[str, tuple[Path, ...]]) -> None:
        name, paths = written
        opened = [self._open_url(QUrl.fromLocalFile(str(path))) for path in paths]
        if all(opened):
            self.say(tr("The pages of “{label}” are open in the viewer.", label=name))
        else:
            folder = paths[0].parent if paths else ""
            self.say(
                tr("No program here shows PDF files; the pages are in {folder}.", folder=folder),
                warns=True,
            )
        self._show_buttons()

    def _on_failed(self, error: BaseException) -> None:
        self._show_buttons()
        if not isinstance(error, GeometryError | OSError):
            raise error
        self.say(str(error), warns=True)

    # ----------------------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        group = QButtonGroup(self)
        line = QWidget()
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        for at, kind in enumerate(KINDS):
            press = Press(tr(KINDS[kind]))
            press.setCheckable(True)
            press.setProperty("role", "segment")
            press.setProperty("place", ("first", "middle", "last")[at])
            press.clicked.connect(lambda _on, kind=kind: self.see(kind))
            group.addButton(press)
            row.addWidget(press)
            self.tabs[kind] = press
        for kind, table in self.tables.items():
            self.models[kind].typed.connect(
                lambda number, key, text, kind=kind: self._on_typed(kind, number, key, text)
            )
            table.copy_wanted.connect(self._copy)
            table.paste_wanted.connect(self._paste)
            table.remove_wanted.connect(self._remove)
            table.chosen_changed.connect(self._show_buttons)
            page = QWidget()
            box = QVBoxLayout(page)
            box.setContentsMargins(0, 0, 0, 0)
            box.addWidget(self.empty[kind])
            box.addWidget(table, 1)
            if kind == "batches":
                room = QScrollArea()
                room.setWidgetResizable(True)
                room.setFrameShape(QScrollArea.Shape.NoFrame)
                room.setWidget(self.measured)
                box.addWidget(room, 1)
            else:
                box.addStretch(0)
            self._pages.addWidget(page)
        box = QVBoxLayout(self)
        box.setContentsMargins(16, 10, 16, 12)
        box.setSpacing(8)
        box.addWidget(flowing(line, named(tr("Only rows with"), self.search)))
        box.addWidget(
            flowing(
                self.note_button,
                self.add_button,
                self.print_button,
                self.wash_button,
                self.about_button,
                self.copy_button,
                self.paste_button,
                self.remove_button,
            )
        )
        box.addWidget(self.message)
        box.addWidget(self._pages, 1)
