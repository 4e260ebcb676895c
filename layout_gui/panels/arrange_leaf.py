"""Arranging holes, a leaf of the drawer: orders at a press, tools with typed numbers and a look."""

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Final, Protocol

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from geometry.errors import GeometryError, LengthError
from geometry.model.project import Project
from geometry.plan import BedPlan
from geometry.tongue import tr, tr_n
from geometry.units import Length, Unit, parse_length
from layout_gui.document.document import Document
from layout_gui.document.selection import HoleName, Selection
from layout_gui.panels.arrange_orders import (
    LINING_UP,
    ORDERS,
    TOOLS,
    Entry,
    Kind,
    Order,
    Tool,
)
from layout_gui.panels.drawer import Leaf
from layout_gui.panels.fields import (
    ChoiceField,
    CountField,
    LengthField,
    LengthNote,
    SwitchField,
    TextField,
)
from layout_gui.panels.flow import flowing, named
from layout_gui.panels.now import Now
from layout_gui.panels.parts import button, label, stacked
from layout_gui.project import arrange

_USUAL_STEP: Final = Length.of(200)
_MOST: Final = 500
_DEGREES: Final = re.compile(r"-?[0-9]{1,4}([.][0-9]{0,6})?")


class AngleField(TextField):
    """Degrees, anticlockwise; point or comma, with a minus for clockwise."""

    def words(self, value: object) -> str:
        """Show the degrees with their sign."""
        return f"{float(value):g}°" if isinstance(value, Fraction) else ""

    def read(self, text: str) -> object:
        """Read exactly."""
        plain = text.replace(",", ".").replace("\N{MINUS SIGN}", "-").removesuffix("°").strip()
        if not _DEGREES.fullmatch(plain):
            raise GeometryError(tr("“{text}” is no angle; write degrees, such as 30.", text=text))
        return Fraction(plain)


class _Box(Protocol):
    """One field of a tool, whatever it is made of."""

    @property
    def widget(self) -> QWidget: ...

    def read(self) -> Fraction: ...

    def begin(self, spacing: Length, unit: Unit) -> None: ...


class _LengthBox:
    def __init__(self, entry: Entry, changed: Callable[[], object]) -> None:
        self._entry = entry
        self._unit: Unit = "mm"
        self._is_begun = False
        self.widget = LengthField()
        self.widget.tried.connect(lambda _value: changed())
        self.widget.committed.connect(self.widget.settle)
        self.widget.committed.connect(lambda _value: changed())
        self.widget.stepped.connect(lambda _value: changed())
        self.widget.refused.connect(lambda reason: changed() if reason else None)

    def read(self) -> Fraction:
        return parse_length(self.widget.text(), self._unit).exact

    def begin(self, spacing: Length, unit: Unit) -> None:
        self._unit = unit
        self.widget.set_unit(unit)
        if not self._is_begun:
            self._is_begun = True
            follows = self._entry.kind in ("step", "radius")
            self.widget.settle(spacing if follows else Length.of(self._entry.start))


class _CountBox:
    def __init__(self, entry: Entry, changed: Callable[[], object]) -> None:
        self.widget = CountField(most=_MOST)
        self.widget.show_value(entry.start)
        self.widget.stepped.connect(lambda _value: changed())

    def read(self) -> Fraction:
        self.widget.interpretText()
        return Fraction(self.widget.value())

    def begin(self, spacing: Length, unit: Unit) -> None:
        pass


class _AngleBox:
    def __init__(self, entry: Entry, changed: Callable[[], object]) -> None:
        self.widget = AngleField()
        self.widget.show_value(Fraction(entry.start))
        self.widget.textEdited.connect(lambda _text: changed())

    def read(self) -> Fraction:
        value = self.widget.read(self.widget.text().strip())
        return value if isinstance(value, Fraction) else Fraction(0)

    def begin(self, spacing: Length, unit: Unit) -> None:
        pass


class _SwitchBox:
    def __init__(self, entry: Entry, changed: Callable[[], object]) -> None:
        self.widget = SwitchField()
        self.widget.setText(tr(entry.words))
        self.widget.setChecked(bool(entry.start))
        self.widget.toggled.connect(lambda _on: changed())

    def read(self) -> Fraction:
        return Fraction(int(self.widget.isChecked()))

    def begin(self, spacing: Length, unit: Unit) -> None:
        pass


_BOXES: Final[dict[Kind, Callable[[Entry, Callable[[], object]], _Box]]] = {
    "length": _LengthBox, "step": _LengthBox, "radius": _LengthBox,
    "count": _CountBox, "angle": _AngleBox, "switch": _SwitchBox,
}  # fmt: skip


