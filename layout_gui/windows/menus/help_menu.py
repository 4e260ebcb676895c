"""What stands in the menu Help."""

from typing import Final

from geometry.tongue import mark
from layout_gui.windows.menus.row import Row

ROWS: Final[tuple[Row, ...]] = (
    Row(
        "guide",
        "Help",
        mark("&Guide…"),
        lambda desk: desk.guide(),
        tip=mark("A few questions, from the measured bed to its holes; goes on where you left it"),
    ),
    Row(
        "help",
        "Help",
        mark("&Help for this"),
        lambda desk: desk.show_help(""),
        "F1",
        line=True,
        tip=mark("What the help says about whatever has the keyboard"),
    ),
    Row(
        "help-walk",
        "Help",
        mark("From tape measure to &drilled raft"),
        lambda desk: desk.show_help("walk"),
    ),
    Row(
        "help-print",
        "Help",
        mark("&Printing at true size"),
        lambda desk: desk.show_help("printing"),
    ),
    Row("help-safety", "Help", mark("&Safety"), lambda desk: desk.show_help("safety")),
    Row("keys", "Help", mark("&Keys"), lambda desk: desk.show_help("keys"), "Ctrl+F1"),
    Row(
        "own-keys",
        "Help",
        mark("Keys of your &own…"),
        lambda desk: desk.choose_keys(),
        tip=mark("Gives any command other keys; they hold from then on"),
    ),
    Row(
        "log",
        "Help",
        mark("Show the &log…"),
        lambda desk: desk.show_log(),
        line=True,
        tip=mark("What the program did, for the day something goes wrong"),
    ),
    Row(
        "machine",
        "Help",
        mark("&Report about this machine…"),
        lambda desk: desk.show_machine(),
        tip=mark("Versions, screens and language, to be copied for whoever helps"),
    ),
    Row("about", "Help", mark("&About"), lambda desk: desk.show_about()),
)
