"""The way in: the window, or a command without one."""

import argparse
import io
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, NoReturn

COMMANDS = (
    "export",
    "templates",
    "check",
    "compare",
    "weeks",
    "squeeze",
    "printer",
    "measuring",
    "schema",
)
_INTERRUPTED = 130
_SHAPES = (
    "rectangle",
    "rounded",
    "round",
    "round-ends",
    "L",
    "corner-cut",
    "tapered",
    "free",
)
_MOST_SECONDS = 3600
_SQUEEZE = """
Searches each raft for free places that hold more holes than its rows, and prints what was found.
Rafts that take the same holes have one turn together. The project file stays as it is; --save
writes the project with the new holes, as pinned ones, to another file.
"""


class _Parser(argparse.ArgumentParser):
    """Refuses arguments in one sentence."""

    def error(self, message: str) -> NoReturn:
        self.exit(2, f"{self.prog}: {message}; {self.prog} --help tells how.\n")


def main(arguments: Sequence[str] | None = None) -> int:
    """Open the window or do a command; return the exit status."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    # Looking for pydantic's plugins in other packages takes as long as reading ten files.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    given = list(sys.argv[1:] if arguments is None else arguments)
    try:
        if (command := _command_first(given))[:1] and command[0] in COMMANDS:
            return _command(_command_parser().parse_args(command))
        chosen = _window_parser().parse_args(given)
        return _window(chosen.projects, chosen.language)
    except KeyboardInterrupt:
        return _INTERRUPTED
    except BrokenPipeError:  # whoever read the output has enough of it
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0


def _command_first(given: list[str]) -> list[str]:
    """Put a language that stands before the command behind it."""
    if given and given[0].startswith("--language"):
        at = 1 if "=" in given[0] else 2
        return [*given[at : at + 1], *given[:at], *given[at + 1 :]]
    return given


def _add_language(parser: argparse.ArgumentParser, usual: str | None) -> None:
    from layout_gui.tongues import LANGUAGES

    parser.add_argument(
        "--language",
        choices=tuple(LANGUAGES),
        default=usual,
        help="the language of words; what other programs read stays as it is",
    )


def _window_parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="raftwright",
        description="Rafts and planting holes for floating beds. Opens the window.",
        epilog=f"Commands without a window: {', '.join(COMMANDS)}; raftwright check --help.",
    )
    parser.add_argument(
        "projects",
        metavar="PROJECT",
        nargs="*",
        type=Path,
        help="a project file; further ones get windows of their own",
    )
    _add_language(parser, None)
    return parser


def _command_parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="raftwright")
    commands = parser.add_subparsers(dest="command", required=True)
    export = commands.add_parser("export", help="write templates, cut sheets and tables")
    _add_project(export)
    export.add_argument(
        "--out", metavar="DIR", type=_read("read_folder"), required=True, help="the folder"
    )
    export.add_argument(
        "--only", metavar="NAME,NAME…", type=_names, help="write just these files, and do just that"
    )
    export.add_argument(
        "--also",
        metavar="NAME,NAME…",
        type=_names,
        default=frozenset(),
        help="write these files as well, which are not written otherwise",
    )
    export.add_argument(
        "--text",
        choices=("text", "outlines"),
        default="text",
        help="words in SVG and DXF drawings: as text, or as outlines for machines without fonts",
    )
    export.add_argument(
        "--png",
        metavar="DPI",
        type=_read("read_dpi"),
        help="write a picture of every page and raft as well, at so many dots per inch",
    )
    export.add_argument(
        "--made",
        metavar="LABEL",
        help="print this raft of the log just as it was made, whatever the plan shows now",
    )
    _add_paper(export)
    _add_templates(commands.add_parser("templates", help="compare templates: pages and errors"))
    for name, words in (
        ("check", "print the findings"),
        ("compare", "print the choices side by side"),
    ):
        command = commands.add_parser(name, help=words)
        _add_project(command)
        command.add_argument("--json", action="store_true", help="for other programs to read")
        if name == "compare":
            command.add_argument(
                "--want",
                metavar="PLANTS",
                type=_wanted,
                help="find the widest spacing for 40 plants a bed, or for 24/m2, or 2.2/ft2",
            )
            command.add_argument(
                "--csv", metavar="FILE", type=Path, help="write a table there; never over a file"
            )
            command.add_argument(
                "--page", metavar="FILE", type=Path, help="write PDF pages there; never over a file"
            )
    weeks = commands.add_parser("weeks", help="print what is to be done, week by week")
    _add_project(weeks)
    _add_period(weeks)
    weeks.add_argument("--json", action="store_true", help="for other programs to read")
    _add_squeeze(
        commands.add_parser(
            "squeeze",
            help="search for room for more holes than rows hold",
            description=_SQUEEZE,
            epilog="Status: 0 with or without a find, 2 when something was refused.",
        )
    )
    _add_printer(commands.add_parser("printer", help="measure printers, so that they print true"))
    _add_measuring(
        commands.add_parser("measuring", help="write a page to fill in by hand beside the water")
    )
    schema = commands.add_parser("schema", help="print the JSON Schema of project files")
    _add_language(schema, "en")
    return parser


def _add_project(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("project", metavar="PROJECT", type=Path, help="a project file")
    _add_language(parser, "en")


def _add_paper(export: argparse.ArgumentParser) -> None:
    paper = export.add_argument_group("paper", "lengths take a unit; a bare number is millimetres")
    paper.add_argument(
        "--paper",
        metavar="NAME",
        type=_read("read_paper"),
        help="common (fits A4 and Letter), A4, A3, Letter, Legal, Tabloid, 610x1200, or roll:610 "
        "(so wide; roll is 914 mm): one long page for each raft, for a plotter or a copy shop",
    )
    paper.add_argument(
        "--border", metavar="LENGTH", type=_read("read_border"), help="what stays white (10 mm)"
    )
    paper.add_argument(
        "--overlap",
        metavar="LENGTH",
        type=_read("read_overlap"),
        help="what two pages both show (10 mm)",
    )
    printer = paper.add_mutually_exclusive_group()
    printer.add_argument(
        "--printer", metavar="NAME", help="a printer that was measured: its correction and border"
    )
    printer.add_argument(
        "--bars",
        metavar="ACROSS,ALONG",
        type=_read("read_bars"),
        help="what the 100 mm bars of the first page really measured, to correct the printer",
    )
    _add_pegs(paper)
    _add_period(
        export.add_argument_group("weeks", "for weeks.pdf, tasks.csv, weeks.csv, tasks.ics")
    )
    paper.add_argument(
        "--pages",
        metavar="N,N-N…",
        type=_read("read_pages"),
        help="only these pages of the template, into template-part.pdf",
    )


def _add_pegs(parser: argparse._ActionsContainer) -> None:
    parser.add_argument(
        "--pegs",
        metavar="X,Y",
        type=_read("read_pegs"),
        help="how far the first hole of a 1 in pegboard is from its left and its lower edge",
    )


def _add_period(parser: argparse._ActionsContainer) -> None:
    parser.add_argument(
        "--from",
        metavar="DAY",
        dest="since",
        type=_read("read_date"),
        help="begin with the week of this day, as 2026-11-25 (with the first task)",
    )
    parser.add_argument(
        "--weeks", metavar="N", type=_read("read_weeks"), default=None, help="so many weeks (12)"
    )


def _add_templates(parser: argparse.ArgumentParser) -> None:
    _add_project(parser)
    parser.add_argument("--json", action="store_true", help="for other programs to read")
    parser.add_argument("--paper", metavar="NAME", type=_read("read_paper"), help="as for export")
    _add_pegs(parser)


def _add_printer(parser: argparse.ArgumentParser) -> None:
    commands = parser.add_subparsers(dest="printer_command", metavar="COMMAND", required=True)
    page = commands.add_parser("page", help="write the page by which a printer is measured")
    page.add_argument(
        "--paper",
        metavar="NAME,NAME…",
        type=_read("read_papers"),
        default="common",
        help="as for export; a page for each",
    )
    page.add_argument(
        "--out", metavar="FILE", type=Path, required=True, help="a PDF; never over a file"
    )
    measure = commands.add_parser("measure", help="keep what was read off the printed page")
    measure.add_argument("name", metavar="PRINTER", help="its name, by which export knows it")
    measure.add_argument(
        "--paper", metavar="NAME", type=_read("read_paper"), required=True, help="as for export"
    )
    for way, words in (("across", "the line across"), ("along", "the line along")):
        measure.add_argument(
            f"--{way}", metavar="LENGTH", type=_read("read_length"), required=True, help=words
        )
    measure.add_argument(
        "--border",
        metavar="MM,MM…",
        type=_read("read_lengths"),
        required=True,
        help="the first whole tick: of each edge, or the largest",
    )
    measure.add_argument("--note", default="", help="such as the tray")
    measure.add_argument(
        "--day", metavar="DAY", type=_read("read_day"), help="when it was measured (today)"
    )
    measure.add_argument(
        "--even-small", action="store_true", help="correct even less than a rule can show"
    )
    known = commands.add_parser("list", help="print the printers that were measured")
    known.add_argument("--json", action="store_true", help="for other programs to read")
    rename = commands.add_parser("rename", help="give a printer another name")
    rename.add_argument("name", metavar="PRINTER")
    rename.add_argument("to", metavar="NAME")
    remove = commands.add_parser("remove", help="forget a printer")
    remove.add_argument("name", metavar="PRINTER")
    remove.add_argument(
        "--paper", metavar="NAME", type=_read("read_paper"), help="only with this paper"
    )
    for command in (page, measure, known, rename, remove):
        _add_language(command, "en")


def _read(name: str) -> Callable[[str], object]:
    """Return what reads an argument, from the module that is loaded when it is first used."""

    def read(text: str) -> object:
        from geometry.errors import GeometryError
        from layout_gui.output import paper_arguments

        try:
            return getattr(paper_arguments, name)(text)
        except GeometryError as error:
            raise argparse.ArgumentTypeError(str(error).rstrip(".")) from error

    return read


def _add_measuring(measuring: argparse.ArgumentParser) -> None:
    measuring.add_argument(
        "shapes",
        metavar="SHAPE",
        nargs="+",
        choices=_SHAPES,
        help=f"the shape of the bed: {', '.join(_SHAPES)}",
    )
    measuring.add_argument(
        "--page", metavar="FILE", type=Path, required=True, help="the PDF; never over a file"
    )
    measuring.add_argument(
        "--paper",
        metavar="NAME",
        type=_read("read_paper"),
        help="common (fits A4 and Letter), A4, A3, Letter, Legal, Tabloid, or 610x1200",
    )
    measuring.add_argument("--units", choices=("mm", "cm", "in"), help="tick this unit's box")
    _add_language(measuring, "en")


def _add_squeeze(squeeze: argparse.ArgumentParser) -> None:
    _add_project(squeeze)
    squeeze.add_argument("--bed", metavar="NAME", help="only this bed")
    squeeze.add_argument("--raft", metavar="NAME", help="only this raft, as R1")
    squeeze.add_argument(
        "--seconds", metavar="S", type=_seconds, default=4.0, help="time for each turn (4)"
    )
    squeeze.add_argument("--save", metavar="FILE", type=Path, help="where to save what was won")


def _seconds(text: str) -> float:
    try:
        seconds = float(text)
    except ValueError:
        seconds = 0.0
    if not 0 < seconds <= _MOST_SECONDS:
        raise argparse.ArgumentTypeError(f"give seconds above 0 and up to {_MOST_SECONDS}")
    return seconds


def _names(text: str) -> frozenset[str]:
    names = frozenset(name.strip() for name in text.split(",")) - {""}
    if not names:
        raise argparse.ArgumentTypeError("name at least one file")
    return names


def _wanted(text: str) -> object:
    from geometry.errors import WantedError
    from geometry.model.wanted import parse_wanted

    try:
        return parse_wanted(text)
    except WantedError as error:
        raise argparse.ArgumentTypeError(str(error).rstrip(".")) from error


def _command(given: argparse.Namespace) -> int:
    from geometry.drawing.outlining import outlining
    from geometry.tongue import speaking
    from layout_gui.tongues import tongue_of

    with speaking(tongue_of(given.language)), outlining(_outline):
        return _done(given)


def _outline(text: str, bold: bool) -> Any:  # noqa: FBT001 - as outliners are asked
    """Outline a text by the fonts of this computer; Qt starts with the first text that needs it."""
    try:
        from layout_gui.screen.outlines import outline_text
    except ImportError:  # a server may lack what Qt draws with
        return None
    return outline_text(text, bold)


def _done(given: argparse.Namespace) -> int:
    match given.command:
        case "export":
            from layout_gui.commands.export import export_files

            return export_files(
                given.project,
                given.out,
                given.only,
                also=given.also,
                paper=given.paper,
                border=given.border,
                overlap=given.overlap,
                factors=given.bars,
                pages=given.pages,
                letters=given.text,
                printer=given.printer,
                pegs=given.pegs,
                pictures=_pictures(given.png),
                made=given.made,
                since=given.since,
                weeks=given.weeks,
            )
        case "templates":
            from layout_gui.commands.export import templates

            return templates(given.project, as_json=given.json, paper=given.paper, pegs=given.pegs)
        case "check":
            from layout_gui.commands.check import check

            return check(given.project, as_json=given.json)
        case "compare":
            from layout_gui.commands.compare import compare

            return compare(
                given.project,
                as_json=given.json,
                wanted=given.want,
                table=given.csv,
                page=given.page,
            )
        case "weeks":
            from layout_gui.commands.weeks import weeks

            return weeks(given.project, given.since, given.weeks, as_json=given.json)
        case "squeeze":
            from layout_gui.commands.squeeze import squeeze

            return squeeze(
                given.project,
                bed=given.bed,
                raft=given.raft,
                seconds=given.seconds,
                out=given.save,
            )
        case "printer":
            return _printer(given)
        case "measuring":
            from layout_gui.commands.export import write_measuring_page

            return write_measuring_page(
                given.shapes, given.page, paper=given.paper, unit=given.units
            )
        case _:
            from layout_gui.commands.export import print_schema

            return print_schema()


def _printer(given: argparse.Namespace) -> int:
    from datetime import date

    from layout_gui.commands import printers

    today = date.today().isoformat()  # noqa: DTZ011  the day as the wall calendar has it
    match given.printer_command:
        case "page":
            return printers.write_page(given.paper, given.out)
        case "measure":
            return printers.measure(
                given.name,
                given.paper,
                (given.across, given.along),
                given.border,
                day=given.day or today,
                note=given.note,
                corrects_all=given.even_small,
            )
        case "rename":
            return printers.rename(given.name, given.to)
        case "remove":
            return printers.remove(given.name, given.paper)
        case _:
            return printers.show_known(today=today, as_json=given.json)


def _pictures(dpi: int | None) -> Any:
    if dpi is None:
        return None
    from layout_gui.screen.pictures import pictures

    return pictures(dpi)


def _window(projects: Sequence[Path], language: Any) -> int:
    from layout_gui.app import run_window

    return run_window(projects[0] if projects else None, *projects[1:], language=language)


if __name__ == "__main__":
    sys.exit(main())