class ArrangeLeaf(Leaf):
    """Arranges the selected holes. What a tool would do is shown before it is done."""

    said = Signal(str)

    def __init__(
        self, document: Document, selection: Selection, parent: QWidget | None = None
    ) -> None:
        tip = tr("Line up, spread, copy, mirror and turn the selected holes")
        super().__init__("arrange", tr("Arrange"), tip, parent)
        self._document = document
        self._selection = selection
        self._now: Now | None = None
        self._chosen: frozenset[HoleName] = frozenset()
        self._tried: Project | None = None
        self._base: Project | None = None
        self._boxes: dict[str, dict[str, _Box]] = {}
        self.order_buttons: dict[str, QPushButton] = {}
        self.tool_field = ChoiceField()
        self.use_button = button(tr("Do it"), self.use, "primary")
        self.leave_button = button(tr("Leave it"), self.leave, "link")
        self.words = label("", "quiet")
        self._prepare()

    @property
    def about(self) -> str:
        """How many holes are arranged."""
        chosen = len(self._selection.holes)
        if not chosen:
            return tr("select the holes to arrange first")
        return tr_n("{n} hole selected", "{n} holes selected", chosen)

    @property
    def tool(self) -> Tool:
        """The tool whose fields are shown."""
        key = self.tool_field.value()
        return next((tool for tool in TOOLS if tool.key == key), TOOLS[0])

    @property
    def is_trying(self) -> bool:
        """Whether something is shown that is not done yet."""
        return self._tried is not None

    def field(self, tool: str, entry: str) -> QWidget:
        """Return the field of a tool that holds one of its numbers."""
        return self._boxes[tool][entry].widget

    def set_open(self, *, is_open: bool) -> None:
        """Show what is asked for from now on, or forget what was tried."""
        super().set_open(is_open=is_open)
        if is_open and self._now is not None:
            self._show(self._now)
        if not is_open:
            self.leave()

    def show_now(self, now: Now) -> None:
        """Follow the selection; whatever changes the project ends a try."""
        self._now = now
        if self._base is not None and now.project is not self._base:
            self._tried = self._base = None
            self.words.setText("")
        if self._selection.holes != self._chosen:
            self._chosen = self._selection.holes
            self.leave()
        if self.is_open:
            self._show(now)

    def do(self, key: str) -> None:
        """Carry out an order on the selected holes, as one step."""
        order = next(order for order in ORDERS if order.key == key)
        self.leave()
        try:
            group = self._group()
            project = arrange.moved(group, order.places(group))
        except GeometryError as error:
            self._refuse(str(error))
            return
        if project == self._document.project:
            self._tell(tr("They stand so already."))
            return
        words = tr_n(order.one, order.many, len(group))
        self._document.apply(words, project)
        self._tell(words)

    def show_tool(self, key: str) -> None:
        """Bring the fields of a tool into sight and show what it would do."""
        self.tool_field.show_value(key)
        self._on_tool()
        first = self.field(key, self.tool.entries[0].key)
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def use(self) -> None:
        """Do what the tool's numbers say, as one step."""
        made = self._make()
        if made is None:
            return
        words, project = made
        if project == self._tried:
            project = self._tried  # its plan is known
        self._tried = self._base = None
        if project == self._document.project:
            self._document.preview(None)
            self._tell(tr("They stand so already."))
            return
        self._document.apply(words, project)
        self._tell(words)

    def leave(self) -> None:
        """Forget what is tried; the bed is shown as it is."""
        if self._tried is not None:
            self._tried = self._base = None
            self._document.preview(None)
        self.words.setText("")
        self._show_buttons()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter does it, Escape leaves it."""
        focus = QApplication.focusWidget()
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if isinstance(focus, QPushButton):
                focus.click()
            else:
                self.use()
        elif event.key() == Qt.Key.Key_Escape and self.is_trying:
            self.leave()
        else:
            super().keyPressEvent(event)

    # --------------------------------------------------------------------------------------------

    def _show(self, now: Now) -> None:
        spacing = now.planting.spacing if now.planting else _USUAL_STEP
        for boxes in self._boxes.values():
            for box in boxes.values():
                box.begin(spacing, now.project.units)
        if self._tried is not None and now.plan.project is self._tried:
            self.words.setText(self._outcome(now))
        self._show_buttons()
        self.about_changed.emit()

    def _outcome(self, now: Now) -> str:
        """Say what the try leads to: plants and findings, before and after."""
        settled = self._document.settled
        words = tr(
            "{before} plants, then {after}",
            before=settled.plants,
            after=now.plan.plants,
        )
        more = len(now.plan.findings) - len(settled.findings)
        if more > 0:
            found = tr_n("{n} finding more", "{n} findings more", more)
            return tr("{plants} · {findings}", plants=words, findings=found)
        return words

    def _show_buttons(self) -> None:
        has_holes = bool(self._selection.holes)
        for each in self.order_buttons.values():
            each.setEnabled(has_holes)
        self.use_button.setEnabled(has_holes)
        self.leave_button.setEnabled(self.is_trying)

    def _on_tool(self) -> None:
        self._pages.setCurrentIndex(TOOLS.index(self.tool))
        self._try()

    def _try(self) -> None:
        """Show what the tool's numbers would do."""
        made = self._make()
        if made is None:
            return
        if made[1] == self._tried:
            return
        self._tried, self._base = made[1], self._document.project
        self.words.setText("")
        self._document.preview(self._tried)
        if self._now is not None:
            self._show_buttons()

    def _make(self) -> tuple[str, Project] | None:
        """Return the step's words and the project that the tool makes; say why there is none."""
        tool = self.tool
        try:
            values = {key: box.read() for key, box in self._boxes[tool.key].items()}
            group = self._group()
            places = tool.places(group, values)
            make = arrange.copied if tool.copies(values) else arrange.moved
            project = make(group, places)
        except GeometryError as error:
            self._tried = self._base = None
            self._document.preview(None)
            # A length that cannot be read has its reason beneath its field.
            self._refuse("" if isinstance(error, LengthError) else str(error))
            self._show_buttons()
            return None
        return tr_n(tool.one, tool.many, len(group)), project

    def _group(self) -> arrange.Group:
        return arrange.group_of(self._document.project, self._plan(), self._selection.holes)

    def _plan(self) -> BedPlan:
        settled = self._document.settled
        if settled.project is self._document.project:
            for bed in settled.beds:
                if bed.bed.name == self._selection.bed:
                    return bed
        raise GeometryError(tr("The holes are still being placed; ask again in a moment."))

    def _tell(self, words: str) -> None:
        self.words.setText(words if self.is_open else "")
        self._show_buttons()
        self.said.emit(words)

    def _refuse(self, reason: str) -> None:
        """Say why not where the grower is looking: here, or above the bed."""
        if self.is_open:
            self.words.setText(reason)
        else:
            self._document.failed.emit(reason)

    def _prepare(self) -> None:
        self.tool_field.set_options([(tool.key, tr(tool.words)) for tool in TOOLS])
        self.tool_field.setMinimumContentsLength(max(len(tr(tool.words)) for tool in TOOLS))
        self.tool_field.show_value(TOOLS[0].key)
        self.tool_field.setAccessibleName(tr("Tool"))
        self.tool_field.committed.connect(lambda _key: self._on_tool())
        for order in ORDERS:
            self.order_buttons[order.key] = self._order_button(order)
        pages = [self._page(tool) for tool in TOOLS]
        self._pages = stacked(*pages)
        every = list(self.order_buttons.values())
        tools = QHBoxLayout()
        tools.setSpacing(8)
        tools.addWidget(self.tool_field, 0, Qt.AlignmentFlag.AlignTop)
        tools.addWidget(self._pages, 1)
        ends = QHBoxLayout()
        ends.setSpacing(8)
        ends.addWidget(self.use_button)
        ends.addWidget(self.leave_button)
        ends.addWidget(self.words, 1)
        box = QVBoxLayout(self)
        box.setContentsMargins(16, 2, 16, 12)
        box.setSpacing(8)
        box.addWidget(flowing(label(tr("Line up")), *every[:LINING_UP]))
        box.addWidget(flowing(label(tr("Spread")), *every[LINING_UP:]))
        box.addLayout(tools)
        box.addLayout(ends)
        box.addStretch(1)
        self._show_buttons()

    def _order_button(self, order: Order) -> QPushButton:
        made = button(tr(order.words), lambda: self.do(order.key))
        made.setToolTip(tr(order.tip))
        made.setAccessibleName(tr(order.tip))
        return made

    def _page(self, tool: Tool) -> QWidget:
        boxes: dict[str, _Box] = {}
        parts: list[QWidget] = []
        for entry in tool.entries:
            box = _BOXES[entry.kind](entry, self._try)
            boxes[entry.key] = box
            is_switch = entry.kind == "switch"
            parts.append(box.widget if is_switch else named(tr(entry.words), box.widget))
            box.widget.setAccessibleName(tr(entry.words))
        self._boxes[tool.key] = boxes
        lengths = [box.widget for box in boxes.values() if isinstance(box.widget, LengthField)]
        return flowing(*parts, LengthNote(*lengths))
