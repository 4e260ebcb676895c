"""When an action may be done."""

from layout_gui.windows.desk import Desk


def always(_desk: Desk) -> bool:
    """Whatever the state."""
    return True


def has_bed(desk: Desk) -> bool:
    """There is a bed."""
    return bool(desk.document.beds)


def has_holes(desk: Desk) -> bool:
    """Holes are selected."""
    return bool(desk.selection.holes)


def has_some(desk: Desk) -> bool:
    """Holes or rafts are selected."""
    return bool(desk.selection.holes or desk.selection.rafts)


def has_planting(desk: Desk) -> bool:
    """Some bed is planted."""
    return any(bed.planting is not None for bed in desk.document.beds)


def is_planted(desk: Desk) -> bool:
    """The bed that is shown is planted."""
    beds = [bed for bed in desk.document.beds if bed.name == desk.selection.bed]
    return any(bed.planting is not None for bed in beds)


def has_hand_edits(desk: Desk) -> bool:
    """The bed that is shown has holes pinned or left out by hand."""
    beds = [bed for bed in desk.document.beds if bed.name == desk.selection.bed]
    return any(bed.planting and (bed.planting.pins or bed.planting.blanks) for bed in beds)


def is_compared(desk: Desk) -> bool:
    """There is a comparison to write."""
    return desk.is_compared


def has_findings(desk: Desk) -> bool:
    """There is a finding to show."""
    return has_bed(desk) and bool(desk.document.plan.findings)


def has_picked_line(desk: Desk) -> bool:
    """A guide line is picked."""
    return has_bed(desk) and desk.is_furnished and desk.view.aids.picked is not None


def has_guide_lines(desk: Desk) -> bool:
    """The bed that is shown has guide lines."""
    return has_bed(desk) and any(
        line.bed == desk.selection.bed for line in desk.document.project.guide_lines
    )


def has_picked(desk: Desk) -> bool:
    """Anything is selected."""
    return bool(desk.selection.holes or desk.selection.rafts or desk.selection.thing)


def has_several_beds(desk: Desk) -> bool:
    """There is more than one bed."""
    return len(desk.document.beds) > 1


def has_saved_file(desk: Desk) -> bool:
    """A saved file differs from the project."""
    return desk.document.path is not None and desk.document.is_modified
