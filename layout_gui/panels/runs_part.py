"""What is sown, and when: the runs of the project, their stages, and what they take and give."""

from collections.abc import Callable
from datetime import date, timedelta
from fractions import Fraction
from typing import Any, Final

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from geometry.checks.run_fit import RunFit
from geometry.crops.table import all_crops
from geometry.drawing.run_figures import lack_words
from geometry.errors import GeometryError
from geometry.first_run import assumptions
from geometry.flow.household import USUAL_KEEPS
from geometry.flow.room import Taken
from geometry.flow.run_plan import Rooms, RunPlan
from geometry.flow.what_if import at_one_density, loss_of, sow_for
from geometry.model.log import Log
from geometry.model.project import Project
from geometry.model.run import Run, RunStage, SlowTime
from geometry.plan import Plan
from geometry.running import plan_runs, rooms, take_places
from geometry.tongue import mark, number, tr
from layout_gui.document.document import Document
from layout_gui.panels import dates
from layout_gui.panels.dates import date_text, read_day
from layout_gui.panels.fields import CountField, TextField
from layout_gui.panels.flow import named
from layout_gui.panels.form import Field, Form, Options
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Fold, ItemList, button, label, side_by_side, stack
from layout_gui.panels.run_words import (
    batch_words,
    calendar_words,
    density_words,
    loss_words,
    order_words,
    places_words,
    span_words,
    stage_line,
    stage_words,
    target_words,
    week_words,
)
from layout_gui.panels.words import counted
from layout_gui.project import edits_runs

_WINTER: Final = Fraction(3, 2)
_NO_END: Final = mark("no end")
_MOST: Final = 10**9


