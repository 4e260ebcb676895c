"""Findings about the fit of rafts, and the words that they are told in."""

from geometry.checks.finding import Finding, SealEdge, SetLength
from geometry.units import Unit

JAM = Finding(
    "jam", "problem", "Bench bed", "R1", (), "low across", (300, 290), -10.0, 0.0,
    SetLength("clearance", 15),
)  # fmt: skip
GAP = Finding(
    "gap", "question", "Bench bed", subject="high along", amount_mm=35.0, limit_mm=20.0,
    cure=SealEdge(),
)  # fmt: skip
FIT_EXAMPLES: list[tuple[Finding, Unit, str, str]] = [
    (JAM, "mm", "Raft R1 jams at low water",
     "Across the bed 10 mm of room are missing for the largest rafts."),
    (Finding("jam", "problem", "Bench bed", "R2", (), "working wall", amount_mm=-0.02), "mm",
     "Raft R2 jams at the working level", "It reaches 0.02 mm into the wall where it lies best."),
    (GAP, "mm", "A gap can open to 35 mm at high water",
     ("That is all the room along the bed on one side, with the rafts as they are cut; your limit "
     "is 20 mm.")),
    (Finding("open-water", "question", "Bench bed", subject="low", figures=(0.04923, 0.04)), "mm",
     "4.9 % of the water lies open to light", "Your limit is 4.0 %."),
    (Finding("lift", "problem", "Bench bed", "R1", subject="brace"), "mm",
     "Raft R1 does not come out",
     ("brace lies over it wherever it is slid, lifted level. Shorter rafts come out, or a brace "
     "that can be taken off.")),
    (Finding("pressed", "problem", "Bench bed", subject="brace", amount_mm=78.4, limit_mm=70.0),
     "mm", "Rafts are pressed under the brace at high water",
     "Their upper face comes 78.4 mm above the working level; it lies at 70 mm."),
]  # fmt: skip
