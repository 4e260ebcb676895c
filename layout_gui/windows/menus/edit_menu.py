"""What stands in the menu Edit, with lining up and selecting."""

from typing import Final

from geometry.tongue import mark
from layout_gui.windows.menus.conditions import (
    has_bed,
    has_hand_edits,
    has_holes,
    has_picked,
    has_planting,
    has_some,
    is_planted,
)
from layout_gui.windows.menus.row import Row


def _order_row(order: str, text: str, tip: str = "", *, line: bool = False) -> Row:
    return Row(
        f"arrange-{order}",
        "Arrange",
        text,
        lambda desk: desk.holes.arrange(order),
        enabled=has_holes,
        line=line,
        tip=tip,
    )


def _tool_row(tool: str, text: str, *, line: bool = False) -> Row:
    return Row(
        f"tool-{tool}",
        "Arrange",
        text,
        lambda desk: desk.holes.show_tool(tool),
        enabled=has_holes,
        line=line,
        tip=mark("With typed numbers, shown before it is done"),
    )


def _pick_row(what: str, text: str, tip: str, *, needs_some: bool = True) -> Row:
    return Row(
        f"pick-{what}",
        "Select",
        text,
        lambda desk: desk.holes.pick(what),
        enabled=has_some if needs_some else has_planting,
        tip=tip,
    )


ROWS: Final[tuple[Row, ...]] = (
    Row(
        "cut",
        "Edit",
        mark("C&ut the holes"),
        lambda desk: desk.holes.cut(),
        "Ctrl+X",
        has_holes,
        line=True,
        tip=mark("Copies them and leaves them out"),
    ),
    Row(
        "copy",
        "Edit",
        mark("C&opy the holes"),
        lambda desk: desk.holes.copy(),
        "Ctrl+C",
        has_holes,
        tip=mark("As rows of text, for this program and for spreadsheets"),
    ),
    Row(
        "paste",
        "Edit",
        mark("Paste at the pointe&r"),
        lambda desk: desk.holes.paste(),
        "Ctrl+V",
        is_planted,
        tip=mark("In the table rows are pasted: one that names a hole moves it"),
    ),
    Row(
        "paste-in-place",
        "Edit",
        mark("Paste &in place"),
        lambda desk: desk.holes.paste_in_place(),
        "Ctrl+Shift+V",
        is_planted,
        tip=mark("On the same rafts, where the holes were"),
    ),
    Row(
        "copy-bed",
        "Edit",
        mark("Copy the whole &bed"),
        lambda desk: desk.bed_work.copy(),
        enabled=has_bed,
        line=True,
        tip=mark("With its rafts, holes, zones and obstacles, for this window or another"),
    ),
    Row(
        "paste-bed",
        "Edit",
        mark("Paste a be&d"),
        lambda desk: desk.bed_work.paste(),
        tip=mark("Adds the bed that was copied here or in another window"),
    ),
    Row(
        "pin",
        "Edit",
        mark("&Pin or unpin the holes"),
        lambda desk: desk.view.toggle_pins(),
        "Ctrl+Shift+P",
        has_holes,
        line=True,
        tip=mark("A pinned hole stays when the pattern changes"),
    ),
    Row(
        "leave-out",
        "Edit",
        mark("&Leave the holes out"),
        lambda desk: desk.view.delete_selected(),
        "Del",
        has_holes,
    ),
    Row(
        "give-back",
        "Edit",
        mark("&Give all holes of the bed back to the pattern"),
        lambda desk: desk.give_back(),
        enabled=has_hand_edits,
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
        enabled=lambda desk: bool(desk.selection.rafts) and is_planted(desk),
        line=True,
        tip=mark("Makes a zone of the selected rafts"),
    ),
    Row(
        "squeeze",
        "Edit",
        mark("S&queeze in more holes…"),
        lambda desk: desk.squeeze(),
        enabled=is_planted,
        tip=mark("Searches for free places that hold more holes than rows, on the selected raft"),
    ),
    Row(
        "select-all",
        "Edit",
        mark("Select &all holes"),
        lambda desk: desk.view.select_all(),
        "Ctrl+A",
        has_planting,
        line=True,
    ),
    Row(
        "select-none",
        "Edit",
        mark("Select &nothing"),
        lambda desk: desk.selection.clear(),
        "Ctrl+Shift+A",
        has_picked,
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
)
