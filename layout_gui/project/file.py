"""Project files: read with every fault named, written whole or not at all."""

import difflib
import errno
import gc
import json
import os
import stat
from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any, Final

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from geometry.model.project import Project
from geometry.tongue import tr, tr_n
from layout_gui.project import schema, schema_parts
from layout_gui.project.bounds import project_faults
from layout_gui.project.canonical import project_text
from layout_gui.project.faults import Fault, ProjectFileError, access_error
from layout_gui.project.migrations import migrate
from layout_gui.project.writing import previous_of, replace_file

LARGEST_BYTES: Final = 64 * 2**20
DEEPEST: Final = 64
MOST_DIGITS: Final = 1000
MOST_TOLD: Final = 100


def load(path: Path) -> Project:
    """Read a project file. A project without a name is called after the file.

    Raises:
        ProjectFileError: the file was read but is no project; names every fault.
        FileAccessError: the system does not let us read it.
    """
    try:
        _refuse_what_is_no_file(path)
        with path.open("rb") as file:
            data = file.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise access_error(path, "read", error) from error
    except ValueError as error:  # a name with a zero byte in it
        raise access_error(path, "read", OSError(errno.ENOENT, "")) from error
    return loads(data, path.name)


def loads(data: bytes, file: str) -> Project:
    """Read the content of a project file; ``file`` is its name.

    Raises:
        ProjectFileError: names every fault.
    """
    try:
        with _collector_at_rest():
            project, faults = _read(data, file.removesuffix(".json").removesuffix(".raft"))
    except (MemoryError, RecursionError):
        project, faults = (
            None,
            [Fault("", tr("is too large or too deep to read"), tr("make it smaller"))],
        )
    if project is None or faults:
        raise ProjectFileError(file, faults)
    return project


def save(path: Path, project: Project, *, keeps_previous: bool = True) -> None:
    """Write a project file in full, or leave everything as it was.

    With ``keeps_previous`` what stood there is kept beside it (see ``previous_of``). A symbolic
    link stays one; the file it leads to is written.

    Raises:
        FileAccessError: the system does not let us write it; says why.
    """
    data = dumps(project)
    try:
        target = Path(os.path.realpath(path, strict=False))
        if target.exists():
            _refuse_what_is_no_file(target)
            if not os.access(target, os.W_OK):
                raise PermissionError(errno.EACCES, "")  # told below like the rest
            if keeps_previous:
                saved = target.stat()
                replace_file(previous_of(target), target.read_bytes(), like=target)
                os.utime(previous_of(target), ns=(saved.st_atime_ns, saved.st_mtime_ns))
        replace_file(target, data, like=target)
    except OSError as error:
        raise access_error(path, "saved", error) from error
    except ValueError as error:  # a name with a zero byte in it
        raise access_error(path, "saved", OSError(errno.ENOENT, "")) from error


def dumps(project: Project) -> bytes:
    """Write a project as text; equal projects give equal bytes."""
    with _collector_at_rest():
        return project_text(project).encode()


def schema_text() -> str:
    """Write the JSON Schema of project files."""
    document = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **schema.Project.model_json_schema(),
    }
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"


