"""What stands in the menu Bed: how it is looked at, and in which unit."""

from typing import Final

from geometry.tongue import mark
from geometry.units import Unit
from layout_gui.windows.menus.conditions import has_bed, has_picked, has_several_beds
from layout_gui.windows.menus.row import Row


def _unit_row(unit: Unit, text: str) -> Row:
    return Row(
        f"units-{unit}",
        "Bed",
        text,
        lambda desk: desk.set_units(unit),
        checked=lambda desk: desk.units == unit,
        line=unit == "mm",
        tip=mark("Only changes how lengths are shown and how a bare number is read"),
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
        has_bed,
        line=name == "up",
        on_canvas=True,
    )


ROWS: Final[tuple[Row, ...]] = (
    Row("fit", "Bed", mark("&Whole bed"), lambda desk: desk.view.fit(), "Ctrl+B", has_bed),
    Row(
        "fit-selection",
        "Bed",
        mark("Show what is &selected"),
        lambda desk: desk.view.fit_selection(),
        "Ctrl+Shift+B",
        has_picked,
        tip=mark("Shows what is selected as large as it goes"),
    ),
    Row(
        "zoom-frame",
        "Bed",
        mark("&Zoom to a frame…"),
        lambda desk: desk.view.arm_frame(),
        "F",
        has_bed,
        tip=mark("Then drag a frame around what to see; Escape takes it back"),
        on_canvas=True,
    ),
    Row("nearer", "Bed", mark("&Nearer"), lambda desk: desk.view.zoom_in(), "Ctrl++", has_bed),
    Row("farther", "Bed", mark("&Farther"), lambda desk: desk.view.zoom_out(), "Ctrl+-", has_bed),
    Row(
        "true-size",
        "Bed",
        mark("&True size"),
        lambda desk: desk.view.zoom_100(),
        "Ctrl+0",
        has_bed,
    ),
    Row(
        "type-zoom",
        "Bed",
        mark("T&ype the zoom"),
        lambda desk: desk.looking.type_zoom(),
        "Ctrl+J",
        has_bed,
        tip=mark("150 %, or 1:5"),
    ),
    *(_page_row(*page) for page in _PAGES),
    Row(
        "small-bed",
        "Bed",
        mark("Whole bed in the c&orner"),
        lambda desk: desk.looking.toggle_small_bed(),
        "W",
        has_bed,
        checked=lambda desk: desk.is_furnished and desk.view.aids.has_small_bed,
        tip=mark("In small, with the part in sight, when you come nearer; drag in it to go there"),
        on_canvas=True,
    ),
    Row(
        "hide",
        "Bed",
        mark("&Hide the rafts"),
        lambda desk: desk.looking.hide_rafts(),
        "H",
        lambda desk: bool(desk.selection.rafts),
        line=True,
        tip=mark("The selected ones, until the project is closed; nothing about them changes"),
        on_canvas=True,
    ),
    Row(
        "show-all",
        "Bed",
        mark("Show &all rafts"),
        lambda desk: desk.looking.show_rafts(),
        "Shift+H",
        lambda desk: desk.is_furnished and desk.looking.has_hidden,
        tip=mark("Those that are hidden, too"),
        on_canvas=True,
    ),
    Row(
        "bed-next",
        "Bed",
        mark("Ne&xt bed"),
        lambda desk: desk.next_bed(1),
        "Ctrl+PgDown",
        has_several_beds,
        line=True,
    ),
    Row(
        "bed-before",
        "Bed",
        mark("&Bed before"),
        lambda desk: desk.next_bed(-1),
        "Ctrl+PgUp",
        has_several_beds,
    ),
    _unit_row("mm", mark("In &millimetres")),
    _unit_row("cm", mark("In &centimetres")),
    _unit_row("in", mark("In &inches")),
)
