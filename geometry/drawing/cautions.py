"""What to mind, for paper and window alike."""

from typing import Final

from geometry.tongue import mark

CAUTIONS: Final = (
    (
        mark("Foam dust"),
        mark(
            "Wear a mask and vacuum while you cut and drill. Drill away from the water, wash "
            "the raft, then float it: chips clog pumps and are eaten by fish."
        ),
    ),
    (
        mark("Saws and drills"),
        mark(
            "Clamp the raft on a board. Wear eye and ear protection. No gloves, loose sleeves "
            "or loose hair near a spinning saw. Start slowly and expect a kick when the teeth "
            "grab. Unplug before you change the saw."
        ),
    ),
    (
        mark("Hot wire, hot knife, flame"),
        mark(
            "Melted foam gives harmful fumes: work in the open or with the air drawn off. "
            "Foam burns: keep sparks and flames away. Never put polystyrene foam in a laser "
            "cutter."
        ),
    ),
    (
        mark("Lifting and carrying"),
        mark(
            "A planted raft is heavy and weak: two people, two hands each, under the long edges. "
            "Foam snaps along rows of holes. Wet floors are slippery: clear the way before you "
            "lift."
        ),
    ),
    (
        mark("Paint"),
        mark(
            "Let paint cure fully, as its maker says, before the raft touches the water. "
            "Paint both faces alike, or the raft warps. Leave the insides of the holes to the "
            "net pots."
        ),
    ),
    (
        mark("Mains electricity near water"),
        mark(
            "Plug pumps, heaters and tools only into outlets with a residual-current device "
            "(RCD, GFCI; 30 mA or less), and test it. Keep plugs and cables above the water, "
            "with a drip loop. Switch off and unplug before you reach into the bed."
        ),
    ),
    (
        mark("Small children and open water"),
        mark(
            "A child can drown in a few centimetres of water. Cover or fence the bed, and "
            "never leave a small child alone beside it."
        ),
    ),
    (
        mark("Weight of water"),
        mark(
            "Water weighs about 100 kg on each square metre for every 10 cm of depth (about 5 "
            "lb on each square foot for every inch), without tank and frame. Floors, decks "
            "and balconies must be able to carry that."
        ),
    ),
    (
        mark("Foam and food"),
        mark(
            "Insulation board is seldom made or declared for contact with food and may hold flame "
            "retardant. Only who made the foam can say what it may touch: ask for it in writing."
        ),
    ),
    (
        mark("Who decides"),
        mark(
            "These are reminders, not advice for your case. Local codes, the makers' "
            "instructions and licensed trades decide on electricity, structures, fire and "
            "food."
        ),
    ),
)
"""Heads and texts, both marked."""

CAUTION_HEADS: Final = (
    "Mains electricity near water",
    "Small children and open water",
    "Weight of water",
    "Who decides",
)
"""The cautions that belong to a bed full of water, by their marked heads."""
