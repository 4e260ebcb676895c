"""What the shopping list goes by, as fields: own saws, packs and prices, spares, paint."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final

from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.model.project import Project
from geometry.model.supplies import (
    Supplies,
    coverage_text,
    parse_coverage,
    parse_volume,
    volume_text,
)
from geometry.tongue import mark, plural, tr, tr_n
from geometry.units import Unit, exact_text, parse_length
from layout_gui.document.document import Document
from layout_gui.panels.form import Field, Form
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Fold, label
from layout_gui.project.edits_supplies import set_supplies

_NOT_KNOWN: Final = mark("not known")
_PACK_HINT: Final = mark("Of a pack, or of one where the pack is not known")


class SuppliesPart(QWidget):
    """One quiet line that says what counts, and beneath it, when wanted, the fields."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.words = label("", "quiet")
        self.form = Form(_fields(), document)
        self.fold = Fold(tr("Own saws, packs and prices"), self.form)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(4)
        for part in (self.words, self.fold):
            box.addWidget(part)

    def show_now(self, now: Now) -> None:
        """Show what counts at this moment."""
        self.words.setText(supplies_words(now.project.supplies))
        self.form.show_now(now)


def supplies_words(supplies: Supplies) -> str:
    """Say in short what the shopping list goes by."""
    saws, coats = len(supplies.saws), supplies.paint.coats
    return tr(
        "{saws}; {spares} % spares; {coats}.",
        saws=tr("your own: {saws}", saws=plural(saws, "saw")) if saws else tr("no saws noted"),
        spares=supplies.spares,
        coats=tr_n("{n} coat of paint", "{n} coats of paint", coats) if coats else tr("no paint"),
    )


def _field(
    name: str,
    words: str,
    kind: Any,
    read: Callable[[Supplies, Unit], object],
    write: Callable[[Supplies, Any, Unit], Supplies],
    **more: Any,
) -> Field:
    def written(now: Now, value: Any) -> Project:
        made = write(now.project.supplies, value, now.project.units)
        return set_supplies(now.project, made)

    return Field(
        f"supplies-{name}",
        words,
        kind,
        read=lambda now: read(now.project.supplies, now.project.units),
        write=written,
        **more,
    )


def _part_field(part: str, key: str, words: str, kind: Any, **more: Any) -> Field:
    """Make the field of one value of one thing that is sold."""

    def write(supplies: Supplies, value: object, _unit: Unit) -> Supplies:
        inner: dict[str, Any] = {key: value}
        outer: dict[str, Any] = {part: replace(getattr(supplies, part), **inner)}
        return replace(supplies, **outer)

    return _field(
        f"{part}-{key}",
        words,
        kind,
        lambda supplies, _unit: getattr(getattr(supplies, part), key),
        write,
        **{"empty_means": _NOT_KNOWN, **more},
    )


def _write_saws(supplies: Supplies, text: str | None, unit: Unit) -> Supplies:
    parts = [part for part in (text or "").split(";") if part.strip()]
    return replace(supplies, saws=tuple(parse_length(part, unit) for part in parts))


def _write_tin(supplies: Supplies, text: str | None, unit: Unit) -> Supplies:
    tin = parse_volume(text, unit) if text else None
    return replace(supplies, paint=replace(supplies.paint, tin=tin))


def _write_coverage(supplies: Supplies, text: str | None, unit: Unit) -> Supplies:
    usual = Supplies().paint.coverage
    coverage = parse_coverage(text, unit) if text else usual
    return replace(supplies, paint=replace(supplies.paint, coverage=coverage))


def saws_field() -> Field:
    """Make the field of the hole saws that the grower has."""
    return _field(
        "saws",
        mark("Hole saws you have"),
        "text",
        lambda supplies, unit: "; ".join(exact_text(saw, unit) for saw in supplies.saws),
        _write_saws,
        empty_means=mark("none noted"),
        follows=lambda _now: tr("several with ; between"),
    )


def _fields() -> list[Field]:
    return [
        saws_field(),
        _field(
            "spares",
            mark("Spares in percent"),
            "count",
            lambda supplies, _unit: supplies.spares or None,
            lambda supplies, value, _unit: replace(supplies, spares=value or 0),
            empty_means=mark("none"),
            most=100,
            hint=mark("Added to net pots, hole plugs and seal strip"),
        ),
        _part_field("pots", "pack", mark("Net pots in a pack"), "count", most=10**6),
        _part_field("pots", "price", mark("Price of net pots"), "number", hint=_PACK_HINT),
        _part_field("plugs", "pack", mark("Hole plugs in a pack"), "count", most=10**6),
        _part_field("plugs", "price", mark("Price of hole plugs"), "number", hint=_PACK_HINT),
        _part_field("strip", "roll", mark("Roll of seal strip"), "length"),
        _part_field("strip", "price", mark("Price of a roll"), "number"),
        _field(
            "coats",
            mark("Coats of paint"),
            "count",
            lambda supplies, _unit: supplies.paint.coats or None,
            lambda supplies, value, _unit: replace(
                supplies, paint=replace(supplies.paint, coats=value or 0)
            ),
            empty_means=mark("not painted"),
            most=20,
        ),
        _field(
            "coverage",
            mark("Paint covers"),
            "text",
            lambda supplies, unit: coverage_text(supplies.paint.coverage, unit),
            _write_coverage,
            empty_means=mark("as usual"),
            hint=mark("As the tin says, such as 8 m2/L or 350 ft2/gal"),
        ),
        _field(
            "tin",
            mark("Tin of paint"),
            "text",
            lambda supplies, unit: supplies.paint.tin and volume_text(supplies.paint.tin, unit),
            _write_tin,
            empty_means=_NOT_KNOWN,
            hint=mark("What a tin holds, such as 2.5 L or 1 gal"),
        ),
        _part_field("paint", "price", mark("Price of a tin"), "number"),
    ]
