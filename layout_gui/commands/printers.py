"""The commands about printers: their page, what was measured, and which are known.

Each returns its exit status as those of all commands do: 0 when done, 2 when something was refused;
then nothing was written.
"""

import json
from collections.abc import Sequence
from pathlib import Path

from geometry.drawing.paper import PageSetup, Paper
from geometry.drawing.printer import (
    Printer,
    doubts,
    fit_hint,
    judged_printer,
    measured_line,
)
from geometry.errors import GeometryError
from geometry.tongue import number, tr
from geometry.units import Length
from layout_gui.commands.common import DONE, refuse, say, tell
from layout_gui.output.printer_pdf import write_printer_pages
from layout_gui.project.faults import access_error
from layout_gui.project.printer_file import NoPrinterError, PrinterFile


def write_page(papers: Sequence[Paper], out: Path) -> int:
    """Write the printer page of each paper into one file; never over a file."""
    if out.suffix.lower() != ".pdf":
        return refuse(tr("{name} must end in {suffix}.", name=out.name, suffix=".pdf"))
    try:
        say(write_printer_pages(papers, out))
    except FileExistsError as error:
        return refuse(str(error))
    except OSError as error:
        return refuse(str(access_error(error.filename or out, "written", error)))
    return DONE


def measure(
    name: str,
    paper: Paper,
    lines: tuple[Length, Length],
    edges: Sequence[Length],
    *,
    day: str,
    note: str = "",
    corrects_all: bool = False,
    file: PrinterFile | None = None,
) -> int:
    """Take what was read off a printer page, say what follows, and keep the printer."""
    file = file or PrinterFile()
    try:
        across = measured_line(paper, "across", lines[0])
        along = measured_line(paper, "along", lines[1])
        printer = judged_printer(
            name, across, along, paper, edges, day=day, note=note, corrects_all=corrects_all
        )
        tell(file.read().trouble)
        file.keep(printer)
    except GeometryError as error:
        return refuse(str(error))
    except OSError as error:
        return refuse(str(access_error(error.filename or file.path, "written", error)))
    for line in (across, along):
        say(line.words(corrects_all=corrects_all))
    tell(fit_hint(across, along))
    say(_row(printer))
    return DONE


def show_known(*, today: str, as_json: bool = False, file: PrinterFile | None = None) -> int:
    """Print the printers that were measured, with what speaks against using them."""
    known = (file or PrinterFile()).read()
    tell(known.trouble)
    if as_json:
        rows = [
            {
                "name": one.name,
                "paper": one.paper.name,
                "paper_mm": [one.paper.width_mm, one.paper.height_mm],
                "across": one.across,
                "along": one.along,
                "border_mm": one.border_mm,
                "day": one.day,
                "note": one.note,
                "doubts": _doubts(one, today),
            }
            for one in known.printers
        ]
        say(json.dumps({"printers": rows}, indent=2, allow_nan=False))
        return DONE
    for one in known.printers:
        say(" ".join([_row(one), *_doubts(one, today)]))
    if not known.printers:
        say(tr("No printer has been measured yet."))
    return DONE


def rename(name: str, to: str, *, file: PrinterFile | None = None) -> int:
    """Give a printer another name."""
    file = file or PrinterFile()
    try:
        tell(file.read().trouble)
        file.rename(name, to)
    except (NoPrinterError, GeometryError) as error:
        return refuse(str(error))
    except OSError as error:
        return refuse(str(access_error(error.filename or file.path, "written", error)))
    return DONE


def remove(name: str, paper: Paper | None, *, file: PrinterFile | None = None) -> int:
    """Forget a printer, or what was measured of it with one paper; print what is gone."""
    file = file or PrinterFile()
    try:
        tell(file.read().trouble)
        for printer in file.remove(name, paper):
            say(_row(printer))
    except NoPrinterError as error:
        return refuse(str(error))
    except OSError as error:
        return refuse(str(access_error(error.filename or file.path, "written", error)))
    return DONE


def _doubts(printer: Printer, today: str) -> list[str]:
    setup = printer.on(PageSetup(paper=printer.paper))
    return list(doubts(printer, setup, today))


def _row(printer: Printer) -> str:
    words = tr(
        "{printer}, {paper}, measured {day}: {across} \N{MULTIPLICATION SIGN} {along}, {white} mm "
        "white.",
        printer=printer.name,
        paper=printer.paper.said,
        day=printer.day or tr("on an unknown day"),
        across=number(printer.across, 4),
        along=number(printer.along, 4),
        white=number(printer.border_mm),
    )
    return f"{words} {printer.note}".rstrip()
