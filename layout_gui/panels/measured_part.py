"""What the batches of each run tell, in sentences, and the button that takes it into the plan."""

from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Final

from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from geometry.errors import GeometryError
from geometry.flow.measured import Lived, Told, survivals, told_by
from geometry.model.project import Project
from geometry.model.run import Run
from geometry.tongue import number, plural, signed, tr
from layout_gui.panels.parts import button, label
from layout_gui.project.edits_log import is_own_crop, use_measured

_MOST: Final = 6


def percent(share: Fraction | float) -> str:
    """Write a share for people to read."""
    return signed(f"{100 * float(share):.3g} %")


def measured_lines(told: Told) -> Iterator[str]:
    """Say what the batches of a run tell, step by step."""
    for each in told.lived:
        yield _lived_words(each)
    if told.weighed is not None:
        yield tr(
            "A plant weighed {grams} g on average: {plants} of {batches}.",
            grams=number(float(told.weighed.each), 0),
            plants=plural(told.weighed.plants, "plant"),
            batches=plural(told.weighed.batches, "batch", "batches"),
        )


def _lived_words(lived: Lived) -> str:
    values = {
        "share": percent(lived.share),
        "went_on": lived.went_on,
        "began": lived.began,
        "batches": plural(lived.batches, "batch", "batches"),
    }
    match lived.step, lived.since:
        case "up", _:
            words = tr("{share} came up ({batches}: {went_on} of {began} seeds)", **values)
        case "set", "seeds":
            words = tr("{share} were set afloat ({batches}: {went_on} of {began} seeds)", **values)
        case "set", _:
            words = tr(
                "{share} of what came up were set afloat ({batches}: {went_on} of {began})",
                **values,
            )
        case _:
            words = tr(
                "{share} of what was set were picked ({batches}: {went_on} of {began})", **values
            )
    if lived.batches == 1:
        return tr("{words}. One batch is little to go by.", words=words)
    return tr(
        "{words}, from {least} to {most}.",
        words=words,
        least=percent(lived.least),
        most=percent(lived.most),
    )


def change_lines(project: Project, run: Run, told: Told) -> Iterator[str]:
    """Say what taking it over would change."""
    found = sorted(survivals(run, told).items())
    for at, share in found:
        stage = run.stages[at]
        if stage.survival != share:
            yield tr(
                "{stage}: {before} in the plan now, {after} by what was measured",
                stage=stage.name,
                before=percent(stage.survival),
                after=percent(share),
            )
    if sum(bool(run.stages[at].bed) for at, _ in found) > 1:
        yield tr("What is lost on the water cannot be told apart: all of it is in the last stage.")
    if told.weighed is not None and run.crop and is_own_crop(project, run.crop):
        yield tr("{crop}: what a plant weighs", crop=run.crop)


class MeasuredPart(QFrame):
    """One run after the other; ``use`` is asked to take what one of them tells into the plan."""

    def __init__(self, use: Callable[[str], object], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        self._use = use
        self._shown: object = None
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(14, 10, 14, 10)
        self._box.setSpacing(4)
        self._inside: QWidget | None = None

    def show_project(self, project: Project) -> None:
        """Show what the log of a project tells."""
        shown = (project.log.batches, project.runs, project.crops)
        if shown == self._shown:
            return
        self._shown = shown
        if self._inside is not None:
            self._box.removeWidget(self._inside)
            self._inside.hide()
            self._inside.deleteLater()
        self._inside = self._made(project)
        self.setVisible(self._inside is not None)
        if self._inside is not None:
            self._box.addWidget(self._inside)

    def _made(self, project: Project) -> QWidget | None:
        runs = list(dict.fromkeys(batch.run for batch in project.log.batches))
        told = [each for run in runs if any((each := told_by(project.log.batches, run)).lived)
                or each.weighed]  # fmt: skip
        if not told:
            return None
        made = QWidget()
        box = QVBoxLayout(made)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(4)
        for each in told[:_MOST]:
            box.addWidget(label(tr("Measured: {run}", run=each.run), "heading"))
            box.addWidget(label("\n".join(measured_lines(each))))
            self._offer(project, each, box)
        box.addWidget(
            label(
                tr(
                    "All plants of the batches are counted together, so that a large batch tells "
                    "more than a small one."
                ),
                "quiet",
            )
        )
        return made

    def _offer(self, project: Project, told: Told, box: QVBoxLayout) -> None:
        run = next((each for each in project.runs if each.name == told.run), None)
        if run is None:
            return
        try:
            use_measured(project, run.name)
        except GeometryError as error:
            box.addWidget(label(str(error), "quiet"))
            return
        box.addWidget(label("\n".join(change_lines(project, run, told)), "quiet"))
        press = button(tr("Use what you measured"), lambda: self._use(run.name))
        press.setAccessibleName(tr("Use what you measured of {run}", run=run.name))
        row = QWidget()
        line = QVBoxLayout(row)
        line.setContentsMargins(0, 2, 0, 4)
        line.addWidget(press)
        press.setSizePolicy(press.sizePolicy().Policy.Maximum, press.sizePolicy().Policy.Fixed)
        box.addWidget(row)
