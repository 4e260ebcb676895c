"""The joints between rafts as a list, the picked one's place as a field."""

from typing import Final

from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.errors import GeometryError
from geometry.model.project import Project
from geometry.rafts.split import JointLines, joint_lines
from geometry.tongue import mark, tr
from geometry.units import Length, format_length
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.form import Field, Form
from layout_gui.panels.now import Now
from layout_gui.panels.parts import ItemList, label
from layout_gui.project import edits_things
from layout_gui.project.things import Thing

MOST: Final = 100
"""More joints than this are not listed; the canvas has them all."""


class JointsPart(QWidget):
    """Shown while the bed has joints. What is picked here is selected on the bed."""

    def __init__(self, document: Document, selection: Selection) -> None:
        super().__init__()
        self._selection = selection
        self._now: Now | None = None
        self._things: tuple[Thing, ...] = ()
        self.items = ItemList(mark("Joints"), ())
        self.items.picked.connect(self._on_picked)
        self.form = Form((self._field(),), document)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 8, 0, 0)
        box.setSpacing(6)
        heading = label(tr("Joints"), "heading")
        for part in (heading, self.items, self.form):
            box.addWidget(part)

    def show_now(self, now: Now) -> None:
        """Show the joints of this moment."""
        self._now = now
        lines = _lines(now)
        places = {Thing("along", k): at for k, at in enumerate(lines.along)}
        places |= {Thing("across", k): at for k, at in enumerate(lines.across)}
        is_few = len(places) <= MOST
        self._things = tuple(places) if is_few else ()
        picked = now.thing if now.thing in places else None
        self.setVisible(bool(self._things) or picked is not None)
        unit, bed = now.project.units, now.bed
        texts = [
            tr(
                "{joint}, at {place}",
                joint=edits_things.thing_words(bed, thing),
                place=format_length(places[thing], unit),
            )
            for thing in self._things
            if bed is not None
        ]
        row = self._things.index(picked) if picked in self._things else -1
        self.items.show_items(texts, row)
        self.form.setVisible(picked is not None)
        if picked is not None:
            self.form.show_now(now)

    def _on_picked(self, row: int) -> None:
        if 0 <= row < len(self._things):
            self._selection.set_thing(self._things[row])

    def _field(self) -> Field:
        def read(now: Now) -> Length:
            bed, thing = now.bed, now.thing
            if bed is None or thing is None:
                raise GeometryError(tr("Choose a joint first."))
            return Length(edits_things.joint_place(bed, thing))

        def write(now: Now, value: Length) -> Project:
            bed, thing = now.bed, now.thing
            if bed is None or thing is None:
                raise GeometryError(tr("Choose a joint first."))
            return edits_things.move_joint(now.project, bed.name, thing, value.exact)

        return Field(
            "joint-at",
            mark("Its middle at"),
            "length",
            read=read,
            write=write,
            hint=mark("From the bed's datum corner; all joints of its kind move alike"),
        )


def _lines(now: Now) -> JointLines:
    if now.bed is None:
        return JointLines((), ())
    try:
        return joint_lines(now.bed)
    except GeometryError:
        return JointLines((), ())
