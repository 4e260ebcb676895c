"""What stands in the menu View."""

from typing import Final

from geometry.tongue import mark
from layout_gui.panels.stations import STATIONS, StationName
from layout_gui.screen.theme import ThemeChoice
from layout_gui.windows.desk import Part
from layout_gui.windows.language import LanguageChoice
from layout_gui.windows.menus.conditions import has_bed, has_findings
from layout_gui.windows.menus.row import Row

_STATION_TEXTS: Final[dict[StationName, str]] = {
    "Bed": mark("&1 Bed"),
    "Rafts": mark("&2 Rafts"),
    "Holes": mark("&3 Holes"),
    "Make": mark("&4 Make"),
    "Grow": mark("&5 Grow"),
}


def _station_row(number: int, name: StationName) -> Row:
    return Row(
        f"go-{name}", "View", _STATION_TEXTS[name], lambda desk: desk.go_to(name), f"Ctrl+{number}"
    )


def _part_row(part: Part, text: str, keys: str) -> Row:
    return Row(
        f"part-{part}",
        "View",
        text,
        lambda desk: desk.fold(part),
        keys,
        checked=lambda desk: desk.is_open(part),
        line=part == "drawer",
    )


def _theme_row(choice: ThemeChoice, text: str) -> Row:
    return Row(
        f"theme-{choice}",
        "View",
        text,
        lambda desk: desk.set_theme(choice),
        checked=lambda desk: desk.theme_choice == choice,
        line=choice == "system",
    )


def _text_row(percent: int, text: str) -> Row:
    return Row(
        f"text-{percent}",
        "View",
        text,
        lambda desk: desk.set_text(percent),
        checked=lambda desk: desk.text_percent == percent,
        line=percent == 100,
    )


def _language_row(choice: LanguageChoice, text: str) -> Row:
    return Row(
        f"language-{choice}",
        "View",
        text,
        lambda desk: desk.set_language(choice),
        checked=lambda desk: desk.language_choice == choice,
        line=choice == "desktop",
        tip=mark("From the next start on"),
    )


ROWS: Final[tuple[Row, ...]] = (
    *(_station_row(number, name) for number, name in enumerate(STATIONS, start=1)),
    _part_row("drawer", mark("&What if?"), "F8"),
    _part_row("table", mark("Table of &holes"), "Shift+F8"),
    _part_row("arrange", mark("&Arrange holes"), "Ctrl+F8"),
    _part_row("fields", mark("&Fields and findings"), "F9"),
    _part_row("full screen", mark("F&ull screen"), "F11"),
    Row(
        "finding-next",
        "View",
        mark("Ne&xt finding"),
        lambda desk: desk.findings.step(1),
        "F4",
        has_findings,
        line=True,
        tip=mark("Shows the place of one open finding after the other"),
    ),
    Row(
        "finding-before",
        "View",
        mark("Finding &before"),
        lambda desk: desk.findings.step(-1),
        "Shift+F4",
        has_findings,
    ),
    Row(
        "next-sight",
        "View",
        mark("Another &view of this station"),
        lambda desk: desk.sighting.next_sight(),
        "F3",
        lambda desk: has_bed(desk) and desk.sighting.has_more,
        tip=mark("From the side, week by week: as the bar above the bed says"),
    ),
    Row("next-pane", "View", mark("Next &part of the window"), lambda desk: desk.next_pane(), "F6"),
    Row(
        "snaps",
        "View",
        mark("S&nap to lines"),
        lambda desk: desk.looking.toggle_snaps(),
        "Shift+F7",
        checked=lambda desk: not desk.is_furnished or desk.view.aids.snaps,
        line=True,
        tip=mark("Holding Alt while dragging does without, too"),
    ),
    Row(
        "grid",
        "View",
        mark("Gr&id"),
        lambda desk: desk.looking.toggle_grid(),
        "F7",
        has_bed,
        checked=lambda desk: desk.is_furnished and desk.view.aids.has_grid,
    ),
    Row(
        "grid-step",
        "View",
        mark("Grid &spacing…"),
        lambda desk: desk.looking.ask_grid(),
        enabled=has_bed,
        tip=mark("How far the lines of the grid are apart"),
    ),
    Row(
        "zero",
        "View",
        mark("Where the &rulers begin…"),
        lambda desk: desk.looking.ask_zero(),
        enabled=has_bed,
        tip=mark("Or drag from the corner where the rulers meet"),
    ),
    Row(
        "zero-back",
        "View",
        mark("Rulers from the bed's &corner"),
        lambda desk: desk.looking.reset_zero(),
        enabled=lambda desk: desk.is_furnished and desk.looking.has_zero(),
    ),
    _theme_row("system", mark("Colours of the &desktop")),
    _theme_row("light", mark("&Light colours")),
    _theme_row("dark", mark("Dar&k colours")),
    _theme_row("contrast", mark("High c&ontrast")),
    _text_row(100, mark("&Text as usual")),
    _text_row(125, mark("Text larger by a &quarter")),
    _text_row(150, mark("Text larger b&y half")),
    _text_row(200, mark("Text si&ze doubled")),
    _language_row("desktop", mark("Lan&guage of the desktop")),
    # Every language is named in itself, so that it is found by those who read no other.
    _language_row("en", "&English"),
    _language_row("es", "Espa&ñol"),
)
