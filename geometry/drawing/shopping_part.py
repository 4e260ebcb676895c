"""The shopping list: what the plan takes, what to buy of it, and what that was reckoned with."""

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from math import ceil
from typing import Final

from geometry.drawing.figures import by_text, diameter_text, length_text
from geometry.drawing.flow import Part, Row, gap, heading, row_width, words
from geometry.drawing.lettering import clipped, fitting_height, line
from geometry.drawing.marks import Anchor, Box, Mark, frame, stroke
from geometry.drawing.paper import Paper
from geometry.drawing.styles import Style
from geometry.model.curves import Point
from geometry.model.sheet import Sheet
from geometry.model.supplies import LITRES_PER_GALLON, Coverage
from geometry.plan import Plan
from geometry.shopping import (
    SAME_SAW_MM,
    USUAL_THICKNESS,
    Item,
    Kind,
    Shopping,
    rounded_up,
    shopping_list,
)
from geometry.tongue import listed, mark, number, plural, tr, tr_n
from geometry.units import MM_PER, Unit, format_area

_TEXT_MM: Final = 3.6
_ITEM_MM: Final = 4.4
_SMALL_MM: Final = 3.2
_BOX_MM: Final = 5.0
_NAME_MM: Final = 9.0
_TAKES_MM: Final = 116.0
_SPARES_MM: Final = 143.0
_BUY_MM: Final = 149.0
"""Where the columns begin, or end if their figures stand on the right."""
_FINE: Final = Fraction(1, 10)


def shopping_part(plan: Plan, paper: Paper) -> Part:
    """Compose the list and what it was reckoned with."""
    return Part(
        tr("Shopping list"),
        tr("{name}: what the plan takes, and what to buy", name=clipped(plan.project.name)),
        tuple(_rows(plan, shopping_list(plan), row_width(paper))),
        bookmark=tr("Shopping list"),
    )


def _rows(plan: Plan, shopping: Shopping, room: float) -> Iterator[Row]:
    unit = plan.project.units
    if not shopping.items:
        yield words(tr("There are no rafts yet, so there is nothing to buy."), room)
        return
    yield from shopping_rows(plan, shopping, room)
    yield gap(1)
    if cost := shopping.cost:
        yield words(_cost_words(shopping, cost), room, height=_TEXT_MM)
    yield gap()
    yield heading(tr("What this was reckoned with"))
    for text in _assumptions(plan, shopping, unit):
        yield words(text, room, height=_TEXT_MM)


def shopping_rows(plan: Plan, shopping: Shopping, room: float) -> tuple[Row, ...]:
    """Make the list itself, a box to tick before each thing that is bought."""
    unit, sheets = plan.project.units, {sheet.name: sheet for sheet in plan.project.sheets}
    header = _header(room)
    return (
        header,
        *(_item_row(item, unit, sheets.get(item.name), room, header) for item in shopping.items),
    )


def _header(room: float) -> Row:
    heads: tuple[tuple[float, Anchor, str, float], ...] = (
        (_NAME_MM, "left", tr("thing"), 50),
        (_TAKES_MM, "right", tr("the plan takes"), 34),
        (_SPARES_MM, "right", tr("with spares"), 25),
        (_BUY_MM, "left", tr("to buy"), room - _BUY_MM),
    )

    def draw(left: float, top: float) -> Iterator[Mark]:
        for at, anchor, text, wide in heads:
            size = fitting_height(text, _TEXT_MM, wide, bold=True)
            yield line(
                left + at, top - _TEXT_MM * 1.1, text, size, style=Style.TITLE, anchor=anchor,
                room=wide,
            )  # fmt: skip
        low = top - _TEXT_MM * 1.7
        yield stroke(Point(left, low), Point(left + room, low), Style.FRAME)

    return Row(_TEXT_MM * 1.7 + 0.6, draw, keeps=True)