class RunsPart(QWidget):
    """The runs, the fields of the one that is picked, and its figures.

    ``today`` tells the day on which it is asked; a first run begins on the Monday after it.
    """

    def __init__(self, document: Document, *, today: Callable[[], date] | None = None) -> None:
        super().__init__()
        self._document = document
        self._today = today or dates.today
        self._now: Now | None = None
        self._asked: tuple[RunFit, Log, tuple[RunPlan, ...], Taken] | None = None
        self._dense: tuple[Run, Rooms, str] | None = None
        self.words = label("", "quiet")
        self.begin = button(tr("Plan what is sown"), self._begin, "primary")
        self.items = ItemList(
            mark("Runs"),
            (
                (mark("Add"), self._begin),
                (mark("Duplicate"), self._double),
                (mark("Remove"), self._remove),
            ),
        )
        self.items.picked.connect(lambda _row: self._show_run())
        self.figures = label("")
        self.assumed = label("", "quiet")
        self.form = Form(self._fields(), document)
        self.stages = ItemList(
            mark("Stages"),
            (
                (mark("Add"), self._add_stage),
                (mark("Earlier"), lambda: self._move_stage(-1)),
                (mark("Later"), lambda: self._move_stage(1)),
                (mark("Remove"), self._remove_stage),
            ),
        )
        self.stages.picked.connect(lambda _row: self._show_run())
        self.stage_form = Form(self._stage_fields(), document)
        self.home = self._home_part()
        self.times = Fold(tr("Pauses and slow times"), *self._times_parts())
        self.more = Fold(tr("Standing, cleaning, packs"), Form(self._more_fields(), document))
        self.what_if = Fold(tr("Failures and orders"), *self._what_if_parts())
        self._inside = stack(
            self.items, self.figures, self.form, self.home, label(tr("Stages"), "heading"),
            self.stages, self.stage_form, self.assumed, self.times, self.more, self.what_if,
        )  # fmt: skip
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(stack(self.words, side_by_side(self.begin), self._inside))

    @property
    def run(self) -> Run | None:
        """The run that is picked."""
        runs = self._now.project.runs if self._now else ()
        return runs[self.items.row] if 0 <= self.items.row < len(runs) else None

    @property
    def at(self) -> int:
        """The place of the stage that is picked."""
        return max(self.stages.row, 0)

    def pick(self, name: str) -> None:
        """Show the run of this name, if there is one."""
        names = [run.name for run in self._now.project.runs] if self._now else []
        if name in names:
            self.items.list.setCurrentRow(names.index(name))

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        self._now = now
        runs = now.project.runs
        plans = {made.run.name: made for made in self._plans()}
        self.items.show_items(
            [_run_line(run, plans.get(run.name)) for run in runs], max(self.items.row, 0)
        )
        self.begin.setVisible(not runs)
        self.begin.setEnabled(now.bed is not None)
        self._inside.setVisible(bool(runs))
        self.words.setText(
            tr("Batch after batch, so that something is ripe every week.") if not runs else ""
        )
        self.words.setVisible(not runs)
        self._show_run()

    def _show_run(self) -> None:
        now, run, made = self._now, self.run, self._made()
        if now is None or run is None:
            return
        lines = [stage_line(run, at, made) for at in range(len(run.stages))]
        self.stages.show_items(lines, self.at)
        if made is not None:
            self.figures.setText(self._figures(made))
        said = " ".join(assumptions(run, now.project.crops))
        self.assumed.setText(tr("Assumed until you know better: {said}", said=said) if said else "")
        self.assumed.setVisible(bool(said))
        for name in ("Earlier", "Later", "Remove"):
            self.stages.buttons[name].setEnabled(len(run.stages) > 1)
        for form in self.findChildren(Form):
            form.show_now(now)
        self._show_times()
        self._tell()

    def _figures(self, made: RunPlan) -> str:
        if made.lack or self._now is None or self._asked is None:
            return lack_words(made)
        plan, taken = self._now.plan, self._asked[-1]
        beds = [(bed.bed.name, len(bed.rafts)) for bed in plan.beds]
        own = {bed for stage in made.stages for bed in stage.beds}
        return "\n".join(
            filter(
                None,
                (
                    batch_words(made),
                    calendar_words(made),
                    places_words(
                        taken,
                        [each for each in beds if each[0] in own],
                        plan.project.supplies.spares,
                    ),
                    self._density_words(made, plan),
                ),
            )
        )

    def _density_words(self, made: RunPlan, plan: Plan) -> str:
        """Compare with one spacing all along, once for each run and plan."""
        if self._dense is None or self._dense[:2] != (made.run, plan.run_fit.rooms):
            other = at_one_density(made.run, rooms(plan))
            self._dense = (made.run, plan.run_fit.rooms, density_words(made, other))
        return self._dense[2]

    def _plans(self) -> tuple[RunPlan, ...]:
        """Return the runs reckoned through, again only where runs, rooms or the log are others."""
        if self._now is None:
            return ()
        plan = self._now.plan
        asked = self._asked
        if asked is None or asked[0] is not plan.run_fit or asked[1] is not plan.project.log:
            made = plan_runs(plan)
            asked = self._asked = (plan.run_fit, plan.project.log, made, take_places(made))
        return asked[2]

    def _made(self) -> RunPlan | None:
        """Return the run that is picked, reckoned through; None until its plan is there."""
        plans, run = self._plans(), self.run
        return next((made for made in plans if run and made.run.name == run.name), None)

    # What the buttons do.

    def _apply(self, words: str, make: Callable[[Project], Project]) -> bool:
        try:
            project = make(self._document.project)
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return False
        self._document.apply(words, project)
        return True

    def _begin(self) -> None:
        """Begin with the crop of the bed in sight, and what is known of it."""
        if self._now is None or self._now.bed is None:
            return
        bed, planting = self._now.bed.name, self._now.planting
        today = self._today()
        monday = today + timedelta(days=7 - today.weekday())
        rafts = len(self._now.bed_plan.rafts) if self._now.bed_plan else 0
        crop = planting.crop if planting else ""
        run = edits_runs.fresh_run(self._now.project, bed, crop, monday, rafts)
        row = len(self._now.project.runs)
        if self._apply(tr("Plan {run}", run=run.name), lambda p: edits_runs.add_run(p, run)):
            self.items.list.setCurrentRow(row)

    def _double(self) -> None:
        run = self.run
        if run is not None:
            self._apply(
                tr("Duplicate {run}", run=run.name),
                lambda p: edits_runs.duplicate_run(p, run.name)[0],
            )

    def _remove(self) -> None:
        run = self.run
        if run is not None:
            self._apply(
                tr("Remove {run}", run=run.name), lambda p: edits_runs.remove_run(p, run.name)
            )

    def _add_stage(self) -> None:
        run, at = self.run, self.at
        if run is not None and self._apply(
            tr("Add a stage"), lambda p: edits_runs.add_stage(p, run.name, at)
        ):
            self.stages.list.setCurrentRow(at + 1)

    def _move_stage(self, by: int) -> None:
        run, at = self.run, self.at
        if run is not None and 0 <= at + by < len(run.stages):
            self.stages.list.setCurrentRow(at + by)
            self._apply(
                tr("Move the stage {stage}", stage=run.stages[at].name),
                lambda p: edits_runs.move_stage(p, run.name, at, by),
            )

    def _remove_stage(self) -> None:
        run, at = self.run, self.at
        if run is not None:
            self._apply(
                tr("Remove the stage {stage}", stage=run.stages[at].name),
                lambda p: edits_runs.remove_stage(p, run.name, at),
            )

    # A household.

    def _home_part(self) -> Fold:
        self.eaten = CountField(least=1, most=10_000)
        self.eaten.show_value(8)
        self.eaten.setAccessibleName(tr("Eaten a week"))
        self.keeps = CountField(least=1, most=365)
        self.keeps.show_value(USUAL_KEEPS)
        self.keeps.setSuffix(tr(" days"))
        self.keeps.setAccessibleName(tr("Days a ripe one may stand"))
        return Fold(
            tr("So many a week for us"),
            label(
                tr(
                    "Small batches, sown so often that nothing stands ripe for longer than you "
                    "say. A head of lettuce stands for about a week (common practice, no source)."
                ),
                "quiet",
            ),
            side_by_side(named(tr("Eaten a week"), self.eaten)),
            side_by_side(named(tr("May stand ripe"), self.keeps)),
            side_by_side(button(tr("Sow for that"), self._eat)),
        )

    def _eat(self) -> None:
        run = self.run
        if run is not None:
            self._apply(
                tr("Sow for {n} a week", n=self.eaten.value()),
                lambda p: edits_runs.eat_weekly(
                    p, run.name, self.eaten.value(), self.keeps.value()
                ),
            )

    # Pauses and slow times.

    def _times_parts(self) -> tuple[QWidget, ...]:
        self.pauses = ItemList(
            mark("Pauses"),
            ((mark("Add"), self._add_pause), (mark("Remove"), lambda: self._drop("pauses"))),
        )
        self.pauses.picked.connect(lambda _row: self._show_times())
        self.pause_form = Form(
            [*self._span_fields("pauses", self._pause_row), self._why_field()], self._document
        )
        self.slow = ItemList(
            mark("Slow times"),
            ((mark("Add"), self._add_slow), (mark("Remove"), lambda: self._drop("slow_times"))),
        )
        self.slow.picked.connect(lambda _row: self._show_times())
        self.slow_form = Form(
            [*self._span_fields("slow_times", self._slow_row), self._factor_field()],
            self._document,
        )
        return (
            label(tr("Nothing is sown in a pause; the weekday stays."), "quiet"),
            self.pauses,
            self.pause_form,
            label(tr("A stage that begins in a slow time takes so much longer."), "quiet"),
            self.slow,
            self.slow_form,
        )

    def _pause_row(self) -> int:
        return self.pauses.row

    def _slow_row(self) -> int:
        return self.slow.row

    def _show_times(self) -> None:
        run = self.run
        if run is None or self._now is None:
            return
        parts: tuple[tuple[ItemList, Form, list[str]], ...] = (
            (
                self.pauses,
                self.pause_form,
                [
                    ", ".join(filter(None, (span_words(each.first, each.last), each.why)))
                    for each in run.pauses
                ],
            ),
            (
                self.slow,
                self.slow_form,
                [
                    tr(
                        "{span}, {factor} times as long",
                        span=span_words(each.first, each.last),
                        factor=number(float(each.factor)),
                    )
                    for each in run.slow_times
                ],
            ),
        )
        for items, form, texts in parts:
            items.show_items(texts, max(items.row, 0))
            items.buttons["Remove"].setEnabled(bool(texts))
            form.setVisible(bool(texts))
            if texts:
                form.show_now(self._now)
        said = [
            counted(len(texts), thing)
            for (_, _, texts), thing in zip(parts, ("pause", "slow time"), strict=True)
            if texts
        ]
        self.times.set_note(", ".join(said))

    def _add_pause(self) -> None:
        run = self.run
        if run is not None:
            first = run.first or self._today()
            self._apply(tr("Add a pause"), lambda p: edits_runs.add_pause(p, run.name, first))

    def _add_slow(self) -> None:
        run = self.run
        if run is None:
            return
        year = (run.first or self._today()).year
        slow = SlowTime(date(year, 11, 1), date(year + 1, 2, 15), _WINTER)
        self._apply(tr("Add a slow time"), lambda p: edits_runs.add_slow_time(p, run.name, slow))

    def _drop(self, part: str) -> None:
        run = self.run
        row = self.pauses.row if part == "pauses" else self.slow.row
        if run is not None and row >= 0:
            words = tr("Remove a pause") if part == "pauses" else tr("Remove a slow time")
            self._apply(words, lambda p: edits_runs.remove_part(p, run.name, part, row))

    # What if.

    def _what_if_parts(self) -> tuple[QWidget, ...]:
        self.lost = CountField(least=1, most=100_000)
        self.lost.setAccessibleName(tr("Batch that fails"))
        self.lost_on = TextField(empty_means=tr("day"))
        self.lost_on.setAccessibleName(tr("Found on"))
        self.loss = label("")
        self.ordered = CountField(least=1, most=_MOST)
        self.ordered.show_value(50)
        self.ordered.setAccessibleName(tr("Plants ordered"))
        self.ordered_for = TextField(empty_means=tr("day"))
        self.ordered_for.setAccessibleName(tr("Wanted on"))
        self.order = label("")
        self.lost.stepped.connect(lambda _value: self._tell())
        self.ordered.stepped.connect(lambda _value: self._tell())
        for field in (self.lost_on, self.ordered_for):
            field.editingFinished.connect(self._tell)
        return (
            side_by_side(named(tr("Batch"), self.lost), named(tr("found dead on"), self.lost_on)),
            self.loss,
            side_by_side(
                named(tr("Plants"), self.ordered), named(tr("ordered for"), self.ordered_for)
            ),
            self.order,
        )

    def _tell(self) -> None:
        """Say what a failure or an order means, as far as its day is typed."""
        self._say(
            self.loss, self.lost_on, lambda made, day: loss_words(
                loss_of(made, self.lost.value(), day))
        )  # fmt: skip
        self._say(
            self.order, self.ordered_for, lambda made, day: order_words(
                sow_for(made, self.ordered.value(), day))
        )  # fmt: skip

    def _say(self, said: QLabel, field: TextField, tell: Callable[[RunPlan, date], str]) -> None:
        made, text, words = self._made(), field.text().strip(), ""
        if text and made is not None and not made.lack:
            try:
                words = tell(made, read_day(text))
            except GeometryError as error:
                words = str(error)
        said.setText(words)
        said.setVisible(bool(words))

    # Fields.

    def _given(self, now: Now) -> Run:
        runs = now.project.runs
        if not 0 <= self.items.row < len(runs):
            raise GeometryError(tr("Choose a run first."))
        return runs[self.items.row]

    def _has(self, now: Now) -> bool:
        return 0 <= self.items.row < len(now.project.runs)

    def _field(self, name: str, words: str, kind: Any, **more: Any) -> Field:
        """Make a field of the run for a value of the model."""
        return Field(
            f"run-{name}",
            words,
            kind,
            read=lambda now: getattr(self._given(now), name) if self._has(now) else None,
            write=lambda now, value: edits_runs.set_run(
                now.project, self._given(now).name, **{name: value}
            ),
            **more,
        )

    def _day_field(self, name: str, words: str, empty: str, **more: Any) -> Field:
        def read(now: Now) -> str | None:
            day = getattr(self._given(now), name) if self._has(now) else None
            return date_text(day) if day else None

        return Field(
            f"run-{name}",
            words,
            "text",
            read=read,
            write=lambda now, text: edits_runs.set_run(
                now.project, self._given(now).name, **{name: read_day(text) if text else None}
            ),
            empty_means=empty,
            **more,
        )

    def _follow(self, words: Callable[[RunPlan], str]) -> Callable[[Now], str]:
        def follows(_now: Now) -> str:
            made = self._made()
            return words(made) if made is not None else ""

        return follows

    def _fields(self) -> list[Field]:
        return [
            self._field("name", mark("Name"), "text"),
            self._field("crop", mark("Crop"), "choice", options=_crop_options),
            self._field("every", mark("Days from sowing to sowing"), "count", most=3650),
            self._field(
                "target", mark("Wanted of each"), "count", most=_MOST,
                empty_means=mark("what fits"), follows=self._follow(target_words),
                hint=mark("Plants that each batch shall bring to the table"),
            ),
            self._day_field("first", mark("First sowing"), mark("no day yet")),
            self._day_field("until", mark("Last picking"), _NO_END),
            self._field(
                "share_rafts", mark("Batches share rafts"), "switch",
                hint=mark("Batches stand side by side on a raft and are as small as wanted"),
            ),
        ]  # fmt: skip

    def _more_fields(self) -> list[Field]:
        none = mark("none")
        return [
            self._number("stands", mark("A ripe batch stands"), 365,
                         mark("Days until the last of it is picked")),
            self._field("picks", mark("Picked, times"), "count", most=100,
                        hint=mark("More than once where a crop is cut and comes again")),
            self._field("pick_every", mark("Days between pickings"), "count", most=3650,
                        shown=lambda now: self._has(now) and self._given(now).picks > 1),
            self._number("turn_days", mark("Place stays free"), 365,
                         mark("Days for cleaning between two rafts")),
            self._field("seed_pack", mark("Seeds in a pack"), "count", most=_MOST,
                        empty_means=none),
            self._field("plug_pack", mark("Plugs in a pack"), "count", most=_MOST,
                        empty_means=none),
        ]  # fmt: skip

    def _number(self, name: str, words: str, most: int, hint: str) -> Field:
        """Make a field of days in which nothing typed means none."""
        return Field(
            f"run-{name}",
            words,
            "count",
            read=lambda now: (getattr(self._given(now), name) or None) if self._has(now) else None,
            write=lambda now, value: edits_runs.set_run(
                now.project, self._given(now).name, **{name: value or 0}
            ),
            most=most,
            empty_means=mark("no day"),
            hint=hint,
        )

    def _stage(self, now: Now) -> RunStage:
        stages = self._given(now).stages
        return stages[min(self.at, len(stages) - 1)]

    def _stage_field(
        self,
        name: str,
        words: str,
        kind: Any,
        *,
        shows: Callable[[RunStage], object] | None = None,
        takes: Callable[[Any], object] = lambda value: value,
        **more: Any,
    ) -> Field:
        def read(now: Now) -> object:
            if not self._has(now):
                return None
            stage = self._stage(now)
            return shows(stage) if shows else getattr(stage, name)

        return Field(
            f"stage-{name}",
            words,
            kind,
            read=read,
            write=lambda now, value: edits_runs.set_stage(
                now.project, self._given(now).name, self.at, **{name: takes(value)}
            ),
            **more,
        )

    def _stage_fields(self) -> list[Field]:
        def afloat(now: Now) -> bool:
            return self._has(now) and bool(self._stage(now).bed)

        def takes(_now: Now) -> str:
            made = self._made()
            return stage_words(made, self.at) if made and self.at < len(made.stages) else ""

        return [
            self._stage_field("name", mark("Stage"), "text"),
            self._stage_field("days", mark("Days"), "count", most=3650),
            self._stage_field(
                "survival", mark("Go on"), "text",
                shows=lambda stage: f"{number(float(stage.survival * 100))} %",
                takes=read_percent,
                hint=mark("Of the plants that begin this stage, so many are fit to go on"),
            ),
            self._stage_field("bed", mark("Floats in"), "choice", options=_bed_options,
                              follows=takes),
            self._stage_field(
                "more_beds", mark("And in"), "text", shown=afloat,
                shows=lambda stage: ", ".join(stage.more_beds),
                takes=lambda text: tuple(filter(None, map(str.strip, text.split(",")))),
                empty_means=mark("no other bed"),
                hint=mark("More beds with places for it, with a comma between"),
            ),
            self._stage_field(
                "crop", mark("On the rafts of"), "choice", options=_raft_options,
                shown=lambda now: afloat(now) and len(_crops_in(now)) > 1,
                hint=mark("In a bed of several crops: whose rafts it takes"),
            ),
            self._stage_field(
                "sites", mark("Plants on a raft"), "count", most=_MOST, shown=afloat,
                empty_means=mark("as it holds"),
            ),
        ]  # fmt: skip

    def _span_fields(self, part: str, row: Callable[[], int]) -> list[Field]:
        def own(now: Now) -> Any:
            parts = getattr(self._given(now), part) if self._has(now) else ()
            return parts[row()] if 0 <= row() < len(parts) else None

        def field(name: str, words: str) -> Field:
            return Field(
                f"{part}-{name}",
                words,
                "text",
                read=lambda now: date_text(getattr(own(now), name)) if own(now) else None,
                write=lambda now, text: edits_runs.set_part(
                    now.project, self._given(now).name, part, row(), **{name: read_day(text)}
                ),
            )

        return [field("first", mark("From")), field("last", mark("To"))]

    def _why_field(self) -> Field:
        def own(now: Now) -> Any:
            pauses = self._given(now).pauses if self._has(now) else ()
            return pauses[self.pauses.row] if 0 <= self.pauses.row < len(pauses) else None

        return Field(
            "pauses-why", mark("Why"), "text",
            read=lambda now: own(now).why if own(now) else None,
            write=lambda now, text: edits_runs.set_part(
                now.project, self._given(now).name, "pauses", self.pauses.row, why=text or ""
            ),
            empty_means=mark("such as holidays"),
        )  # fmt: skip

    def _factor_field(self) -> Field:
        def own(now: Now) -> Any:
            slow = self._given(now).slow_times if self._has(now) else ()
            return slow[self.slow.row] if 0 <= self.slow.row < len(slow) else None

        return Field(
            "slow-factor", mark("Times as long"), "number",
            read=lambda now: own(now).factor if own(now) else None,
            write=lambda now, value: edits_runs.set_part(
                now.project, self._given(now).name, "slow_times", self.slow.row,
                factor=value if value is not None else Fraction(1),
            ),
            empty_means="1",
        )  # fmt: skip


