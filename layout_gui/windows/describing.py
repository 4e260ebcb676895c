"""Name, author, revision, date and notes of the project, as one undo step."""

from PySide6.QtWidgets import QWidget

from geometry.errors import GeometryError
from geometry.model.project import Details
from geometry.tongue import tr
from layout_gui.dialogs.details_dialog import DetailsDialog
from layout_gui.document.document import Document
from layout_gui.project import edits


def describe(document: Document, window: QWidget) -> None:
    """Ask for the details of the project and write them down."""

    def check(name: str, details: Details) -> str:
        try:
            edits.describe(document.project, name, details)
        except GeometryError as error:
            return str(error)
        return ""

    def on_answer(key: str) -> None:
        if key == "write":
            project = edits.describe(document.project, dialog.name, dialog.details)
            document.apply(tr("Describe the project"), project)

    project = document.project
    dialog = DetailsDialog(project.name, project.details, check, window)
    dialog.answered.connect(on_answer)
    dialog.open()
