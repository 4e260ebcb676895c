"""Files that come into a folder together: all of them, or none and everything as it was."""

import errno
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from types import TracebackType
from typing import Final, Self

from geometry.tongue import tr
from layout_gui.renaming import rename

_BENCH: Final = ".raftwright-"
_BEFORE: Final = "before"
_STALE_S: Final = 600


class HalfLandedError(OSError):
    """Some files are new and could not be taken back; the text says which."""


class Landing:
    """Finished files wait in a hidden folder beside their places until all of them are there.

    As a context it clears up after itself: the hidden folder goes, and so do folders that were made
    for files that never came.

    Raises:
        OSError: The folder cannot be made or written; it is the error's file name.
    """

    def __init__(self, out: Path) -> None:
        self._out = out
        self._parts: dict[Path, Path] = {}
        self._made: list[Path] = []
        try:
            self._made = _make_folders(out)
            self._bench = Path(tempfile.mkdtemp(prefix=_BENCH, dir=out))
        except OSError as error:
            self._drop_folders()
            raise _at(out, error) from error
        _sweep(out, self._bench)

    def __enter__(self) -> Self:
        """Begin."""
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _error: BaseException | None,
        _trace: TracebackType | None,
    ) -> None:  # fmt: skip
        """Clear up, whatever happened."""
        shutil.rmtree(self._bench, ignore_errors=True)
        self._drop_folders()

    @contextmanager
    def writing(self, name: str) -> Iterator[Path]:
        """Give the place where a file is to be written before all land.

        Raises:
            OSError: It cannot be written; its error's file name is the place it was meant for.
        """
        target = self._out / name
        part = self._parts[target] = self._bench / f"{len(self._parts)}.part"
        try:
            yield part
        except OSError as error:
            raise _at(target, error) from error

    def land(self) -> tuple[Path, ...]:
        """Put all files in their places; return these in the order of writing.

        Raises:
            OSError: One of them cannot be replaced; all others are as before.
            HalfLandedError: Nor could others be brought back.
        """
        done: dict[Path, Path | None] = {}
        target = self._out
        try:
            for target, part in self._parts.items():
                before = self._keep(target)
                try:
                    rename(part, target)
                except OSError:
                    if before is not None and not target.exists():
                        before.replace(target)
                    raise
                done[target] = before
        except OSError as error:
            left = _bring_back(done)
            if left:
                raise _half(left, [each for each in self._parts if each not in left]) from error
            raise _at(target, error) from error
        return tuple(self._parts)

    def _keep(self, target: Path) -> Path | None:
        """Keep what stands in a place, without taking it away where the system can do that."""
        if target.is_dir():
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(target))
        if not os.path.lexists(target):
            return None
        (self._bench / _BEFORE).mkdir(exist_ok=True)
        before = self._bench / _BEFORE / target.name
        try:
            os.link(target, before, follow_symlinks=False)
        except (OSError, NotImplementedError):  # some disks know no second name for a file
            rename(target, before)
        return before

    def _drop_folders(self) -> None:
        for folder in reversed(self._made):
            with suppress(OSError):  # files have come into it
                folder.rmdir()


@contextmanager
def whole_file(path: Path) -> Iterator[Path]:
    """Give the place where one file is to be written before it takes its own.

    Raises:
        OSError: It cannot be written; the error's file name is the place it was meant for.
    """
    part = path.with_name(f".{path.name}.part")
    try:
        yield part
        part.replace(path)
    except OSError as error:
        raise _at(path, error) from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)


def _make_folders(out: Path) -> list[Path]:
    """Make a folder and those it lies in; return those that were not there."""
    missing = [each for each in (*reversed(out.parents), out) if not each.exists()]
    out.mkdir(parents=True, exist_ok=True)
    return missing


def _bring_back(done: dict[Path, Path | None]) -> list[Path]:
    """Undo what was put in place; return where that could not be done."""
    left: list[Path] = []
    for target, before in reversed(done.items()):
        try:
            if before is None:
                target.unlink(missing_ok=True)
            else:
                rename(before, target)
        except OSError:
            left.append(target)
    return left[::-1]


def _sweep(out: Path, bench: Path) -> None:
    """Clear up after writing that was killed; a file that had lost its place gets it back."""
    with suppress(OSError):
        newest = bench.stat().st_mtime
        for other in out.glob(f"{_BENCH}*"):
            if other == bench or other.stat().st_mtime > newest - _STALE_S:
                continue
            for before in other.glob(f"{_BEFORE}/*"):
                if not os.path.lexists(out / before.name):
                    before.replace(out / before.name)
            shutil.rmtree(other, ignore_errors=True)


def _half(new: list[Path], old: list[Path]) -> HalfLandedError:
    return HalfLandedError(
        0,  # no number of the system: the words say it
        tr(
            "only some files could be replaced: {new} new, {old} as before",
            new=", ".join(each.name for each in new),
            old=", ".join(each.name for each in old),
        ),
        str(new[0].parent),
    )


def _at(place: Path, error: OSError) -> OSError:
    """Return the error of a hidden file as one of the place that it was meant for."""
    return OSError(error.errno or errno.EIO, error.strerror or str(error), str(place))