@contextmanager
def _collector_at_rest() -> Iterator[None]:
    """Spare the search for cycles, of which there are none: it costs two thirds of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _refuse_what_is_no_file(path: Path) -> None:
    if not stat.S_ISREG(path.stat().st_mode):
        raise OSError(errno.EISDIR if path.is_dir() else errno.EEXIST, "")


def _read(data: bytes, name: str) -> tuple[Project | None, list[Fault]]:
    raw = _parse(data)
    content = raw if isinstance(raw, Fault) else migrate(raw)
    if isinstance(content, Fault):
        return None, [content]
    faults = list(_twice(raw, ""))
    reading = schema_parts.Reading()
    try:
        read = schema.Project.model_validate(content, context=reading)
    except ValidationError as error:
        faults += (
            _told(found, content, reading.readers) for found in error.errors(include_url=False)
        )
        return None, faults
    project = read.build(name)
    return project, faults + list(project_faults(project))


def _parse(data: bytes) -> Any:
    """Turn bytes into plain values with exact numbers, or into the fault that stands in the way.

    What JSON does not know (NaN, Infinity) becomes a number that no model takes, so that the fault
    is told with its place.
    """
    if len(data) > LARGEST_BYTES:
        return Fault("", tr("is larger than 64 MB"), tr("split it into several projects"))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return Fault(
            tr("byte {start}", start=error.start), tr("is not UTF-8 text"), tr("save it as UTF-8")
        )
    if not text.strip():
        return Fault("", tr("is empty"), tr("choose another file"))
    too_deep = Fault(
        "",
        tr("is nested more than {deepest} levels deep", deepest=DEEPEST),
        tr("keep to the documented keys"),
    )
    try:
        raw = json.loads(
            text,
            object_pairs_hook=_object,
            parse_int=_integer,
            parse_float=_decimal,
            parse_constant=Decimal,
        )
    except json.JSONDecodeError as error:
        where = tr("line {line}, column {column}", line=error.lineno, column=error.colno)
        what = tr("is not JSON ({reason})", reason=error.msg[:1].lower() + error.msg[1:])
        return Fault(where, what, tr("look at the commas, quotes and brackets just before"))
    except RecursionError:
        return too_deep
    level = [raw]
    for _ in range(DEEPEST):
        level = [part for parent in level for part in _parts(parent)]
    return too_deep if level else raw


def _parts(value: Any) -> list[Any]:
    match value:
        case dict():
            return [part for part in value.values() if isinstance(part, dict | list)]
        case list():
            return [part for part in value if isinstance(part, dict | list)]
        case _:
            return []


class _Twice(dict[str, Any]):
    """An object in which keys stand twice."""

    keys_twice: tuple[str, ...] = ()


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) == len(pairs):
        return found
    twice = _Twice(found)
    counts = Counter(key for key, _ in pairs)
    twice.keys_twice = tuple(key for key, count in counts.items() if count > 1)
    return twice


def _twice(value: Any, place: str) -> Iterator[Fault]:
    if isinstance(value, _Twice):
        for key in value.keys_twice[:MOST_TOLD]:
            yield Fault(
                f"{place}/{_escaped(key)}", tr("stands there twice"), tr("take one of them out")
            )
    parts: Iterable[tuple[int | str, Any]]
    parts = value.items() if isinstance(value, dict) else enumerate(value)
    for step, part in parts:
        if isinstance(part, dict | list):
            yield from _twice(part, f"{place}/{_escaped(step)}")


def _integer(text: str) -> int | Decimal:
    return int(text) if len(text) <= 18 else _decimal(text)


def _decimal(text: str) -> Decimal:
    if len(text) > MOST_DIGITS:
        return Decimal("NaN")
    try:
        return Decimal(text)
    except InvalidOperation:
        return Decimal("NaN")


def _told(error: ErrorDetails, content: Any, readers: dict[int, type[schema_parts.Model]]) -> Fault:
    """Say an error of the schema library in our words, with its place in the file."""
    place, parent = _place(error["loc"], content, missing=error["type"] == "missing")
    key = str(error["loc"][-1]) if error["loc"] else ""
    about = error.get("ctx", {})
    match error["type"]:
        case "fault":
            if about["key"]:
                place += f"/{about['key']}"
            return Fault(place, about["what"], about["cure"])
        case "missing":
            return Fault(place, tr("is missing"), tr('add "{key}"', key=key))
        case "extra_forbidden":
            return Fault(
                place, tr("is not a key that belongs here"), _nearest(key, parent, readers)
            )
        case "union_tag_not_found":
            kinds = schema.kinds(key)
            return Fault(f"{place}/kind", tr("is missing"), tr('add "kind", {kinds}', kinds=kinds))
        case "union_tag_invalid":
            kinds = tr("write {choices}", choices=schema.kinds(key))
            return Fault(f"{place}/kind", tr("is no kind there is here"), kinds)
        case "literal_error":
            choices = about["expected"].replace("'", '"')
            return Fault(
                place, tr("is none of the choices"), tr("write {choices}", choices=choices)
            )
        case "model_type" | "model_attributes_type" | "dict_type":
            return Fault(place, tr("must be an object"), tr("write its keys in { }"))
        case "list_type":
            return Fault(place, tr("must be a list"), tr("write its items in [ ]"))
        case "bool_type":
            return Fault(
                place, tr("must be true or false"), tr("write one of the two without quotes")
            )
        case "int_type":
            return Fault(place, tr("must be a whole number"), tr("write one such as 4"))
        case "greater_than_equal":
            return Fault(
                place, tr("must be at least {count}", count=about["ge"]), tr("write a whole number")
            )
        case "less_than_equal":
            return Fault(
                place, tr("must be at most {count}", count=about["le"]), tr("write a whole number")
            )
        case "too_short":
            return Fault(
                place,
                tr_n(
                    "is empty; at least one is needed",
                    "is too short; at least {n} are needed",
                    about["min_length"],
                ),
                tr("add what is missing"),
            )
        case "too_long":
            return Fault(
                place,
                tr("is too long; at most {count} are taken", count=about["max_length"]),
                tr("take some out"),
            )
        case _:
            return Fault(place, error["msg"][:1].lower() + error["msg"][1:], tr("write it anew"))


def _place(loc: tuple[int | str, ...], content: Any, *, missing: bool) -> tuple[str, Any]:
    """Find the JSON pointer of an error and the value that holds the last key of it.

    The schema library names the kind of an outline as if it were a step of the way; a step that
    the file does not have is such a kind, unless it is the missing key itself.
    """
    place = ""
    parent = here = content
    for depth, step in enumerate(loc):
        is_key = isinstance(here, dict) and step in here
        is_item = isinstance(here, list) and isinstance(step, int)
        if is_key or is_item:
            parent, here = here, here[step]
        elif not (missing and depth == len(loc) - 1):
            continue
        place += f"/{_escaped(step)}"
    return place, parent


def _nearest(key: str, parent: Any, readers: dict[int, type[schema_parts.Model]]) -> str:
    reader = readers.get(id(parent))
    known = list(reader.model_fields) if reader else []
    near = difflib.get_close_matches(key[:50], known, n=1)
    if near:
        return tr('did you mean "{name}"?', name=near[0])
    return (
        tr("take it out, known are {names}", names=", ".join(known)) if known else tr("take it out")
    )


def _escaped(key: int | str) -> str:
    return str(key)[:60].replace("~", "~0").replace("/", "~1")
