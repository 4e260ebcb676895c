"""What differs between two versions of a project, in a few words a line."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any, Final

from geometry.model.bed import Bed
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.tongue import mark, tr, tr_n

_MOST: Final = 6

_PROJECT: Final = (
    ("sheets", mark("the sheets")),
    ("cutting", mark("how sheets are cut")),
    ("choices", mark("the kept choices")),
    ("accepted", mark("findings left with a note")),
    ("growth", mark("leaf widths that were measured")),
    ("units", mark("the unit shown")),
    ("guide_lines", mark("guide lines")),
    ("growth", mark("measured leaf widths")),
    ("details", mark("author, revision, date or notes")),
    ("supplies", mark("what the shopping list goes by")),
    ("pots", mark("the pots")),
    ("crops", mark("crops of your own")),
    ("limits", mark("the limits")),
    ("allowances", mark("the allowances")),
    ("runs", mark("what is sown, and when")),
    ("log", mark("the log")),
    ("locks", mark("what is locked")),
)
_BED: Final = (
    ("outline", mark("outline")),
    ("clearance", mark("clearance")),
    ("joint_gap", mark("joint gap")),
    ("obstacles", mark("obstacles")),
    ("rafts", mark("rafts")),
    ("zones", mark("zones")),
    ("water", mark("water")),
    ("edge_seal", mark("edge seal")),
    ("pushed", mark("how rafts go through")),
)


def differences(before: Project, after: Project) -> tuple[str, ...]:
    """Return one line for each thing that is otherwise in ``after``; none if nothing is.

    At most six lines; beyond those the last one says how many more there are.
    """
    lines = list(_lines(before, after))
    if before != after and not lines:
        lines = [tr("other details of the project")]
    if len(lines) > _MOST:
        more = len(lines) - _MOST + 1
        lines[_MOST - 1 :] = [tr_n("{n} more difference", "{n} more differences", more)]
    return tuple(lines)


def _lines(before: Project, after: Project) -> Iterator[str]:
    if before.name != after.name:
        yield tr("the name: “{before}” became “{after}”", before=before.name, after=after.name)
    old = {bed.name: bed for bed in before.beds}
    new = {bed.name: bed for bed in after.beds}
    for name, bed in new.items():
        if name not in old:
            yield tr("bed “{name}” is new", name=name)
        elif old[name] != bed:
            parts = ", ".join(_bed_parts(old[name], bed))
            yield tr("bed “{name}”: {parts}", name=name, parts=parts)
    for name in old:
        if name not in new:
            yield tr("bed “{name}” is not in it", name=name)
    yield from _changed(before, after, _PROJECT)


def _bed_parts(before: Bed, after: Bed) -> Iterator[str]:
    yield from _changed(before, after, _BED)
    if before.planting != after.planting:
        yield _planting_words(before.planting, after.planting)


def _planting_words(before: Planting | None, after: Planting | None) -> str:
    if before is None or after is None:
        return tr("planting")
    if replace(before, pins=after.pins, blanks=after.blanks) == after:
        return tr("holes placed by hand")
    return tr("planting")


def _changed(before: Any, after: Any, named: tuple[tuple[str, str], ...]) -> Iterator[str]:
    get: Callable[[Any, str], object] = getattr
    for key, words in named:
        if get(before, key) != get(after, key):
            yield tr(words)
