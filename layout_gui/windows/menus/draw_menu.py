"""What stands in the menu Draw."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final  # noqa: TID251

from geometry.tongue import mark
from layout_gui.windows.desk import Desk
from layout_gui.windows.menus.conditions import (
    has_bed,
    has_guide_lines,
    has_picked_line,
    has_planting,
    is_planted,
)
from layout_gui.windows.menus.row import Row
from layout_gui.windows.things import stands

if TYPE_CHECKING:
    from layout_gui.canvas.thing_tools import DrawnForm, DrawnKind
    from layout_gui.canvas.view import BedView


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
        is_planted if kind == "zone" else has_bed,
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


ROWS: Final[tuple[Row, ...]] = (
    Row(
        "add-hole",
        "Draw",
        mark("Add a &hole…"),
        lambda desk: _canvas(desk).arm_add_hole(),
        "Ins",
        has_planting,
        tip=mark("Then click where it is to go; Escape takes it back"),
    ),
    Row(
        "draw-zone",
        "Draw",
        mark("Draw a &zone…"),
        lambda desk: _canvas(desk).arm_draw_zone(),
        "Ctrl+D",
        is_planted,
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
        enabled=has_bed,
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
        "lock",
        "Draw",
        mark("Lock &it"),
        lambda desk: desk.things.lock(),
        "Ctrl+K",
        lambda desk: desk.things.can_lock,
        checked=lambda desk: desk.things.is_locked,
        tip=mark("Keeps the selected rafts' holes, or an obstacle or zone, from being changed"),
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
        has_bed,
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
        has_bed,
        tip=mark("By a typed place, or drag one out of a ruler; moves the one that is picked"),
    ),
    Row(
        "next-guide-line",
        "Draw",
        mark("Ne&xt guide line"),
        lambda desk: desk.view.next_guide_line(),
        "L",
        has_guide_lines,
        tip=mark("Picks one after the other for the arrow keys"),
        on_canvas=True,
    ),
    Row(
        "lock-guide-line",
        "Draw",
        mark("Loc&k the guide line"),
        lambda desk: desk.view.lock_guide_line(),
        enabled=has_picked_line,
        checked=lambda desk: has_picked_line(desk) and desk.looking.is_line_locked,
        tip=mark("A locked one stays where it is"),
    ),
    Row(
        "remove-guide-line",
        "Draw",
        mark("R&emove the guide line"),
        lambda desk: desk.view.delete_selected(),
        enabled=has_picked_line,
        tip=mark("As Del does, or dragging it back into its ruler"),
    ),
    Row(
        "remove-guide-lines",
        "Draw",
        mark("Remove &all guide lines of the bed"),
        lambda desk: desk.looking.remove_guide_lines(),
        enabled=has_guide_lines,
    ),
)
