"""What an action can reach."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal, Protocol  # noqa: TID251

from geometry.units import Unit
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.stations import StationName
from layout_gui.screen.theme import ThemeChoice
from layout_gui.windows.arrivals import Arrivals
from layout_gui.windows.bed_work import BedWork
from layout_gui.windows.files import Files
from layout_gui.windows.keeping import Keeping
from layout_gui.windows.language import LanguageChoice
from layout_gui.windows.sighting import Sighting
from layout_gui.windows.things import Things

if TYPE_CHECKING:
    from layout_gui.canvas.view import BedView
    from layout_gui.panels.findings import FindingsPanel
    from layout_gui.windows.hole_work import HoleWork
    from layout_gui.windows.looking import Looking

Part = Literal["drawer", "table", "arrange", "fields", "full screen"]

LEAVES: Final[dict[Part, str]] = {"drawer": "what-if", "table": "table", "arrange": "arrange"}
"""Which leaf of the drawer a part is."""


class Desk(Protocol):
    """The window, as far as its actions know it."""

    document: Document
    selection: Selection
    files: Files
    things: Things
    bed_work: BedWork
    keeping: Keeping
    arrivals: Arrivals
    view: BedView
    findings: FindingsPanel
    looking: Looking
    is_furnished: bool
    holes: HoleWork
    sighting: Sighting
    theme_choice: ThemeChoice
    language_choice: LanguageChoice

    @property
    def units(self) -> Unit:
        """The unit that lengths are shown in, and typed in once there is a bed."""

    def go_to(self, station: StationName) -> None:
        """Go to a station."""

    def set_units(self, unit: Unit) -> None:
        """Show lengths in another unit."""

    def set_theme(self, choice: ThemeChoice) -> None:
        """Change the colours of the window."""

    def set_language(self, choice: LanguageChoice) -> None:
        """Speak another language from the next start on."""

    def give_back(self) -> None:
        """Forget the hand edits of the bed that is shown."""

    def squeeze(self) -> None:
        """Search for more holes on a raft."""

    def stop(self) -> None:
        """Give up the plan that is being made and go back to the last one."""

    def export_comparison(self, kind: str) -> None:
        """Write the comparison to pages ("pdf") or to a table ("csv")."""

    def print_pages(self) -> None:
        """Print the pages of the document in sight."""

    @property
    def is_compared(self) -> bool:
        """Whether there is a comparison to write."""

    def give_crop(self) -> None:
        """Plant the selected rafts with another crop."""

    def next_bed(self, step: int) -> None:
        """Turn to the bed so many places further on."""

    def fold(self, part: Part) -> None:
        """Fold a part of the window away, or unfold it."""

    def is_open(self, part: Part) -> bool:
        """Tell whether a part of the window is unfolded."""

    def take_typed(self) -> None:
        """Take what stands typed in a field and is not entered yet."""

    def next_pane(self) -> None:
        """Move the keyboard to the next part of the window."""

    def guide(self) -> None:
        """Open the guide."""

    @property
    def text_percent(self) -> int:
        """How large text is, beside the size it has at first."""

    def set_text(self, percent: int) -> None:
        """Make all text of the window as large as this, beside the size it has at first."""

    def show_help(self, page: str) -> None:
        """Show a page of the help; without a name, what goes with what has the keyboard."""

    def choose_keys(self) -> None:
        """Let the person give commands other keys."""

    def describe(self) -> None:
        """Let the grower write down who drew the project up, its revision, and notes."""

    def show_machine(self) -> None:
        """Show the report about this machine."""

    def show_log(self) -> None:
        """Show what the program did."""

    def show_about(self) -> None:
        """Show what this program is."""

    def close(self) -> bool:
        """Close the window, asking about unsaved changes."""
