"""The fields of a pot, and which pot is chosen."""

from collections.abc import Callable
from typing import Any

from geometry.errors import GeometryError
from geometry.model.pot import Pot
from geometry.model.project import Project
from geometry.tongue import mark, tr
from geometry.units import ZERO, Length
from layout_gui.panels.form import Field, Options
from layout_gui.panels.now import Now
from layout_gui.panels.supplies_part import saws_field
from layout_gui.project import edits
from layout_gui.project.edits_pots import set_pot, set_wobble

Given = Callable[[Now], Pot | None]


def pot_options(now: Now) -> Options:
    """Offer no pot, and each pot of the project."""
    return (("", tr("none named")), *((pot.name, pot.name) for pot in now.project.pots))


def use_fields() -> list[Field]:
    """Make the fields of what is used: the pot of the bed, the saws, and how wide they drill."""
    return [
        Field(
            "pot", mark("Pot of the bed"), "choice",
            read=lambda now: now.planting.pot if now.planting else "",
            write=lambda now, name: edits.set_planting(
                now.project, now.bed.name if now.bed else "", pot=name
            ),
            options=pot_options,
        ),
        saws_field(),
        Field(
            "pot-wobble", mark("Holes come out wider by"), "length",
            read=lambda now: now.project.allowances.wobble,
            write=lambda now, wobble: set_wobble(now.project, wobble),
            hint=mark("Than the saw says, because it wobbles or the foam melts back; measure a "
            "test hole"),
        ),
    ]  # fmt: skip


def pot_fields(given: Given) -> list[Field]:
    """Make the fields of the pot that is given."""
    return [
        _field(given, "name", mark("Name"), "text"),
        _field(
            given, "rim", mark("Rim"), "length", empty_means=mark("no rim"),
            shown=lambda pot: not pot.collar.exact,
            hint=mark("Outside of the lip; empty for a plug"),
        ),
        _field(
            given, "collar", mark("Collar"), "length", empty_means=mark("no collar"),
            shown=lambda pot: not pot.rim.exact,
            hint=mark("Outside of the disc that lies on the raft and holds the plug"),
        ),
        _field(
            given, "collar_hole", mark("Hole of the collar"), "length",
            shown=lambda pot: bool(pot.collar.exact),
            hint=mark("A little narrower than the plug, so that it is held"),
        ),
        _field(
            given, "rim_height", mark("Rim height"), "length",
            empty_means=mark("not measured"),
            shown=lambda pot: bool(pot.rim.exact or pot.collar.exact),
            hint=mark("How thick the lip or the collar is"),
        ),
        _field(
            given, "body", mark("Body"), "length",
            hint=mark("Outside just below the rim, where it is widest"),
        ),
        _field(given, "foot", mark("Foot"), "length", hint=mark("Outside at the lower end")),
        _field(
            given, "depth", mark("Depth"), "length",
            hint=mark("From the underside of the rim or collar to the lower end"),
        ),
        _field(
            given, "grams", mark("Weight in grams"), "number", empty_means=mark("not weighed"),
            hint=mark("Wet, with its plug and a seedling"),
        ),
    ]  # fmt: skip


_LENGTHS_OR_NONE = frozenset({"rim", "collar", "rim_height"})


def _field(
    given: Given,
    key: str,
    words: str,
    kind: Any,
    *,
    shown: Callable[[Pot], bool] = lambda _pot: True,
    **more: Any,
) -> Field:
    def read(now: Now) -> object:
        value = getattr(_of(given, now), key)
        if isinstance(value, Length) and key in _LENGTHS_OR_NONE and not value.exact:
            return None
        return value

    def write(now: Now, value: object) -> Project:
        changes: dict[str, Any] = {
            key: ZERO if value is None and key in _LENGTHS_OR_NONE else value
        }
        return set_pot(now.project, _of(given, now).name, **changes)

    def is_shown(now: Now) -> bool:
        pot = given(now)
        return pot is not None and shown(pot)

    return Field(f"pot-{key}", words, kind, read=read, write=write, shown=is_shown, **more)


def _of(given: Given, now: Now) -> Pot:
    pot = given(now)
    if pot is None:
        raise GeometryError(tr("Choose a pot first."))
    return pot
