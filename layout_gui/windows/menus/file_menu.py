"""What stands in the menu File."""

from typing import Final

from geometry.tongue import mark
from layout_gui.windows.menus.conditions import has_bed, has_saved_file, is_compared
from layout_gui.windows.menus.row import Row

ROWS: Final[tuple[Row, ...]] = (
    Row("new", "File", mark("&New project"), lambda desk: desk.files.new(), "Ctrl+N"),
    Row("open", "File", mark("&Open…"), lambda desk: desk.files.open(), "Ctrl+O"),
    Row(
        "new-window",
        "File",
        mark("New &window"),
        lambda desk: desk.arrivals.open_fresh(),
        "Ctrl+Shift+N",
        tip=mark("Opens another window, for another project"),
    ),
    Row(
        "save", "File", mark("&Save"), lambda desk: desk.files.save(), "Ctrl+S", has_bed, line=True
    ),
    Row(
        "save-as",
        "File",
        mark("Save &as…"),
        lambda desk: desk.files.save_as(),
        "Ctrl+Shift+S",
        has_bed,
    ),
    Row(
        "revert",
        "File",
        mark("&Go back to the saved file…"),
        lambda desk: desk.files.revert(),
        enabled=has_saved_file,
    ),
    Row(
        "properties",
        "File",
        mark("About this &project…"),
        lambda desk: desk.describe(),
        enabled=has_bed,
        tip=mark("Name, author, revision, date and notes; they stand on the pages"),
    ),
    Row(
        "earlier",
        "File",
        mark("The &version before…"),
        lambda desk: desk.files.bring_back(),
        enabled=lambda desk: desk.document.path is not None,
        tip=mark(
            "Brings back the file as it was before it was last opened and changed; an undo step"
        ),
    ),
    Row(
        "recovered",
        "File",
        mark("Recovered wor&k…"),
        lambda desk: desk.keeping.offer(),
        tip=mark("Shows what was not saved when the program last ended without being closed"),
    ),
    Row(
        "export",
        "File",
        mark("&Export for the workshop"),
        lambda desk: desk.go_to("Make"),
        "Ctrl+E",
        has_bed,
        line=True,
        tip=mark("Shows the pages first, then writes templates, cut sheets and files for machines"),
    ),
    Row(
        "print",
        "File",
        mark("Pr&int the pages…"),
        lambda desk: desk.print_pages(),
        "Ctrl+P",
        has_bed,
        tip=mark("Prints the pages that are ticked under Make, at true size"),
    ),
    Row(
        "compare-page",
        "File",
        mark("&Comparison as pages…"),
        lambda desk: desk.export_comparison("pdf"),
        enabled=is_compared,
        tip=mark("Writes what stands under What if? to a PDF"),
    ),
    Row(
        "compare-table",
        "File",
        mark("Comparison as a &table…"),
        lambda desk: desk.export_comparison("csv"),
        enabled=is_compared,
        tip=mark("Writes what stands under What if? to a table for a spreadsheet"),
    ),
    Row("quit", "File", mark("&Quit"), lambda desk: desk.close(), "Ctrl+Q", line=True),
)
