"""Crops that a grower keeps for other projects: a small file of this person on this machine.

A project carries what it uses; this file only offers. It is written whole or not at all, and what
cannot be read of it is told and put aside before anything is written.
"""

import json
import shutil
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Final

from geometry.crops.table import plain_name
from geometry.model.own_crop import OwnCrop
from geometry.tongue import tr, tr_n
from layout_gui.project.canonical import value_text
from layout_gui.project.faults import access_error
from layout_gui.project.printer_file import settings_folder
from layout_gui.project.schema_running import OwnCrop as Reader
from layout_gui.project.writing import replace_file

NAME: Final = "crops.json"
_FORMAT: Final = "raftwright crops"
_VERSION: Final = 1
_LARGEST: Final = 1_000_000
_MOST_ASIDE: Final = 1000


@dataclass(frozen=True, slots=True)
class KeptCrops:
    """The crops of the file by name; ``trouble`` says what of it cannot be read."""

    crops: tuple[OwnCrop, ...] = ()
    trouble: str = ""


class CropFile:
    """Reads and changes the file; each change begins with what stands in it at that moment."""

    def __init__(self, path: Path | None = None) -> None:
        self.path = path if path is not None else settings_folder() / NAME

    def read(self) -> KeptCrops:
        """Return what can be read, and why something cannot."""
        try:
            with self.path.open("rb") as stream:
                data = stream.read(_LARGEST + 1)
        except FileNotFoundError:
            return KeptCrops()
        except OSError as error:
            return KeptCrops(trouble=str(access_error(self.path, "read", error)))
        return _read(data, self.path.name)

    def keep(self, crop: OwnCrop) -> None:
        """Keep a crop, in the place of the one of its name.

        Raises:
            OSError: the system does not let us; the file is as it was.
        """
        self._change(lambda known: (*_without(known, crop.name), crop))

    def forget(self, name: str) -> None:
        """Keep a crop no longer; projects that took it have it still.

        Raises:
            OSError: the system does not let us; the file is as it was.
        """
        self._change(lambda known: _without(known, name))

    def _change(self, change: Callable[[tuple[OwnCrop, ...]], Iterable[OwnCrop]]) -> None:
        known = self.read()
        self.path.parent.mkdir(parents=True, exist_ok=True)
        if known.trouble:
            self._put_aside()
        crops = sorted(change(known.crops), key=lambda crop: plain_name(crop.name))
        rows = ",\n".join(f"    {value_text(crop)}" for crop in crops)
        head = f'{{\n  "format": "{_FORMAT}",\n  "version": {_VERSION},\n  "crops": [\n'
        replace_file(self.path, f"{head}{rows}\n  ]\n}}\n".encode())

    def _put_aside(self) -> None:
        """Copy the file under a name that nothing has."""
        for number in range(1, _MOST_ASIDE):
            aside = self.path.with_name(f"{self.path.stem}-unread-{number}.json")
            if not aside.exists():
                shutil.copyfile(self.path, aside)
                return


def _without(known: Iterable[OwnCrop], name: str) -> tuple[OwnCrop, ...]:
    return tuple(crop for crop in known if plain_name(crop.name) != plain_name(name))


def _read(data: bytes, name: str) -> KeptCrops:
    try:
        content = json.loads(data[:_LARGEST], parse_float=Decimal, parse_constant=Decimal)
        rows, version = list(content["crops"]), int(content["version"])
        is_ours = content["format"] == _FORMAT
    except (ValueError, TypeError, KeyError, ArithmeticError, RecursionError):
        is_ours, rows, version = False, [], 0
    if not is_ours:
        return KeptCrops(
            trouble=tr(
                "The crops you kept cannot be read: {file} is damaged. It is put aside before "
                "another one is kept.",
                file=name,
            )
        )
    if version > _VERSION:
        return KeptCrops(
            trouble=tr(
                "The crops you kept were written by a newer Raftwright: {file} is left alone. It "
                "is put aside before another one is kept.",
                file=name,
            )
        )
    crops: tuple[OwnCrop, ...] = ()
    bad = 0
    for row in rows:
        try:
            crop = Reader.model_validate(row).build()
        except (ValueError, ArithmeticError):
            bad += 1
        else:
            crops = (*_without(crops, crop.name), crop)
    trouble = tr_n(
        "{n} crop in {file} cannot be read; the file is put aside before it changes.",
        "{n} crops in {file} cannot be read; the file is put aside before it changes.",
        bad,
        file=name,
    )
    return KeptCrops(crops, trouble if bad else "")