def _item_row(item: Item, unit: Unit, sheet: Sheet | None, room: float, header: Row) -> Row:
    name, detail = item_words(item), _detail(item, unit, sheet)
    cost = _money_words(item)
    buy = buy_text(item, unit)
    small = bool(detail or cost)
    height = _ITEM_MM + (_SMALL_MM * 1.5 if small else 0) + 4.0

    def draw(left: float, top: float) -> Iterator[Mark]:
        at = top - _ITEM_MM - 0.6
        if not item.is_there:
            high = at - 0.5
            yield frame(Box(left, high, left + _BOX_MM, high + _BOX_MM), Style.FRAME)
        wide = _TAKES_MM - 26 - _NAME_MM
        yield line(left + _NAME_MM, at, name, fitting_height(name, _ITEM_MM, wide), room=wide)
        takes = amount_text(item, item.needed, unit)
        yield line(left + _TAKES_MM, at, takes, _ITEM_MM, anchor="right")
        if item.wanted != item.needed:
            wanted = amount_text(item, item.wanted, unit)
            yield line(left + _SPARES_MM, at, wanted, _ITEM_MM, anchor="right")
        end = room - _BUY_MM
        yield line(
            left + _BUY_MM, at, buy, fitting_height(buy, _ITEM_MM, end, bold=True),
            style=Style.TITLE, room=end,
        )  # fmt: skip
        below = at - _SMALL_MM * 1.5
        if detail:
            yield line(left + _NAME_MM, below, detail, _SMALL_MM, room=_SPARES_MM - _NAME_MM)
        if cost:
            yield line(left + _BUY_MM, below, cost, _SMALL_MM, room=end)
        low = top - height + 0.8
        yield stroke(Point(left, low), Point(left + room, low), Style.RULE)

    return Row(height, draw, header=header)


def _detail(item: Item, unit: Unit, sheet: Sheet | None) -> str:
    """Say which kind of a thing is meant."""
    if sheet is not None and item.kind == "sheet":
        size = f"{by_text(sheet.length.exact, sheet.width.exact, unit)} {unit}"
        if sheet.thickness is None:
            return size
        thick = length_text(sheet.thickness.exact, unit)
        return tr("{size}, {thickness} thick", size=size, thickness=thick)
    if item.kind in {"seed", "starter"}:
        return tr("for one sowing, losses counted in")
    if item.size_mm is None:
        return ""
    size = diameter_text(float(item.size_mm), unit)
    if item.kind == "saw":
        return tr("{size} across", size=size)
    return tr("for holes of {size}", size=size)


def _money_words(item: Item) -> str:
    if item.is_there or item.price is None:
        return ""
    each = number(float(item.price), 2)
    if item.cost is None:
        return tr("{price} each", price=each)
    count = number(item.packs if item.packs is not None else int(item.bought), 0)
    cost = number(float(item.cost), 2)
    return f"{count} \N{MULTIPLICATION SIGN} {each} = {cost}"


_ITEM_WORDS: Final[dict[Kind, str]] = {
    "pot": mark("Net pots"),
    "plug": mark("Hole plugs"),
    "strip": mark("Seal strip for the gaps"),
    "paint": mark("Paint for both faces and edges"),
    "saw": mark("Hole saw"),
}


def item_words(item: Item) -> str:
    """Name a thing on the list."""
    if item.kind == "sheet":
        return tr("Foam: {name}", name=item.name)
    if item.kind == "seed":
        return tr("Seeds: {name}", name=item.name)
    if item.kind == "starter":
        return tr("Plugs to sow in: {name}", name=item.name)
    if item.kind == "pot" and item.name:
        return tr("Pots: {name}", name=item.name)
    return tr(_ITEM_WORDS[item.kind])


def amount_text(item: Item, amount: Fraction, unit: Unit, decimals: int = 2) -> str:
    """Write an amount as it is counted or measured: pieces, metres or feet, litres or gallons."""
    if item.measure == "pieces":
        return number(ceil(amount), 0)
    if item.measure == "mm":
        per, word = (MM_PER["ft"], "ft") if unit == "in" else (MM_PER["m"], "m")
    else:
        per, word = (LITRES_PER_GALLON, tr("US gal")) if unit == "in" else (Fraction(1), "L")
    return f"{number(float(amount / per), decimals)} {word}"


def buy_text(item: Item, unit: Unit) -> str:
    """Say what to ask for in the shop."""
    if item.is_there:
        return tr("on hand")
    if item.packs is None or item.pack is None:
        if item.measure == "pieces":
            return number(int(item.bought), 0)
        step = _step(item, unit)
        return amount_text(item, rounded_up(item.bought, step), unit, 1)
    pack = item.pack_typed or amount_text(item, item.pack, unit)
    match item.measure:
        case "pieces":
            return tr_n("{n} pack of {pack}", "{n} packs of {pack}", item.packs, pack=pack)
        case "mm":
            return tr_n("{n} roll of {pack}", "{n} rolls of {pack}", item.packs, pack=pack)
        case "litres":
            return tr_n("{n} tin of {pack}", "{n} tins of {pack}", item.packs, pack=pack)


def _step(item: Item, unit: Unit) -> Fraction:
    """A tenth of what the thing is measured in."""
    if item.measure == "mm":
        return (MM_PER["ft"] if unit == "in" else MM_PER["m"]) * _FINE
    return (LITRES_PER_GALLON if unit == "in" else 1) * _FINE


