"""Crops kept for other projects. A project carries what it uses; this file only offers."""

from dataclasses import dataclass
from typing import Any, ClassVar

from geometry.crops.table import plain_name
from geometry.model.own_crop import OwnCrop
from geometry.tongue import tr, tr_n
from layout_gui.project.canonical import value_text
from layout_gui.project.kept_file import KeptFile
from layout_gui.project.schema_running import OwnCrop as Reader


@dataclass(frozen=True, slots=True)
class KeptCrops:
    """The crops of the file by name; ``trouble`` says what of it cannot be read."""

    crops: tuple[OwnCrop, ...] = ()
    trouble: str = ""


class CropFile(KeptFile[OwnCrop]):
    """The kept crops, each name once."""

    kind: ClassVar = "crops"

    def read(self) -> KeptCrops:
        """Return what can be read, and why something cannot."""
        return KeptCrops(*self._read())

    def keep(self, crop: OwnCrop) -> None:
        """Keep a crop, in the place of the one of its name.

        Raises:
            OSError: the system does not let us; the file is as it was.
        """
        self._change(lambda known: self._with(known, crop))

    def forget(self, name: str) -> None:
        """Keep a crop no longer; projects that took it have it still.

        Raises:
            OSError: the system does not let us; the file is as it was.
        """
        plain = plain_name(name)
        self._change(lambda known: (one for one in known if plain_name(one.name) != plain))

    def _build(self, row: Any) -> OwnCrop:
        return Reader.model_validate(row).build()

    def _text(self, thing: OwnCrop) -> str:
        return value_text(thing)

    def _same(self, one: OwnCrop, other: OwnCrop) -> bool:
        return plain_name(one.name) == plain_name(other.name)

    def _order(self, thing: OwnCrop) -> str:
        return plain_name(thing.name)

    def _damaged(self, file: str) -> str:
        return tr(
            "The crops you kept cannot be read: {file} is damaged. It is put aside before "
            "another one is kept.",
            file=file,
        )

    def _newer(self, file: str) -> str:
        return tr(
            "The crops you kept were written by a newer Raftwright: {file} is left alone. It "
            "is put aside before another one is kept.",
            file=file,
        )

    def _unreadable(self, number: int, file: str) -> str:
        return tr_n(
            "{n} crop in {file} cannot be read; the file is put aside before it changes.",
            "{n} crops in {file} cannot be read; the file is put aside before it changes.",
            number,
            file=file,
        )
