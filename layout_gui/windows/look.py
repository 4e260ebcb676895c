"""The manner of the window: one font, one palette and one style sheet, from the theme's table."""

from pathlib import Path
from string import Template
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from layout_gui.screen.theme import Theme, ThemeChoice

FONT_FOLDER: Final = Path(__file__).resolve().parent.parent / "resources" / "fonts"
TEXT_PT: Final = 9.75
"""13 px at 96 dpi; the smallest text in the window is nine tenths of it, 11.7 px."""

_SHEET: Final = Template("""
QMainWindow, QDialog, QMessageBox { background: $background; }
QWidget { color: $text; }
QToolTip { color: $text; background: $surface; border: 1px solid $line; padding: 4px; }

QLabel[role="quiet"] { color: $quiet_text; font-size: ${small}pt; }
QLabel[role="title"] { font-size: ${title}pt; font-weight: bold; }
QLabel[role="figure"] { font-size: ${figure}pt; font-weight: bold; }
QLabel[role="heading"] { font-weight: bold; }
QLabel[role="warn"] { color: $warn; font-weight: bold; }
QLabel[refused="true"] { color: $warn; }

QLineEdit, QAbstractSpinBox { placeholder-text-color: $quiet_text; }
QLineEdit, QAbstractSpinBox, QComboBox, QPlainTextEdit {
  background: $field; border: 1px solid $edge; border-radius: 6px;
  padding: 5px 9px; min-height: 18px; selection-background-color: $accent;
  selection-color: $on_accent;
}
QAbstractSpinBox QLineEdit, QAbstractSpinBox QLineEdit:focus {
  border: none; background: transparent; padding: 0; min-height: 0;
  placeholder-text-color: $quiet_text; }
QLineEdit:focus, QAbstractSpinBox:focus, QComboBox:focus, QPlainTextEdit:focus {
  border: 2px solid $accent; padding: 4px 8px;
}
QAbstractSpinBox::up-button, QAbstractSpinBox::down-button {
  subcontrol-origin: border; width: 24px; border: none; background: transparent; }
QAbstractSpinBox::up-button { subcontrol-position: center right; }
QAbstractSpinBox::down-button { subcontrol-position: center right; right: 24px; }
QAbstractSpinBox::up-arrow, QAbstractSpinBox::down-arrow { image: none; width: 0; height: 0; }
*[refused="true"] { border: 2px solid $warn; }
QLabel[refused="true"] { border: none; }
QLineEdit:disabled, QAbstractSpinBox:disabled, QComboBox:disabled { color: $quiet_text; }
QComboBox::drop-down { border: none; width: 24px; }
QComboBox::down-arrow { image: none; }
QComboBox QAbstractItemView { background: $field; border: 1px solid $line; outline: 0;
  selection-background-color: $accent_soft; selection-color: $text; padding: 3px; }
QComboBox QAbstractItemView::item { min-height: 26px; padding-left: 6px; }

QPushButton, QToolButton {
  background: transparent; border: 1px solid $edge; border-radius: 7px;
  padding: 5px 13px; min-height: 18px; outline: none;
}
QPushButton:hover, QToolButton:hover { border-color: $quiet_text; }
QPushButton:focus, QToolButton:focus { border: 2px solid $accent; padding: 4px 12px; }
QPushButton:pressed, QToolButton:pressed { background: $accent_soft; }
QPushButton:disabled, QToolButton:disabled { color: $quiet_text; border-color: transparent; }
QPushButton:checked, QToolButton:checked { background: $accent; color: $on_accent;
  border-color: $accent; }
QPushButton[role="primary"] { background: $accent; color: $on_accent; border-color: $accent;
  font-weight: bold; }
QPushButton[role="primary"]:focus { border: 2px solid $text; }
QPushButton[role="primary"]:disabled { background: $surface; color: $quiet_text;
  border-color: $line; }
QPushButton[role="link"], QToolButton[role="link"] { border-color: transparent; color: $accent;
  font-weight: bold; padding: 4px 6px; }
QPushButton[role="link"]:hover, QToolButton[role="link"]:hover { background: $accent_soft; }
QPushButton[role="link"]:focus, QToolButton[role="link"]:focus { border: 2px solid $accent;
  padding: 3px 5px; }
QPushButton[role="link"]:disabled, QToolButton[role="link"]:disabled { color: $quiet_text;
  font-weight: normal; }
QToolButton::menu-indicator { image: none; width: 0; }
QToolButton[role="handle"] { border-color: transparent; padding: 4px 9px; font-weight: bold; }
QToolButton[role="handle"]:checked { background: transparent; color: $text;
  border-color: transparent; }
QToolButton[role="handle"]:hover { background: $surface; }
QToolButton[role="handle"]:focus { border: 2px solid $accent; padding: 3px 8px; }
QToolButton[role="plain"] { border-color: transparent; padding: 4px 9px; }
QToolButton[role="plain"]:hover { background: $surface; }
QToolButton[role="plain"]:disabled { color: $quiet_text; }

QFrame[role="head"] { background: $background; border: none; border-bottom: 1px solid $line; }
QFrame[role="last-line"] { background: $background; border: none; border-top: 1px solid $line; }
QFrame[role="bar"] { background: $background; border: none; }
QFrame[role="strip"] { background: $background; border: none; border-bottom: 1px solid $line; }
QToolButton[role="tool"] { border-color: transparent; padding: 3px 9px; color: $quiet_text; }
QToolButton[role="tool"]:hover { color: $text; border-color: $line; }
QToolButton[role="tool"]:focus { border: 2px solid $accent; padding: 2px 8px; color: $text; }
QToolButton[role="tool"]:disabled { color: $quiet_text; border-color: transparent; }
QToolButton[role="tool"]:checked { background: $accent_soft; color: $text; font-weight: bold;
  border: 2px solid $accent; padding: 2px 8px; }
QToolButton[role="tool"]::menu-indicator { image: none; width: 0; }
QLineEdit[role="zoom"] { background: transparent; border-color: transparent; min-height: 20px;
  padding: 1px 5px; }
QLineEdit[role="zoom"]:hover { border-color: $line; }
QLineEdit[role="zoom"]:focus { background: $field; border: 2px solid $accent; padding: 0 4px; }
QLabel[role="truth"] { font-weight: bold; }
QPushButton[role="segment"] { border-radius: 0; padding: 4px 12px; }
QPushButton[place="first"] { border-top-left-radius: 7px; border-bottom-left-radius: 7px; }
QPushButton[place="middle"] { border-left: none; }
QPushButton[place="last"] { border-left: none; border-top-right-radius: 7px;
  border-bottom-right-radius: 7px; }
QFrame[role="card"] { background: $surface; border: 1px solid $line; border-radius: 9px; }
QFrame[role="finding"] { background: $warn_soft; border: 1px solid $warn; border-radius: 9px; }
QFrame[role="note"] { background: $surface; border: 1px solid $line; border-radius: 9px; }
QFrame[role="finding"]:focus, QFrame[role="note"]:focus { border: 2px solid $accent; }
QFrame[role="notice"] { background: $warn_soft; border: none;
  border-bottom: 1px solid $warn; }
QFrame[role="rule"] { background: $line; border: none; }

QScrollArea, QScrollArea > QWidget > QWidget { background: transparent; border: none; }
QScrollBar:vertical { background: transparent; width: 11px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 11px; margin: 0; }
QScrollBar::handle { background: $edge; border-radius: 4px; margin: 2px; min-height: 28px;
  min-width: 28px; }
QScrollBar::handle:hover { background: $quiet_text; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }

QTreeWidget, QListWidget, QTableWidget {
  background: transparent; border: 1px solid $line; border-radius: 7px; outline: 0;
  alternate-background-color: $surface; }
QTreeWidget::item, QListWidget::item { padding: 5px 6px; border: none; }
QTreeWidget::item:selected, QListWidget::item:selected { background: $accent_soft; color: $text; }
QScrollArea[role="page"] { border: 2px solid $background; }
QScrollArea[role="page"]:focus { border: 2px solid $accent; }
QTreeWidget:focus, QListWidget:focus { border: 2px solid $accent; }
QTableView { background: transparent; border: 1px solid $line; border-radius: 7px; outline: 0;
  alternate-background-color: $surface; selection-background-color: $accent_soft;
  selection-color: $text; }
QTableView::item { padding: 2px 6px; border: none; }
QTableView::item:selected { background: $accent_soft; color: $text; }
QTableView::item:focus { border: 1px solid $accent; }
QTableView:focus { border: 2px solid $accent; }
QTableView QLineEdit { border-radius: 0; padding: 0 4px; }
QTableView QTableCornerButton::section { background: transparent; border: none; }
QAbstractScrollArea::corner { background: transparent; border: none; }
QHeaderView { background: transparent; }
QHeaderView::section { background: transparent; color: $quiet_text; border: none;
  padding: 4px 6px; font-size: ${small}pt; }

QMenuBar { background: transparent; }
QMenuBar::item { padding: 6px 10px; border-radius: 6px; background: transparent; }
QMenuBar::item:selected { background: $accent_soft; }
QMenu { background: $field; border: 1px solid $line; padding: 5px; }
QMenu::item { padding: 6px 26px 6px 24px; border-radius: 5px; }
QMenu::item:selected { background: $accent_soft; }
QMenu::item:disabled { color: $quiet_text; }
QMenu::separator { height: 1px; background: $line; margin: 5px 8px; }
QMenu::indicator { width: 12px; height: 12px; left: 6px; }

QSplitter::handle { background: $line; }
QSplitter::handle:hover { background: $accent; }
QProgressBar { background: $surface; border: 1px solid $line; border-radius: 6px;
  text-align: center; min-height: 18px; }
QProgressBar::chunk { background: $accent_soft; border-radius: 5px; }
""")


