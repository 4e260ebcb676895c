"""As built, a fold of the station Rafts: what the selected raft is really like, and its notes."""

from collections.abc import Callable
from datetime import date
from typing import Any, Final

from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.errors import GeometryError
from geometry.model.as_built import lying
from geometry.model.log import RaftMade
from geometry.model.project import Project
from geometry.plan import PlacedRaft
from geometry.tongue import mark, plural, tr
from geometry.units import Length, format_length
from layout_gui.document.document import Document
from layout_gui.panels import dates
from layout_gui.panels.dates import date_text
from layout_gui.panels.form import Field, Form, Kind
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Fold, button, label, side_by_side
from layout_gui.project.edits_log import note_made, set_entry

_FIELDS: Final[tuple[tuple[str, str, Kind, str], ...]] = (
    ("length", mark("Length as built"), "length", ""),
    ("width", mark("Width as built"), "length", ""),
    ("hole_diameter", mark("Hole size as built"), "length", mark("As the test hole came out")),
    ("sites", mark("Sites as built"), "count", mark("Holes that can be planted")),
    ("coats", mark("Coats of paint"), "count", ""),
)


def chosen_raft(now: Now) -> PlacedRaft | None:
    """Return the raft that is selected by itself or through its holes; None for none or several."""
    names = now.rafts | {raft for raft, _ in now.holes}
    rafts = now.bed_plan.rafts if now.bed_plan else ()
    if len(names) != 1:
        return None
    return next((raft for raft in rafts if raft.name in names), None)


def _lying(now: Now) -> RaftMade | None:
    raft = chosen_raft(now)
    return None if raft is None else lying(now.project).get((now.bed_name, raft.name))


def _made(now: Now) -> RaftMade:
    made = _lying(now)
    if made is None:
        raise GeometryError(tr("Note the raft as made first."))
    return made


def _field(name: str, words: str, kind: Kind, hint: str) -> Field:
    def read(now: Now) -> Any:
        return getattr(_made(now), name)

    def write(now: Now, value: object) -> Project:
        number = now.project.log.rafts.index(_made(now))
        return set_entry(now.project, "rafts", number, **{name: value})

    return Field(
        f"built-{name}", words, kind, read, write, lambda now: _beside(now, name),
        empty_means=mark("not measured"), hint=hint, most=100_000 if name == "sites" else 20,
    )  # fmt: skip


def _beside(now: Now, name: str) -> str:
    """Say how a figure differs from what was drawn."""
    made, raft = _lying(now), chosen_raft(now)
    value = getattr(made, name, None)
    if raft is None or value is None:
        return ""
    shape, holes = raft.design.shape, raft.design.holes
    if name == "sites":
        return tr("{n} are drawn now", n=len(holes))
    drawn = {"length": shape.length, "width": shape.width}.get(name)
    if drawn is None or not isinstance(value, Length):
        return ""
    by, unit = value.exact - drawn, now.project.units
    if not by:
        return tr("as it is drawn now")
    if by > 0:
        return tr("{by} more than is drawn now", by=format_length(by, unit))
    return tr("{by} less than is drawn now", by=format_length(-by, unit))


class AsBuiltPart(QWidget):
    """Shows the raft of the log that lies where the selected raft is, or offers to note it."""

    def __init__(
        self,
        document: Document,
        parent: QWidget | None = None,
        *,
        today: Callable[[], date] = dates.today,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._today = today
        self._now: Now | None = None
        self.words = label("", "quiet")
        self.notes = label("")
        self.message = label("", "warn")
        self.message.hide()
        self.note_button = button(tr("Note it as made"), self._note)
        self.form = Form([_field(*row) for row in _FIELDS], document)
        self.fold = Fold(
            tr("As built"),
            self.words,
            self.notes,
            self.form,
            side_by_side(self.note_button),
            self.message,
        )
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 6, 0, 0)
        box.addWidget(self.fold)

    def show_now(self, now: Now) -> None:
        """Show what the log has about the selected raft."""
        self._now = now
        raft, made = chosen_raft(now), _lying(now)
        self.note_button.setVisible(raft is not None and made is None)
        self.form.setVisible(made is not None)
        self.message.hide()
        told = _notes(now, raft, made)
        self.notes.setText("\n".join(told))
        self.notes.setVisible(bool(told))
        if raft is None:
            self.words.setText(tr("Select a raft to note what it really measures."))
            self.fold.set_note("")
            return
        if made is None:
            self.words.setText(
                tr(
                    "{raft} is not noted as made. Noting it keeps its drawing, so that a "
                    "replacement can be printed whatever the plan shows then.",
                    raft=raft.name,
                )
            )
            self.fold.set_note("")
            return
        self.words.setText(_made_words(made))
        self.fold.set_note(plural(len(told), "note") if told else "")
        self.form.show_now(now)

    def _note(self) -> None:
        now, plan = self._now, self._document.settled
        raft = chosen_raft(now) if now is not None else None
        if now is None or raft is None:
            return
        try:
            project = note_made(now.project, plan, [(now.bed_name, raft.name)], self._today())
        except GeometryError as error:
            self.message.setText(str(error))
            self.message.show()
            return
        self._document.apply(tr("Note {raft} as made", raft=raft.name), project)


def _made_words(made: RaftMade) -> str:
    if made.made is None:
        return tr("“{label}” lies here, code {code}.", label=made.label, code=made.code or "?")
    return tr(
        "“{label}” lies here, code {code}, made on {day}.",
        label=made.label,
        code=made.code or "?",
        day=date_text(made.made),
    )


def _notes(now: Now, raft: PlacedRaft | None, made: RaftMade | None) -> list[str]:
    """The notes about the raft that lies here, and about others of its design."""
    if raft is None:
        return []
    alike = {each.label for each in now.project.log.rafts if each.design == raft.design.name}
    own = {made.label} if made is not None else set()
    return [
        tr("Note about {label}: {text}", label=note.of, text=note.text)
        for note in now.project.log.notes
        if note.about == "raft" and note.of in alike | own and note.text
    ]
