"""Findings about pots, and the words that tell of them."""

from dataclasses import replace

from geometry.checks.finding import Finding, SetLength
from geometry.units import Unit

FALLS = Finding(
    "pot-falls", "problem", "Bench bed", subject="2 in", amount_mm=53.975, limit_mm=50.8,
    cure=SetLength("planting.hole_diameter", 44.45),
)  # fmt: skip
RIMS = Finding(
    "rims", "problem", "Bench bed", "R1", ("A1", "A2"), place=(1, 1), amount_mm=69.85,
    limit_mm=76.2, cure=SetLength("planting.spacing", 76.2), more=1,
)  # fmt: skip
EDGE = replace(RIMS, code="rim-edge", holes=("A1",), amount_mm=22, limit_mm=25.4, more=3)
POT_EXAMPLES: list[tuple[Finding, Unit, str, str]] = [
    (FALLS, "in", "The pot “2 in” falls through its holes",
     ("They come out 2 1/8 in wide, and nothing of it is wider than 2 in. A saw of 1 3/4 in suits "
     "it.")),
    (replace(FALLS, zone="herbs"), "mm", "The pot “2 in” falls through its holes",
     ("They come out 54 mm wide, and nothing of it is wider than 50.8 mm. This is so in the zone "
     "“herbs”. A saw of 44.45 mm (1 3/4 in) suits it.")),
    (replace(FALLS, code="pot-stuck", amount_mm=30, limit_mm=32, cure=None), "mm",
     "The pot “2 in” does not go into its holes",
     "They come out 30 mm wide; its foot alone is 32 mm."),
    (replace(FALLS, code="pot-loose", amount_mm=50, limit_mm=44, cure=None), "mm",
     "The pot “2 in” sits loose in its holes",
     "They come out 50 mm wide, and its body is 44 mm: it tips easily and lets light past."),
    (replace(FALLS, code="pot-proud", amount_mm=12.5, limit_mm=5, cure=None), "mm",
     "The pot “2 in” stands proud of its holes",
     "Its taper catches 12.5 mm below the rim; up to 5 mm is common practice, no source."),
    (replace(FALLS, code="pot-slips", amount_mm=26, limit_mm=25, cure=None), "mm",
     "The plug “2 in” slips out of its collar",
     "The hole of the collar is 26 mm, and its body 25 mm."),
    (RIMS, "mm", "Holes R1 A1 and A2 have pots whose rims touch",
     "Their centres are 69.8 mm apart; the rims of their pots take 76.2 mm. 1 more is like it."),
    (EDGE, "mm", "Hole R1 A1 has a pot that reaches over the edge",
     "Its centre is 22 mm from the edge; the rim of its pot takes 25.4 mm. 3 more are like it."),
    (replace(EDGE, amount_mm=-2, more=0), "mm", "Hole R1 A1 has a pot that reaches over the edge",
     "Its centre lies off the raft; the rim of its pot takes 25.4 mm."),
    (replace(EDGE, code="rim-obstacle", subject="standpipe", more=0), "mm",
     "Hole R1 A1 has a pot that lies on the standpipe",
     "Its centre is 22 mm away; the rim of its pot takes 25.4 mm."),
]  # fmt: skip