def load_fonts() -> None:
    """Make the bundled typeface known, in regular and bold."""
    for path in sorted(FONT_FOLDER.glob("*.ttf")):
        QFontDatabase.addApplicationFont(str(path))


def follow_desktop(choice: ThemeChoice) -> None:
    """Tell Qt, and with it the desktop's own dialogs, which colours are wanted."""
    hints = QGuiApplication.styleHints()
    if choice == "system":
        hints.unsetColorScheme()
    else:
        dark, light = Qt.ColorScheme.Dark, Qt.ColorScheme.Light
        hints.setColorScheme(light if choice == "light" else dark)


def colour(theme: Theme, percent: int = 100) -> None:
    """Give the whole program the palette of a theme, and a font of this size."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        return
    font = QFont("DejaVu Sans")
    font.setPointSizeF(TEXT_PT * percent / 100)
    app.setFont(font)
    app.setPalette(make_palette(theme))


def dress(theme: Theme, percent: int = 100) -> None:
    """Give the whole program the looks of a theme, and text of this size."""
    colour(theme, percent)
    app = QApplication.instance()
    if isinstance(app, QApplication):
        app.setStyleSheet(style_sheet(theme, percent))


def style_sheet(theme: Theme, percent: int = 100) -> str:
    """Fill the theme's colours and the sizes of text into the style sheet."""
    text = TEXT_PT * percent / 100
    return _SHEET.substitute(
        background=theme.background,
        surface=theme.surface,
        field=theme.field,
        text=theme.text,
        quiet_text=theme.quiet_text,
        accent=theme.accent,
        accent_soft=theme.accent_soft,
        on_accent=theme.on_accent,
        warn=theme.warn,
        warn_soft=theme.warn_soft,
        line=theme.line,
        edge=theme.edge,
        small=text * 0.9,
        title=text * 1.3,
        figure=text * 1.55,
    )


def make_palette(theme: Theme) -> QPalette:
    """Return the colours that widgets paint themselves with."""
    role, group = QPalette.ColorRole, QPalette.ColorGroup
    palette = QPalette()
    for which, name in (
        (role.Window, theme.background),
        (role.WindowText, theme.text),
        (role.Base, theme.field),
        (role.AlternateBase, theme.surface),
        (role.Text, theme.text),
        (role.PlaceholderText, theme.quiet_text),
        (role.Button, theme.surface),
        (role.ButtonText, theme.text),
        (role.Highlight, theme.accent),
        (role.HighlightedText, theme.on_accent),
        (role.Accent, theme.accent),
        (role.Link, theme.accent),
        (role.ToolTipBase, theme.surface),
        (role.ToolTipText, theme.text),
        (role.Mid, theme.edge),
        (role.Dark, theme.line),
        (role.Light, theme.surface),
    ):
        palette.setColor(which, QColor(name))
    for which in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(group.Disabled, which, QColor(theme.quiet_text))
    return palette
