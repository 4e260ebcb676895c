"""What is found about runs, in the grower's words."""

from geometry.checks.finding import Finding, SetTarget
from geometry.tongue import tr, tr_n


def run_title(finding: Finding) -> str:
    """Say which run does not fit."""
    return tr("Not every raft of {run} finds a place", run=finding.subject)


def run_amounts(finding: Finding) -> str:
    """Say how many rafts are left over, and from which day on."""
    if finding.day:
        return tr_n(
            "On {day} there is no place for {n} raft.",
            "On {day} there is no place for {n} rafts.",
            finding.rafts,
            day=finding.day,
        )
    return tr_n(
        "There is no place for {n} raft once all batches are under way.",
        "There is no place for {n} rafts once all batches are under way.",
        finding.rafts,
    )


def run_no_cure() -> str:
    """Say what helps where no smaller batch does."""
    return tr("It takes more days between sowings, another bed, or fewer other runs.")


def run_remedy(cure: SetTarget) -> str:
    """Say how large a batch finds room."""
    return tr_n("A batch of {n} finds room.", "Batches of {n} find room.", cure.plants)


def target_label(cure: SetTarget) -> str:
    """Name the change of a target, as an order."""
    return tr("Want {n} of each batch of {run}", n=cure.plants, run=cure.run)