def _cost_words(shopping: Shopping, cost: Fraction) -> str:
    told = tr("Together {cost}.", cost=number(float(cost), 2))
    if not shopping.without_price:
        return told
    lacking = tr_n(
        "{n} thing has no price, or no pack that the price is for.",
        "{n} things have no price, or no pack that the price is for.",
        shopping.without_price,
    )
    return f"{told} {lacking}"


def _assumptions(plan: Plan, shopping: Shopping, unit: Unit) -> Iterator[str]:
    supplies = plan.project.supplies
    yield _holes_words(plan, shopping)
    if not plan.project.sheets:
        yield tr(
            "No sheet of foam is named yet. The rafts alone are {area}.",
            area=format_area(shopping.raft_area_mm2, unit),
        )
    if shopping.without_foam:
        yield tr(
            "No sheet on hand holds {rafts}; foam for them is not on this list.",
            rafts=plural(shopping.without_foam, "raft"),
        )
    if shopping.of("pot", "plug", "strip"):
        yield tr(
            "{spares} % spares are added to net pots, hole plugs and seal strip.",
            spares=supplies.spares,
        )
    for strip in shopping.of("strip"):
        yield tr(
            "Seal strip: {walls} once around the inside of each bed with a gap to the wall, and "
            "{joints} once along each joint.",
            walls=amount_text(strip, shopping.wall_mm, unit),
            joints=amount_text(strip, shopping.joint_mm, unit),
        )
    if shopping.of("paint"):
        yield _paint_words(plan, shopping, unit)
    yield from _saw_words(shopping, unit)
    yield tr(
        "Where you have not typed your own, spares, coats and how far paint goes are common "
        "practice, no source: see the tin, and type yours under Make."
    )
    yield tr(
        "Ask the makers whether foam, strip and paint may touch your water. Local rules on food "
        "and fish decide."
    )


def _holes_words(plan: Plan, shopping: Shopping) -> str:
    if not shopping.of("pot", "plug"):
        return tr("The plan has no holes yet.")
    plants = plural(shopping.plants, "hole", shown=number(shopping.plants, 0))
    counts: Counter[str] = Counter()
    for bed in plan.beds:
        for crop in bed.crops:
            counts[crop.crop] += crop.plants - crop.plugged
    crops = listed(
        tr(
            "{count} of {crop}",
            count=number(count, 0),
            crop=clipped(tr(crop)) if crop else tr("no crop named"),
        )
        for crop, count in counts.items()
        if count
    )
    plugs = sum(int(item.needed) for item in shopping.of("plug"))
    if plugs:
        return tr(
            "The plan has {holes}: {crops} in use now, and {plugs} plugged.",
            holes=plants, crops=crops, plugs=plugs,
        )  # fmt: skip
    return tr("The plan has {holes}: {crops}.", holes=plants, crops=crops)


def _paint_words(plan: Plan, shopping: Shopping, unit: Unit) -> str:
    supplies = plan.project.supplies
    paint = shopping.of("paint")[0]
    told = tr(
        "Paint covers {area}: both faces and all edges, holes not taken off. At {coverage} a coat "
        "takes {litres}; {coats}.",
        area=format_area(shopping.painted_mm2, unit),
        coverage=_coverage_words(supplies.paint.coverage, unit),
        litres=amount_text(paint, shopping.litres_a_coat, unit),
        coats=tr_n("{n} coat", "{n} coats", shopping.coats),
    )
    if shopping.thickness_known:
        return told
    known = [sheet.thickness for sheet in plan.project.sheets if sheet.thickness is not None]
    usual = max(known, key=lambda each: each.exact, default=USUAL_THICKNESS)
    thick = tr(
        "Foam of unknown thickness counts as {thickness}.",
        thickness=length_text(usual.exact, unit),
    )
    return f"{told} {thick}"


def _coverage_words(coverage: Coverage, unit: Unit) -> str:
    """Say how far paint goes, to three figures."""
    if unit != "in":
        return f"{number(float(f'{float(coverage.m2_per_litre):.3g}'))} m²/L"
    per = coverage.m2_per_litre * LITRES_PER_GALLON * 10**6 / MM_PER["ft"] ** 2
    return tr("{area} ft²/US gal", area=number(float(f"{float(per):.3g}")))


def _saw_words(shopping: Shopping, unit: Unit) -> Iterator[str]:
    if shopping.own_saws:
        yield tr(
            "Saws you have: {saws}. A saw counts as fitting when it is no more than {near} mm "
            "off the hole.",
            saws=listed(
                tr(
                    "{saw} for {holes}",
                    saw=length_text(saw.saw.exact, unit),
                    holes=plural(saw.holes, "hole"),
                )
                for saw in shopping.own_saws
            ),
            near=number(float(SAME_SAW_MM)),
        )
    elif shopping.of("saw"):
        yield tr("No saw of your own is noted under Make: cross out what you have.")
