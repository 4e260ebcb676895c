"""Zones: parts of a bed that are planted otherwise than the rest."""

from collections.abc import Iterable
from dataclasses import dataclass, field, fields, replace
from typing import Any

from geometry.model.outlines import Outline
from geometry.model.planting import Direction, InUse, Pattern, Planting
from geometry.units import Length


@dataclass(frozen=True, slots=True)
class ZoneRules:
    """What a zone decides by itself; what is None is as in the bed's planting."""

    crop: str | None = None
    pattern: Pattern | None = None
    rows: Direction | None = None
    spacing: Length | None = None
    row_spacing: Length | None = None
    edge_margin: Length | None = None
    web: Length | None = None
    hole_diameter: Length | None = None
    spread: bool | None = None
    in_use: InUse | None = None
    pot: str | None = None


@dataclass(frozen=True, slots=True)
class Zone:
    """An area of the bed, or whole rafts by name, with rules of its own.

    A zone has either a ``shape`` or ``rafts``. The shape stands in the bed as an obstacle's does:
    its box has its middle at ``centre`` or its lower left corner at ``corner``. It may reach over
    rafts, joints and walls; only what lies on rafts counts.
    """

    name: str
    rules: ZoneRules = field(default_factory=ZoneRules)
    shape: Outline | None = None
    centre: tuple[Length, Length] | None = None
    corner: tuple[Length, Length] | None = None
    rafts: tuple[str, ...] = ()


def zone_planting(zone: Zone, planting: Planting) -> Planting:
    """Return the rules of a zone in a bed with this planting, without the bed's hand edits."""
    own: dict[str, Any] = {each.name: getattr(zone.rules, each.name) for each in fields(ZoneRules)}
    given = {key: value for key, value in own.items() if value is not None}
    return replace(planting, pins=(), blanks=(), **given)


def all_plantings(planting: Planting, zones: Iterable[Zone]) -> tuple[Planting, ...]:
    """Return the bed's own planting and then that of each zone: holes name theirs by its place."""
    return (planting, *(zone_planting(zone, planting) for zone in zones))
