"""Every action as one row: where it stands, its words, its keys, what it does and when it may."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal, Protocol  # noqa: TID251

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar, QWidget

from geometry.tongue import mark, tr
from geometry.units import Unit
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.stations import STATIONS, StationName
from layout_gui.screen.theme import ThemeChoice
from layout_gui.windows.arrivals import Arrivals
from layout_gui.windows.files import Files
from layout_gui.windows.keeping import Keeping
from layout_gui.windows.language import LanguageChoice
from layout_gui.windows.sighting import Sighting
from layout_gui.windows.things import Things, stands

if TYPE_CHECKING:
    from layout_gui.canvas.thing_tools import DrawnForm, DrawnKind
    from layout_gui.canvas.view import BedView
    from layout_gui.panels.findings import FindingsPanel
    from layout_gui.windows.hole_work import HoleWork
    from layout_gui.windows.looking import Looking

Part = Literal["drawer", "table", "arrange", "fields", "full screen"]

LEAVES: Final[dict[Part, str]] = {"drawer": "what-if", "table": "table", "arrange": "arrange"}
"""Which leaf of the drawer a part is."""


class Desk(Protocol):
    """What an action can reach."""

    document: Document
    selection: Selection
    files: Files
    things: Things
    keeping: Keeping
    arrivals: Arrivals
    view: BedView
    findings: FindingsPanel
    looking: Looking
    is_furnished: bool
    holes: HoleWork
    sighting: Sighting
    theme_choice: ThemeChoice
    language_choice: LanguageChoice

    def go_to(self, station: StationName) -> None:
        """Go to a station."""

    def set_units(self, unit: Unit) -> None:
        """Show lengths in another unit."""

    def set_theme(self, choice: ThemeChoice) -> None:
        """Change the colours of the window."""

    def set_language(self, choice: LanguageChoice) -> None:
        """Speak another language from the next start on."""

    def give_back(self) -> None:
        """Forget the hand edits of the bed that is shown."""

    def squeeze(self) -> None:
        """Search for more holes on a raft."""

    def stop(self) -> None:
        """Give up the plan that is being made and go back to the last one."""

    def export_comparison(self, kind: str) -> None:
        """Write the comparison to pages ("pdf") or to a table ("csv")."""

    def print_pages(self) -> None:
        """Print the pages of the document in sight."""

    @property
    def is_compared(self) -> bool:
        """Whether there is a comparison to write."""

    def give_crop(self) -> None:
        """Plant the selected rafts with another crop."""

    def next_bed(self, step: int) -> None:
        """Turn to the bed so many places further on."""

    def fold(self, part: Part) -> None:
        """Fold a part of the window away, or unfold it."""

    def is_open(self, part: Part) -> bool:
        """Tell whether a part of the window is unfolded."""

    def take_typed(self) -> None:
        """Take what stands typed in a field and is not entered yet."""

    def next_pane(self) -> None:
        """Move the keyboard to the next part of the window."""

    def guide(self) -> None:
        """Open the guide."""

    @property
    def text_percent(self) -> int:
        """How large text is, beside the size it has at first."""

    def set_text(self, percent: int) -> None:
        """Make all text of the window as large as this, beside the size it has at first."""

    def show_help(self, page: str) -> None:
        """Show a page of the help; without a name, what goes with what has the keyboard."""

    def describe(self) -> None:
        """Let the grower write down who drew the project up, its revision, and notes."""

    def show_machine(self) -> None:
        """Show the report about this machine."""

    def show_log(self) -> None:
        """Show what the program did."""

    def show_about(self) -> None:
        """Show what this program is."""

    def close(self) -> bool:
        """Close the window, asking about unsaved changes."""


def _always(_desk: Desk) -> bool:
    return True


def _has_bed(desk: Desk) -> bool:
    return bool(desk.document.project.beds)


def _has_holes(desk: Desk) -> bool:
    return bool(desk.selection.holes)


def _has_some(desk: Desk) -> bool:
    return bool(desk.selection.holes or desk.selection.rafts)


def _has_planting(desk: Desk) -> bool:
    return any(bed.planting is not None for bed in desk.document.project.beds)


def _is_planted(desk: Desk) -> bool:
    beds = [bed for bed in desk.document.project.beds if bed.name == desk.selection.bed]
    return any(bed.planting is not None for bed in beds)


def _has_hand_edits(desk: Desk) -> bool:
    beds = [bed for bed in desk.document.project.beds if bed.name == desk.selection.bed]
    return any(bed.planting and (bed.planting.pins or bed.planting.blanks) for bed in beds)


def _is_compared(desk: Desk) -> bool:
    return desk.is_compared


def _has_findings(desk: Desk) -> bool:
    return _has_bed(desk) and bool(desk.document.plan.findings)


def _has_picked_line(desk: Desk) -> bool:
    return _has_bed(desk) and desk.is_furnished and desk.view.aids.picked is not None


def _has_guide_lines(desk: Desk) -> bool:
    return any(line.bed == desk.selection.bed for line in desk.document.project.guide_lines)


def _has_picked(desk: Desk) -> bool:
    return bool(desk.selection.holes or desk.selection.rafts or desk.selection.thing)


def _has_several_beds(desk: Desk) -> bool:
    return len(desk.document.project.beds) > 1


def _has_saved_file(desk: Desk) -> bool:
    return desk.document.path is not None and desk.document.is_modified


@dataclass(frozen=True, slots=True)
class Row:
    """One action. A row with ``checked`` can be on or off; ``line`` draws a line above it.

    The keys of a row with ``on_canvas`` work while the keyboard is on the canvas, so that they may
    be plain letters.
    """

    id: str
    menu: str
    text: str
    do: Callable[[Desk], object]
    keys: str = ""
    enabled: Callable[[Desk], bool] = _always
    checked: Callable[[Desk], bool] | None = None
    line: bool = False
    tip: str = ""
    on_canvas: bool = False


def _unit_row(unit: Unit, text: str) -> Row:
    return Row(
        f"units-{unit}",
        "Bed",
        text,
        lambda desk: desk.set_units(unit),
        enabled=_has_bed,
        checked=lambda desk: desk.document.project.units == unit,
        line=unit == "mm",
        tip=mark("Only changes how lengths are shown and how a bare number is read"),
    )


def _theme_row(choice: ThemeChoice, text: str) -> Row:
    return Row(
        f"theme-{choice}",
        "View",
        text,
        lambda desk: desk.set_theme(choice),
        checked=lambda desk: desk.theme_choice == choice,
        line=choice == "system",
    )


def _text_row(percent: int, text: str) -> Row:
    return Row(
        f"text-{percent}",
        "View",
        text,
        lambda desk: desk.set_text(percent),
        checked=lambda desk: desk.text_percent == percent,
        line=percent == 100,
    )


def _language_row(choice: LanguageChoice, text: str) -> Row:
    return Row(
        f"language-{choice}",
        "View",
        text,
        lambda desk: desk.set_language(choice),
        checked=lambda desk: desk.language_choice == choice,
        line=choice == "desktop",
        tip=mark("From the next start on"),
    )


_STATION_TEXTS: Final[dict[StationName, str]] = {
    "Bed": mark("&1 Bed"),
    "Rafts": mark("&2 Rafts"),
    "Holes": mark("&3 Holes"),
    "Make": mark("&4 Make"),
    "Grow": mark("&5 Grow"),
}


def _canvas(desk: Desk) -> BedView:
    """Return the canvas, in sight: what draws on it is of no use behind the pages."""
    if desk.view.isHidden():
        desk.go_to("Bed")
    return desk.view


def _draw_row(kind: DrawnKind, form: DrawnForm, text: str, tip: str, keys: str = "") -> Row:
    return Row(
        f"draw-{kind}" if form == "rectangle" else f"draw-{kind}-{form}",
        "Draw",
        text,
        lambda desk: _canvas(desk).arm_draw(kind, form),
        keys,
        _is_planted if kind == "zone" else _has_bed,
        line=kind == "obstacle" and form == "rectangle",
        tip=tip,
    )


def _thing_row(name: str, text: str, do: Callable[[Desk], object], tip: str) -> Row:
    return Row(
        f"thing-{name}",
        "Draw",
        text,
        do,
        enabled=lambda desk: stands(desk.selection),
        line=name == "double",
        tip=tip,
    )


def _station_row(number: int, name: StationName) -> Row:
    return Row(
        f"go-{name}", "View", _STATION_TEXTS[name], lambda desk: desk.go_to(name), f"Ctrl+{number}"
    )


def _part_row(part: Part, text: str, keys: str) -> Row:
    return Row(
        f"part-{part}",
        "View",
        text,
        lambda desk: desk.fold(part),
        keys,
        checked=lambda desk: desk.is_open(part),
        line=part == "drawer",
    )


_PAGES: Final = (
    ("up", mark("Look further &up"), "PgUp", 0, 1),
    ("down", mark("Look further &down"), "PgDown", 0, -1),
    ("left", mark("Look further &left"), "Shift+PgUp", -1, 0),
    ("right", mark("Look further &right"), "Shift+PgDown", 1, 0),
)


def _page_row(name: str, text: str, keys: str, right: int, up: int) -> Row:
    return Row(
        f"look-{name}",
        "Bed",
        text,
        lambda desk: desk.view.look_further(right, up),
        keys,
        _has_bed,
        line=name == "up",
        on_canvas=True,
    )


def _order_row(order: str, text: str, tip: str = "", *, line: bool = False) -> Row:
    return Row(
        f"arrange-{order}",
        "Arrange",
        text,
        lambda desk: desk.holes.arrange(order),
        enabled=_has_holes,
        line=line,
        tip=tip,
    )


def _tool_row(tool: str, text: str, *, line: bool = False) -> Row:
    return Row(
        f"tool-{tool}",
        "Arrange",
        text,
        lambda desk: desk.holes.show_tool(tool),
        enabled=_has_holes,
        line=line,
        tip=mark("With typed numbers, shown before it is done"),
    )


def _pick_row(what: str, text: str, tip: str, *, needs_some: bool = True) -> Row:
    return Row(
        f"pick-{what}",
        "Select",
        text,
        lambda desk: desk.holes.pick(what),
        enabled=_has_some if needs_some else _has_planting,
        tip=tip,
    )


MENUS: Final = {
    "File": mark("&File"),
    "Edit": mark("&Edit"),
    "Draw": mark("&Draw"),
    "Bed": mark("&Bed"),
    "View": mark("&View"),
    "Help": mark("&Help"),
}
"""The menus with their words; a row names its menu by the key."""

SUBMENUS: Final = {
    "Arrange": ("Edit", mark("Arrange the &holes")),
    "Select": ("Edit", mark("S&elect more")),
}
"""Menus within a menu: which one, and their words there."""

_SUBMENU_WORDS: Final = tuple((name, words) for name, (_, words) in SUBMENUS.items())

ROWS: Final[tuple[Row, ...]] = (
    Row("new", "File", mark("&New project"), lambda desk: desk.files.new(), "Ctrl+N"),
    Row("open", "File", mark("&Open…"), lambda desk: desk.files.open(), "Ctrl+O"),
    Row(
        "new-window",
        "File",
        mark("New &window"),
        lambda desk: desk.arrivals.open_fresh(),
        "Ctrl+Shift+N",
        tip=mark("Opens another window, for another project"),
    ),
    Row(
        "save", "File", mark("&Save"), lambda desk: desk.files.save(), "Ctrl+S", _has_bed, line=True
    ),
    Row(
        "save-as",
        "File",
        mark("Save &as…"),
        lambda desk: desk.files.save_as(),
        "Ctrl+Shift+S",
        _has_bed,
    ),
    Row(
        "revert",
        "File",
        mark("&Go back to the saved file…"),
        lambda desk: desk.files.revert(),
        enabled=_has_saved_file,
    ),
    Row(
        "properties",
        "File",
        mark("About this &project…"),
        lambda desk: desk.describe(),
        enabled=_has_bed,
        tip=mark("Name, author, revision, date and notes; they stand on the pages"),
    ),
    Row(
        "earlier",
        "File",
        mark("The &version before…"),
        lambda desk: desk.files.bring_back(),
        enabled=lambda desk: desk.document.path is not None,
        tip=mark(
            "Brings back the file as it was before it was last opened and changed; an undo step"
        ),
    ),
    Row(
        "recovered",
        "File",
        mark("Recovered wor&k…"),
        lambda desk: desk.keeping.offer(),
        tip=mark("Shows what was not saved when the program last ended without being closed"),
    ),
    Row(
        "export",
        "File",
        mark("&Export for the workshop"),
        lambda desk: desk.go_to("Make"),
        "Ctrl+E",
        _has_bed,
        line=True,
        tip=mark("Shows the pages first, then writes templates, cut sheets and files for machines"),
    ),
    Row(
        "print",
        "File",
        mark("Pr&int the pages…"),
        lambda desk: desk.print_pages(),
        "Ctrl+P",
        _has_bed,
        tip=mark("Prints the pages that are ticked under Make, at true size"),
    ),
    Row(
        "compare-page",
        "File",
        mark("&Comparison as pages…"),
        lambda desk: desk.export_comparison("pdf"),
        enabled=_is_compared,
        tip=mark("Writes what stands under What if? to a PDF"),
    ),
    Row(
        "compare-table",
        "File",
        mark("Comparison as a &table…"),
        lambda desk: desk.export_comparison("csv"),
        enabled=_is_compared,
        tip=mark("Writes what stands under What if? to a table for a spreadsheet"),
    ),
    Row("quit", "File", mark("&Quit"), lambda desk: desk.close(), "Ctrl+Q", line=True),
    Row(
        "cut",
        "Edit",
        mark("C&ut the holes"),
        lambda desk: desk.holes.cut(),
        "Ctrl+X",
        _has_holes,
        line=True,
        tip=mark("Copies them and leaves them out"),
    ),
    Row(
        "copy",
        "Edit",
        mark("C&opy the holes"),
        lambda desk: desk.holes.copy(),
        "Ctrl+C",
        _has_holes,
        tip=mark("As rows of text, for this program and for spreadsheets"),
    ),
    Row(
        "paste",
        "Edit",
        mark("Paste at the pointe&r"),
        lambda desk: desk.holes.paste(),
        "Ctrl+V",
        _is_planted,
        tip=mark("In the table rows are pasted: one that names a hole moves it"),
    ),
    Row(
        "paste-in-place",
        "Edit",
        mark("Paste &in place"),
        lambda desk: desk.holes.paste_in_place(),
        "Ctrl+Shift+V",
        _is_planted,
        tip=mark("On the same rafts, where the holes were"),
    ),
    Row(
        "pin",
        "Edit",
        mark("&Pin or unpin the holes"),
        lambda desk: desk.view.toggle_pins(),
        "Ctrl+Shift+P",
        _has_holes,
        line=True,
        tip=mark("A pinned hole stays when the pattern changes"),
    ),
    Row(
        "leave-out",
        "Edit",
        mark("&Leave the holes out"),
        lambda desk: desk.view.delete_selected(),
        "Del",
        _has_holes,
    ),
    Row(
        "give-back",
        "Edit",
        mark("&Give all holes of the bed back to the pattern"),
        lambda desk: desk.give_back(),
        enabled=_has_hand_edits,
        tip=mark("Forgets every pinned hole and every site left out by hand"),
    ),
    _order_row("left", mark("Line up at the &left")),
    _order_row("right", mark("Line up at the &right")),
    _order_row("bottom", mark("Line up at the &bottom")),
    _order_row("top", mark("Line up at the &top")),
    _order_row("line-along", mark("In one line &along the bed")),
    _order_row("line-across", mark("In one line a&cross the bed")),
    _order_row("steps-along", mark("Equal &steps along"), line=True),
    _order_row("steps-across", mark("Equal steps acr&oss")),
    _order_row("foam-along", mark("Equal &foam along")),
    _order_row("foam-across", mark("E&qual foam across")),
    _tool_row("move", mark("Mo&ve by…"), line=True),
    _tool_row("step", mark("Set the st&ep…")),
    _tool_row("copy", mark("Co&py by…")),
    _tool_row("rows", mark("Rows and colum&ns…")),
    _tool_row("ring", mark("R&ing…")),
    _tool_row("mirror", mark("&Mirror…")),
    _tool_row("turn", mark("T&urn…")),
    Row(
        "raft-crop",
        "Edit",
        mark("Give the raft another &crop"),
        lambda desk: desk.give_crop(),
        enabled=lambda desk: bool(desk.selection.rafts) and _is_planted(desk),
        line=True,
        tip=mark("Makes a zone of the selected rafts"),
    ),
    Row(
        "squeeze",
        "Edit",
        mark("S&queeze in more holes…"),
        lambda desk: desk.squeeze(),
        enabled=_is_planted,
        tip=mark("Searches for free places that hold more holes than rows, on the selected raft"),
    ),
    Row(
        "select-all",
        "Edit",
        mark("Select &all holes"),
        lambda desk: desk.view.select_all(),
        "Ctrl+A",
        _has_planting,
        line=True,
    ),
    Row(
        "select-none",
        "Edit",
        mark("Select &nothing"),
        lambda desk: desk.selection.clear(),
        "Ctrl+Shift+A",
        _has_picked,
    ),
    _pick_row(
        "invert", mark("All &others"), mark("Selects what is not selected now"), needs_some=False
    ),
    _pick_row("size", mark("The same hole &size"), mark("All holes of the bed that are as large")),
    _pick_row("crop", mark("The same &crop"), mark("All holes of the bed with the same crop")),
    _pick_row(
        "design",
        mark("The same &raft design"),
        mark("All holes of the rafts that are drilled alike"),
    ),
    _pick_row(
        "pinned",
        mark("&Pinned ones only"),
        mark("The pinned ones of the selected holes, or of all holes"),
        needs_some=False,
    ),
    Row(
        "stop",
        "Edit",
        mark("S&top working it out"),
        lambda desk: desk.stop(),
        "Ctrl+.",
        lambda desk: desk.document.is_busy,
        line=True,
        tip=mark("Goes back to the last plan; Redo brings the change back"),
    ),
    Row(
        "add-hole",
        "Draw",
        mark("Add a &hole…"),
        lambda desk: _canvas(desk).arm_add_hole(),
        "Ins",
        _has_planting,
        tip=mark("Then click where it is to go; Escape takes it back"),
    ),
    Row(
        "draw-zone",
        "Draw",
        mark("Draw a &zone…"),
        lambda desk: _canvas(desk).arm_draw_zone(),
        "Ctrl+D",
        _is_planted,
        tip=mark("Then drag a rectangle over what is planted otherwise; Escape takes it back"),
    ),
    _draw_row(
        "zone",
        "round",
        mark("Zone, &round…"),
        mark("Then drag from its middle to its rim, or type how wide it is; Escape takes it back"),
    ),
    _draw_row(
        "zone",
        "corners",
        mark("Zone of any &corners…"),
        mark("Then click its corners one by one; Enter closes it, Escape takes it back"),
    ),
    _draw_row(
        "obstacle",
        "rectangle",
        mark("Draw an &obstacle…"),
        mark("Then drag a rectangle over what stands in the water; Escape takes it back"),
        "Ctrl+Shift+D",
    ),
    _draw_row(
        "obstacle",
        "round",
        mark("O&bstacle, round…"),
        mark("Then drag from its middle to its rim, or type how wide it is; Escape takes it back"),
    ),
    _draw_row(
        "obstacle",
        "corners",
        mark("Obstacle of any cor&ners…"),
        mark("Then click its corners one by one; Enter closes it, Escape takes it back"),
    ),
    Row(
        "draw-corner",
        "Draw",
        mark("Corner of the ou&tline…"),
        lambda desk: _canvas(desk).arm_add_corner(),
        enabled=_has_bed,
        tip=mark("Then click where the wall has another corner; Escape takes it back"),
    ),
    _thing_row(
        "double",
        mark("D&uplicate it"),
        lambda desk: desk.things.duplicate(),
        mark("Puts a copy beside the selected obstacle or zone"),
    ),
    _thing_row(
        "mirror-along",
        mark("Mirror it &left to right"),
        lambda desk: desk.things.mirror("along"),
        mark("Puts the selected obstacle or zone into the other end of the bed, mirrored"),
    ),
    _thing_row(
        "mirror-across",
        mark("Mirror it to&p to bottom"),
        lambda desk: desk.things.mirror("across"),
        mark("Puts the selected obstacle or zone onto the other side of the bed, mirrored"),
    ),
    _thing_row(
        "turn",
        mark("Turn it a &quarter"),
        lambda desk: desk.things.turn(),
        mark("Against the clock about its middle; any angle can be typed in its fields"),
    ),
    Row(
        "take-away",
        "Draw",
        mark("Take it a&way"),
        lambda desk: desk.things.remove(),
        enabled=lambda desk: desk.selection.thing is not None and not desk.selection.thing.is_joint,
        tip=mark("Takes out the selected obstacle, zone or corner"),
    ),
    Row(
        "measure",
        "Draw",
        mark("&Measure…"),
        lambda desk: desk.looking.measure(),
        "M",
        _has_bed,
        line=True,
        tip=mark("From place to place, hole to hole, hole to edge; stays until Escape"),
        on_canvas=True,
    ),
    Row(
        "guide-line",
        "Draw",
        mark("&Guide line…"),
        lambda desk: desk.looking.ask_guide_line(),
        "Ctrl+L",
        _has_bed,
        tip=mark("By a typed place, or drag one out of a ruler; moves the one that is picked"),
    ),
    Row(
        "next-guide-line",
        "Draw",
        mark("Ne&xt guide line"),
        lambda desk: desk.view.next_guide_line(),
        "L",
        _has_guide_lines,
        tip=mark("Picks one after the other for the arrow keys"),
        on_canvas=True,
    ),
    Row(
        "lock-guide-line",
        "Draw",
        mark("Loc&k the guide line"),
        lambda desk: desk.view.lock_guide_line(),
        enabled=_has_picked_line,
        checked=lambda desk: _has_picked_line(desk) and desk.looking.is_line_locked,
        tip=mark("A locked one stays where it is"),
    ),
    Row(
        "remove-guide-line",
        "Draw",
        mark("R&emove the guide line"),
        lambda desk: desk.view.delete_selected(),
        enabled=_has_picked_line,
        tip=mark("As Del does, or dragging it back into its ruler"),
    ),
    Row(
        "remove-guide-lines",
        "Draw",
        mark("Remove &all guide lines of the bed"),
        lambda desk: desk.looking.remove_guide_lines(),
        enabled=_has_guide_lines,
    ),
    Row("fit", "Bed", mark("&Whole bed"), lambda desk: desk.view.fit(), "Ctrl+B", _has_bed),
    Row(
        "fit-selection",
        "Bed",
        mark("Show what is &selected"),
        lambda desk: desk.view.fit_selection(),
        "Ctrl+Shift+B",
        _has_picked,
        tip=mark("Shows what is selected as large as it goes"),
    ),
    Row(
        "zoom-frame",
        "Bed",
        mark("&Zoom to a frame…"),
        lambda desk: desk.view.arm_frame(),
        "F",
        _has_bed,
        tip=mark("Then drag a frame around what to see; Escape takes it back"),
        on_canvas=True,
    ),
    Row("nearer", "Bed", mark("&Nearer"), lambda desk: desk.view.zoom_in(), "Ctrl++", _has_bed),
    Row("farther", "Bed", mark("&Farther"), lambda desk: desk.view.zoom_out(), "Ctrl+-", _has_bed),
    Row(
        "true-size",
        "Bed",
        mark("&True size"),
        lambda desk: desk.view.zoom_100(),
        "Ctrl+0",
        _has_bed,
    ),
    Row(
        "type-zoom",
        "Bed",
        mark("T&ype the zoom"),
        lambda desk: desk.looking.type_zoom(),
        "Ctrl+J",
        _has_bed,
        tip=mark("150 %, or 1:5"),
    ),
    *(_page_row(*page) for page in _PAGES),
    Row(
        "bed-next",
        "Bed",
        mark("Ne&xt bed"),
        lambda desk: desk.next_bed(1),
        "Ctrl+PgDown",
        _has_several_beds,
        line=True,
    ),
    Row(
        "bed-before",
        "Bed",
        mark("&Bed before"),
        lambda desk: desk.next_bed(-1),
        "Ctrl+PgUp",
        _has_several_beds,
    ),
    _unit_row("mm", mark("In &millimetres")),
    _unit_row("cm", mark("In &centimetres")),
    _unit_row("in", mark("In &inches")),
    *(_station_row(number, name) for number, name in enumerate(STATIONS, start=1)),
    _part_row("drawer", mark("&What if?"), "F8"),
    _part_row("table", mark("Table of &holes"), "Shift+F8"),
    _part_row("arrange", mark("&Arrange holes"), "Ctrl+F8"),
    _part_row("fields", mark("&Fields and findings"), "F9"),
    _part_row("full screen", mark("F&ull screen"), "F11"),
    Row(
        "finding-next",
        "View",
        mark("Ne&xt finding"),
        lambda desk: desk.findings.step(1),
        "F4",
        _has_findings,
        line=True,
        tip=mark("Shows the place of one open finding after the other"),
    ),
    Row(
        "finding-before",
        "View",
        mark("Finding &before"),
        lambda desk: desk.findings.step(-1),
        "Shift+F4",
        _has_findings,
    ),
    Row(
        "next-sight",
        "View",
        mark("Another &view of this station"),
        lambda desk: desk.sighting.next_sight(),
        "F3",
        lambda desk: _has_bed(desk) and desk.sighting.has_more,
        tip=mark("From the side, week by week: as the bar above the bed says"),
    ),
    Row("next-pane", "View", mark("Next &part of the window"), lambda desk: desk.next_pane(), "F6"),
    Row(
        "snaps",
        "View",
        mark("S&nap to lines"),
        lambda desk: desk.looking.toggle_snaps(),
        "Shift+F7",
        checked=lambda desk: not desk.is_furnished or desk.view.aids.snaps,
        line=True,
        tip=mark("Holding Alt while dragging does without, too"),
    ),
    Row(
        "grid",
        "View",
        mark("Gr&id"),
        lambda desk: desk.looking.toggle_grid(),
        "F7",
        _has_bed,
        checked=lambda desk: desk.is_furnished and desk.view.aids.has_grid,
    ),
    Row(
        "grid-step",
        "View",
        mark("Grid &spacing…"),
        lambda desk: desk.looking.ask_grid(),
        enabled=_has_bed,
        tip=mark("How far the lines of the grid are apart"),
    ),
    Row(
        "zero",
        "View",
        mark("Where the &rulers begin…"),
        lambda desk: desk.looking.ask_zero(),
        enabled=_has_bed,
        tip=mark("Or drag from the corner where the rulers meet"),
    ),
    Row(
        "zero-back",
        "View",
        mark("Rulers from the bed's &corner"),
        lambda desk: desk.looking.reset_zero(),
        enabled=lambda desk: desk.is_furnished and desk.looking.has_zero(),
    ),
    _theme_row("system", mark("Colours of the &desktop")),
    _theme_row("light", mark("&Light colours")),
    _theme_row("dark", mark("Dar&k colours")),
    _theme_row("contrast", mark("High c&ontrast")),
    _text_row(100, mark("&Text as usual")),
    _text_row(125, mark("Text larger by a &quarter")),
    _text_row(150, mark("Text larger b&y half")),
    _text_row(200, mark("Text si&ze doubled")),
    _language_row("desktop", mark("Lan&guage of the desktop")),
    # Every language is named in itself, so that it is found by those who read no other.
    _language_row("en", "&English"),
    _language_row("es", "Espa&ñol"),
    Row(
        "guide",
        "Help",
        mark("&Guide…"),
        lambda desk: desk.guide(),
        tip=mark("A few questions, from the measured bed to its holes; goes on where you left it"),
    ),
    Row(
        "help",
        "Help",
        mark("&Help for this"),
        lambda desk: desk.show_help(""),
        "F1",
        line=True,
        tip=mark("What the help says about whatever has the keyboard"),
    ),
    Row(
        "help-walk",
        "Help",
        mark("From tape measure to &drilled raft"),
        lambda desk: desk.show_help("walk"),
    ),
    Row(
        "help-print",
        "Help",
        mark("&Printing at true size"),
        lambda desk: desk.show_help("printing"),
    ),
    Row("help-safety", "Help", mark("&Safety"), lambda desk: desk.show_help("safety")),
    Row("keys", "Help", mark("&Keys"), lambda desk: desk.show_help("keys"), "Ctrl+F1"),
    Row(
        "log",
        "Help",
        mark("Show the &log…"),
        lambda desk: desk.show_log(),
        line=True,
        tip=mark("What the program did, for the day something goes wrong"),
    ),
    Row(
        "machine",
        "Help",
        mark("&Report about this machine…"),
        lambda desk: desk.show_machine(),
        tip=mark("Versions, screens and language, to be copied for whoever helps"),
    ),
    Row("about", "Help", mark("&About"), lambda desk: desk.show_about()),
)

TOOLS: Final = ("add-hole", "draw-zone", "draw-obstacle", "measure", "guide-line")
"""What stands on the strip above the canvas."""

ARMING: Final = (
    *(r.id for r in ROWS if r.menu == "Draw" and r.text.endswith("…") and r.id != "guide-line"),
    "zoom-frame",
)
"""What takes a tool in hand; a guide line is typed in a dialog or pulled out of a ruler."""

TABLE_MENU: Final = ("cut", "copy", "paste", "leave-out", "pin", "part-arrange")
"""What the right button offers in the table of holes."""

CANVAS_KEYS: Final[tuple[tuple[str, str, str], ...]] = (
    (mark("On the bed"), mark("Move the selected holes by 1 mm or 1/16 in"), mark("Arrow keys")),
    (mark("On the bed"), mark("Ten times as far, a tenth as far"), mark("Shift, Ctrl")),
    (
        mark("On the bed"),
        mark("Type a size while dragging or drawing, then the next"),
        mark("0 to 9, Tab or x"),
    ),
    (
        mark("On the bed"),
        mark("Copy the selected holes instead of moving them"),
        mark("Ctrl, drag"),
    ),
    (mark("In the table"), mark("Type x or y, of all selected rows at once"), mark("Enter, F2")),
    (mark("In the table"), mark("Take all rows that are shown"), mark("Ctrl+A")),
    (mark("On the bed"), mark("Next obstacle, zone, corner, joint"), mark("O, Z, C, J")),
    (
        mark("On the bed"),
        mark("Take a move back while dragging, put a tool away"),
        mark("Esc"),
    ),
    (mark("On the bed"), mark("Move the view where nothing is selected"), mark("Arrow keys")),
    (mark("On the bed"), mark("Drag the view"), mark("Space, middle button")),
    (mark("On the bed"), mark("Measuring: the next hole, the other end"), mark("Tab, Enter")),
    (mark("In a field"), mark("Step by 1 mm or 1/16 in"), mark("Up, Down")),
    (mark("In a field"), mark("Ten times as far, a tenth as far"), mark("Shift, Ctrl")),
    (mark("In a field"), mark("Bring the old value back"), mark("Esc")),
)
"""Keys that belong to a place instead of a menu."""


class Actions:
    """The actions of the rows, in their menus."""

    def __init__(self, desk: Desk, window: QWidget) -> None:
        self._desk = desk
        self.by_id: dict[str, QAction] = {}
        self.recent_menu = QMenu(tr("Open &recent"), window)
        self.recent_menu.aboutToShow.connect(self._grey_what_is_gone)
        self.sample_menu = QMenu(tr("Look at a sa&mple"), window)
        self.on_canvas: list[QAction] = []
        """Actions whose keys work on the canvas only; it takes them when it is made."""

        for row in ROWS:
            self.by_id[row.id] = self._make(row, window)
        stack = desk.document.undo_stack
        for name, action, keys in (
            ("undo", stack.createUndoAction(window, tr("Undo")), "Ctrl+Z"),
            ("redo", stack.createRedoAction(window, tr("Redo")), "Ctrl+Y; Ctrl+Shift+Z"),
        ):
            action.setShortcuts(QKeySequence.listFromString(keys))
            window.addAction(action)
            self.by_id[name] = action

    def refresh(self) -> None:
        """Say again which actions may be done and which are on."""
        for row in ROWS:
            action = self.by_id[row.id]
            action.setEnabled(row.enabled(self._desk))
            if row.checked is not None:
                action.setChecked(row.checked(self._desk))

    def fill(self, bar: QMenuBar) -> None:
        """Put every action into its menu."""
        menus = {name: bar.addMenu(tr(words)) for name, words in MENUS.items()}
        menus["Edit"].addAction(self.by_id["undo"])
        menus["Edit"].addAction(self.by_id["redo"])
        for row in ROWS:
            if row.menu in SUBMENUS and row.menu not in menus:
                parent, title = SUBMENUS[row.menu]
                menus[row.menu] = menus[parent].addMenu(tr(title))
            if row.line:
                menus[row.menu].addSeparator()
            menus[row.menu].addAction(self.by_id[row.id])
            if row.id == "open":
                menus[row.menu].addMenu(self.recent_menu)
                menus[row.menu].addMenu(self.sample_menu)

    def offer_samples(self, samples: Sequence[tuple[str, Path]]) -> None:
        """Offer the projects that came with the program."""
        for name, path in samples:
            action = self.sample_menu.addAction(name)
            action.triggered.connect(partial(self._open_sample, path))

    def _open_sample(self, path: Path) -> None:
        self._desk.files.open_sample(path)

    def show_recent(self, paths: Sequence[Path]) -> None:
        """Offer the files opened last; those that are gone are greyed."""
        self.recent_menu.clear()
        for path in paths:
            action = self.recent_menu.addAction(f"{path.name}   {path.parent}")
            action.setData(str(path))
            action.setEnabled(path.is_file())
            action.triggered.connect(lambda _on, path=path: self._desk.files.open_path(path))
        self.recent_menu.addSeparator()
        clear = self.recent_menu.addAction(tr("&Clear this list"))
        clear.triggered.connect(self._desk.files.forget_recent)
        self.recent_menu.setEnabled(bool(paths))

    def _grey_what_is_gone(self) -> None:
        for action in self.recent_menu.actions():
            path = action.data()
            if isinstance(path, str):
                action.setEnabled(Path(path).is_file())

    def key_rows(self) -> tuple[tuple[str, str, str], ...]:
        """Return the keys of all actions and places: where, what, keys."""
        listed = [("Edit", tr("Undo"), "Ctrl+Z"), ("Edit", tr("Redo"), "Ctrl+Y, Ctrl+Shift+Z")]
        listed += [(row.menu, _plain(tr(row.text)), row.keys) for row in ROWS if row.keys]
        ordered = [
            (_plain(tr(words)), what, keys)
            for menu, words in (*MENUS.items(), *_SUBMENU_WORDS)
            for place, what, keys in listed
            if place == menu
        ]
        places = [(tr(where), tr(what), tr(keys)) for where, what, keys in CANVAS_KEYS]
        return (*ordered, *places)

    def _make(self, row: Row, window: QWidget) -> QAction:
        action = QAction(tr(row.text), window)
        action.setObjectName(row.id)
        action.setCheckable(row.checked is not None)
        if row.keys:
            action.setShortcut(QKeySequence(row.keys))
        keys = f" ({row.keys})" if row.keys else ""
        action.setToolTip(f"{tr(row.tip) or _plain(tr(row.text))}{keys}")
        action.triggered.connect(lambda: self._do(row))
        if row.on_canvas:
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
            self.on_canvas.append(action)
        else:
            window.addAction(action)
        return action

    def _do(self, row: Row) -> None:
        if row.menu == "File":  # what is saved, left or written out is all that stands there
            self._desk.take_typed()
        row.do(self._desk)
        self.refresh()


def _plain(text: str) -> str:
    return text.replace("&", "").rstrip("…")