def _run_line(run: Run, made: RunPlan | None) -> str:
    words = "" if made is None else week_words(made)
    return ", ".join(filter(None, (run.name, words)))


def read_percent(text: str) -> Fraction:
    """Read "95 %" or "95" as a share.

    Raises:
        GeometryError: it is no share above 0 and up to 100 %.
    """
    try:
        share = Fraction(text.replace("%", "").strip().replace(",", ".")) / 100
    except (ValueError, ZeroDivisionError):
        share = Fraction(0)
    if not 0 < share <= 1:
        raise GeometryError(
            tr("“{text}” is no share of the plants; write one such as 95 %.", text=text)
        )
    return share


def _crop_options(now: Now) -> Options:
    planted = [crop for bed in now.plan.beds for crop in dict.fromkeys(
        planting.crop for planting in bed.plantings) if crop]  # fmt: skip
    run = [each.crop for each in now.project.runs if each.crop]
    known = [crop.name for crop in all_crops(now.project.crops)]
    names = dict.fromkeys((*planted, *run, *known))
    return (("", tr("not named")), *((name, tr(name)) for name in names))


def _bed_options(now: Now) -> Options:
    return (
        ("", tr("not on water yet")),
        *((bed.name, bed.name) for bed in now.project.beds),
    )


def _crops_in(now: Now) -> tuple[str, ...]:
    plantings = (planting for bed in now.plan.beds for planting in bed.plantings)
    return tuple(dict.fromkeys(planting.crop for planting in plantings if planting.crop))


def _raft_options(now: Now) -> Options:
    return (("", tr("its own crop")), *((crop, tr(crop)) for crop in _crops_in(now)))
