"""The shopping list as a table for other programs."""

import csv
from fractions import Fraction
from typing import Final, TextIO

from geometry.plan import Plan
from geometry.shopping import Item, shopping_list
from layout_gui.output.tables import plain

HEADER: Final = (
    "kind",
    "name",
    "size_mm",
    "measure",
    "needed",
    "with_spares",
    "pack",
    "packs",
    "to_buy",
    "on_hand",
    "price_each",
    "cost",
)
"""The columns of ``shopping.csv``, in order."""

_DECIMALS: Final = 6


def write_shopping(plan: Plan, stream: TextIO) -> None:
    """Write one row for each thing on the shopping list.

    ``measure`` says what ``needed``, ``with_spares``, ``pack`` and ``to_buy`` count: pieces, mm or
    litres. What is not known is empty. Names are guarded as in ``holes.csv``.
    """
    table = csv.writer(stream, lineterminator="\n")
    table.writerow(HEADER)
    table.writerows(_row(item) for item in shopping_list(plan).items)


def _row(item: Item) -> tuple[str, ...]:
    return (
        item.kind,
        plain(item.name),
        _number(item.size_mm),
        item.measure,
        _number(item.needed),
        _number(item.wanted),
        _number(item.pack),
        "" if item.packs is None else str(item.packs),
        _number(item.bought),
        "yes" if item.is_there else "no",
        _number(item.price),
        _number(item.cost),
    )


def _number(value: Fraction | None) -> str:
    """Write a number with a point and no idle zeros; nothing for what is not known."""
    if value is None:
        return ""
    text = f"{float(value):.{_DECIMALS}f}"
    return text.rstrip("0").rstrip(".")
