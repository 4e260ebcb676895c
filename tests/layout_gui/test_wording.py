"""Every finding and every cure has its words, in the grower's unit."""

import re
from dataclasses import replace
from fractions import Fraction as F  # noqa: N817  many small numbers
from typing import Any, get_args

import numpy as np
import pytest

from geometry.checks.finding import (
    Code,
    Cure,
    DropFromZone,
    DropHandEdit,
    Finding,
    LeaveOut,
    MoveHole,
    SetLength,
    SetTarget,
    TakeFill,
)
from geometry.compare.counting import Counted
from geometry.compare.squeezing import Offer, Question
from geometry.compare.thresholds import Threshold
from geometry.compare.want import Found
from geometry.cutting.plan import CutPlan, CutSheet, Piece
from geometry.holes.proof import Proof
from geometry.holes.room import Squeezed
from geometry.model.sheet import Sheet
from geometry.plan import PlacedRaft
from geometry.units import Length, Unit
from layout_gui.wording.cures import cure_label, field_words
from layout_gui.wording.findings import finding_line, finding_text, finding_title
from layout_gui.wording.plans import cut_sentence, proof_sentence, proof_words, winner_sentence
from layout_gui.wording.squeezing import not_squeezed_text, squeezed_text, squeezed_title
from layout_gui.wording.thresholds import found_sentence, rounded_down, threshold_sentence
from tests.builders import make_bed_plan, make_design, make_holes, make_plan
from tests.geometry.holes.rooms import make_room
from tests.layout_gui.fit_examples import FIT_EXAMPLES
from tests.layout_gui.pot_examples import POT_EXAMPLES

ONE = Finding("obstacle", "problem", "Bench bed", "R1", ("A1",), "standpipe", (110, 110), 31, 50)
TWO = replace(ONE, code="spacing", holes=("A1", "A2"), subject="", amount_mm=181, limit_mm=200)
BED = Finding("raft-fit", "problem", "Bench bed", subject="clearance", amount_mm=300, limit_mm=289)
IDLE = Finding(
    "pin-idle", "note", "Bench bed", "R9", subject="12.5 40", cure=DropHandEdit("R9", 1, 1)
)
SHEET = Finding("sheet-fit", "problem", "", "bench-1", (), "board", None, 1300, 1250)
SCORED = "It lies 190 mm from the edge, where board is scored and may break."
SLIP = Finding(
    "unit-slip", "question", "Bench bed", subject="planting.spacing", amount_mm=8, limit_mm=20,
    cure=SetLength("planting.spacing", 203.2),
)  # fmt: skip
ROUNDED = Finding(
    "rounding", "note", "Bench bed", "R1", ("A3", "A4"), "12", (1, 1), 0.4, 1.0,
    SetLength("planting.spacing", 186.0),
)  # fmt: skip
ON_STEPS = "Rounded to 1 mm, A3 and A4 would come 0.4 mm too near"
AT_EDGE = "Rounded to 1/16 in, A4 would come 0.4 mm too near an edge or an obstacle."
FINER = SetLength("planting.round_to", 0.79375)
ZONE = Finding("zone-outside", "problem", "Bench bed", subject="herbs", cure=DropFromZone("herbs"))
WET = Finding("sinks", "problem", "Bench bed", "R1", subject="harvest", amount_mm=-3, limit_mm=0)
JOINT = replace(TWO, code="joint", holes=("R1 A1", "R2 A2"))


PIPE = "Hole R1 A1 is too near the standpipe"
EDGE = "Hole R1 A1 is too near the edge of the raft"
FOAM = "Hole R1 A1 leaves too little foam at the edge"
R2_A2 = "Moving R2 A2 clears it."
EXAMPLES: list[tuple[Finding, Unit, str, str]] = [
    (ONE, "mm", PIPE, "Its rim is 31 mm away; 50 mm is wanted."),
    (ONE, "in", PIPE,
     "Its rim is 1 1/4 in - 0.8 mm away; 1 15/16 in + 0.8 mm is wanted."),
    (replace(ONE, amount_mm=-3.0), "mm", PIPE,
     "Its rim reaches 3 mm into it; 50 mm off it is wanted."),
    (replace(ONE, amount_mm=49.99996), "mm", PIPE,
     "Its rim is 49.99996 mm away; 50 mm is wanted."),
    (replace(ONE, cure=LeaveOut("R1", "A1")), "mm", PIPE,
     "Its rim is 31 mm away; 50 mm is wanted. No small move clears it; leaving it out does."),
    (replace(ONE, cure=MoveHole("R1", "A1", 1, 1)), "mm", PIPE,
     "Its rim is 31 mm away; 50 mm is wanted. Moving it clears it."),
    (replace(ONE, code="edge"), "mm", EDGE,
     "Its centre is 31 mm from the edge; 50 mm is wanted."),
    (replace(ONE, code="edge", amount_mm=-31), "mm", EDGE,
     "Its centre lies 31 mm off the raft; 50 mm from the edge is wanted."),
    (replace(ONE, code="web"), "mm", FOAM,
     "There is 31 mm of foam; 50 mm is wanted."),
    (replace(ONE, code="web", amount_mm=-2), "mm", FOAM,
     "It reaches over the edge by 2 mm; 50 mm of foam is wanted."),
    (TWO, "cm", "Holes R1 A1 and A2 stand too close",
     "They are 18.1 cm apart, centre to centre; 20 cm is wanted."),
    (replace(TWO, code="web", amount_mm=-2, limit_mm=25), "mm",
     "Holes R1 A1 and A2 leave too little foam between them",
     "Their rims overlap by 2 mm; 25 mm of foam is wanted."),
    (JOINT, "mm", "Holes R1 A1 and R2 A2 come too close where rafts meet",
     "They are 181 mm apart; 200 mm is wanted."),
    (replace(JOINT, subject="turned", cure=MoveHole("R2", "A2", 1, 1)), "mm",
     "Holes R1 A1 and R2 A2 come too close where rafts meet",
     f"They are 181 mm apart when one of them lies turned half round; 200 mm is wanted. {R2_A2}"),
    (BED, "mm", "There is no room for a raft",
     "The clearance is 300 mm; at most 289 mm leaves room."),
    (replace(BED, limit_mm=None), "mm", "There is no room for a raft",
     "The clearance is 300 mm, but the bed is too small for any."),
    (replace(BED, severity="note", subject="joint_gap", amount_mm=0.0, limit_mm=5.0), "mm",
     "The rafts have no play between each other",
     "The joint gap is 0; 5 mm is usual, so that rafts come out freely."),
    (replace(BED, raft="R2", amount_mm=4, limit_mm=10), "mm", "Raft R2 is too near the wall",
     "It is 4 mm away; a clearance of 10 mm is wanted."),
    (replace(BED, raft="R2", amount_mm=-4, limit_mm=10), "mm", "Raft R2 is too near the wall",
     "It reaches 4 mm into the wall; a clearance of 10 mm is wanted."),
    (replace(BED, code="no-room", amount_mm=40, limit_mm=60), "mm",
     "There is no room for a hole",
     "The middle of the widest raft is 40 mm from its edge; the centre of a hole keeps 60 mm."),
    (SLIP, "mm", "Is the spacing really 8 mm?",
     "Usual is 20 mm or more. Was 203.2 mm meant?"),
    (replace(SLIP, subject="sheets.1.length", amount_mm=1e6, limit_mm=15000, cure=None), "mm",
     "Is the length of sheet 2 really 1000000 mm?", "Usual is 15000 mm at most."),
    (replace(SLIP, amount_mm=0.001, cure=None), "mm", "Is the spacing really 0.001 mm?",
     "Usual is 20 mm or more."),
    (replace(BED, code="bed-shape", subject="outline"), "mm",
     "The outline of the bed is no outline",
     "It encloses nothing or crosses itself; check its corners and their order."),
    (replace(BED, code="bed-shape", subject="brace"), "mm",
     "The outline of the brace is no outline",
     "It encloses nothing or crosses itself; check its corners and their order."),
    (replace(BED, code="skew", severity="note", amount_mm=6), "mm",
     "The bed is out of true by 6 mm",
     "The rafts are planned for the smallest rectangle that is safe."),
    (replace(BED, code="skew", severity="question", amount_mm=60), "mm",
     "The bed is out of true by 60 mm",
     "That is more than beds usually are; measure once more."),
    (IDLE, "mm", "A hole placed by hand lies on raft R9, which is no more",
     "It was at x 12.5 mm, y 40 mm there."),
    (ROUNDED, "mm", "12 holes on raft R1 keep their exact places",
     f"{ON_STEPS} each other. A spacing of 186 mm leaves none."),
    (replace(ROUNDED, holes=("A4",), subject="1", limit_mm=1.5875, cure=FINER), "in",
     "Hole R1 A4 keeps its exact place",
     f"{AT_EDGE} Steps of 1/32 in leave none."),
    (replace(IDLE, code="blank-idle"), "mm",
     "A site left out on raft R9 is there no more",
     "The pattern has no site near x 12.5 mm, y 40 mm any more."),
    (replace(SHEET, code="score-line", severity="question", amount_mm=190, limit_mm=None), "mm",
     "Raft bench-1 has a score line along its long side",
     f"{SCORED} Let rafts be turned, make them shorter, or take a plain board."),
    (replace(TWO, limit_mm=190, crops=("lettuce", "basil")), "mm",
     "Holes R1 A1 and A2 stand too close",
     "They are 181 mm apart, centre to centre; 190 mm is wanted, the mean for lettuce and basil."),
    (replace(JOINT, limit_mm=190, crops=("basil", "basil")), "mm",
     "Holes R1 A1 and R2 A2 come too close where rafts meet",
     "They are 181 mm apart; 190 mm, the mean of their spacings, is wanted."),
    (ZONE, "mm", "The zone “herbs” lies on no raft", "Move it onto a raft, or remove it."),
    (replace(ZONE, raft="R9"), "mm", "The zone “herbs” names raft R9, which is not there",
     "The bed is split into other rafts now."),
    (replace(ZONE, code="zone-empty"), "mm", "No hole fits into the zone “herbs”",
     "Make it larger or its spacing smaller; a later zone may lie on it."),
    (replace(ZONE, code="zone-fixed", severity="note", raft="R1"), "mm",
     "The zone “herbs” covers only a part of raft R1",
     "Such rafts are made for their own place and cannot change places with others."),
    (SHEET, "mm", "Raft bench-1 is larger than every sheet",
     "It needs 1300 mm where the nearest, board, gives 1250 mm."),
    (replace(SHEET, severity="question", subject="", amount_mm=None, limit_mm=None), "mm",
     "There are not enough sheets on hand",
     "Not all rafts of the design bench-1 can be cut from them."),
    (Finding("run-fit", "question", "Bench bed", subject="salad", rafts=2, day="2027-04-05"), "mm",
     "Not every raft of salad finds a place", "On 2027-04-05 there is no place for 2 rafts."),
    (Finding("run-fit", "question", "Bench bed", subject="salad", rafts=1, day="2027-04-05",
             cure=SetTarget("salad", 9)), "mm",
     "Not every raft of salad finds a place",
     "On 2027-04-05 there is no place for 1 raft. Batches of 9 find room."),
    (Finding("run-fit", "question", "Bench bed", subject="salad", rafts=1), "mm",
     "Not every raft of salad finds a place",
     "There is no place for 1 raft once all batches are under way."),
    *POT_EXAMPLES,
    (WET, "mm", "Raft R1 sinks at the harvest", "Its top would be 3 mm under water."),
    (replace(WET, code="freeboard", amount_mm=4, limit_mm=10, subject="planting"), "in",
     "Raft R1 lies low in the water on the day of planting",
     "3/16 in of foam stays above the water; 3/8 in is wanted."),
    (replace(WET, code="tilts", subject="", figures=(25.0,)), "in",
     "Raft R1 gets wet on one side with the other half picked",
     ("Its low end goes 1/8 in under water, at a slope of 5/16 in/ft. Pick from both ends in "
     "turn.")),
    (replace(WET, code="tilts", subject="over"), "mm", "Raft R1 tips over with one half picked",
     "It is too narrow for what stands on it; make it wider."),
    (replace(WET, code="pot-dry", subject="pot", limit_mm=3), "mm",
     "“pot” hangs too high on raft R1",
     ("On the day of planting its foot hangs 3 mm above the water; the lowest 3 mm of it should be "
     "wet.")),
    (replace(WET, code="pot-dry", subject="pot", amount_mm=1, limit_mm=3), "mm",
     "“pot” hangs too high on raft R1",
     "On the day of planting only its lowest 1 mm is wet; 3 mm is wanted."),
    (replace(WET, code="pot-drowned", subject="pot", amount_mm=2), "mm",
     "“pot” is under water on raft R1", "The water stands 2 mm over its top."),
    (replace(WET, code="aground", subject="", amount_mm=5, limit_mm=9), "mm",
     "Raft R1 lies on the floor at low water", "9 mm of water is needed and 5 mm is left."),
    (replace(WET, code="heavy", subject="more", figures=(30.84, 30.0)), "in",
     "Raft R1 is too heavy for two people",
     ("It weighs 68.0 lb at the harvest, and the water in its roots comes on top; the limit is "
     "66.1 lb.")),
    (replace(WET, code="metered-fill", bed="Tank", figures=(125, 604.2)), "mm",
     "The metered fill of Tank does not go with its size",
     "125 L were metered; by length, width and depth it is 604 L."),
    (replace(WET, code="weak-line", subject="6", figures=(0.499, 0.5)), "mm",
     "A line across raft R1 has too little foam",
     "6 holes on it leave 49 % of it as foam; 50 % is wanted."),
    (replace(WET, code="made-jam", subject="along", amount_mm=-2.5), "mm",
     "Raft R1 came out too large for its place",
     ("As noted in the log, the rafts of its row are 2.5 mm longer than the bed has room for at "
     "some level.")),
    *FIT_EXAMPLES,
]  # fmt: skip


@pytest.mark.parametrize(("finding", "unit", "title", "text"), EXAMPLES)
def test_a_finding_is_told_in_words(finding: Finding, unit: Unit, title: str, text: str) -> None:
    assert finding_title(finding, unit) == title
    assert finding_text(finding, unit) == text


def test_every_code_is_among_the_examples() -> None:
    assert {finding.code for finding, *_ in EXAMPLES} == set(get_args(Code))


@pytest.mark.parametrize(
    ("turned", "moved"),
    [(False, "19 mm to the left and 5.5 mm up"), (True, "19 mm to the right and 5.5 mm down")],
)
def test_with_the_plan_a_move_has_a_length_and_a_way(*, turned: bool, moved: str) -> None:
    holes = make_holes([(100, 100), (300, 100)])
    raft = PlacedRaft("R1", make_design(holes=holes), 10, 10, turned=turned)
    plan = make_plan(make_bed_plan([raft]))
    finding = replace(ONE, cure=MoveHole("R1", "A1", 81, 105.5))
    assert finding_line(finding, "mm", plan) == (
        "problem: Bench bed: Hole R1 A1 is too near the standpipe. Its rim is 31 mm away; "
        f"50 mm is wanted. Moving it {moved} clears it."
    )


@pytest.mark.parametrize(
    ("cure", "unit", "label"),
    [
        (MoveHole("R1", "A1", 190.5, 100), "mm", "Move R1 A1 to x 190.5 mm, y 100 mm"),
        (MoveHole("R1", "A1", 190.5, 101.6), "in", "Move R1 A1 to x 7 1/2 in, y 4 in"),
        (LeaveOut("R1", "A1"), "mm", "Leave R1 A1 out"),
        (SetLength("planting.hole_diameter", 50.8), "in", "Set the hole diameter to 2 in"),
        (SetLength("clearance", 5), "mm", "Set the clearance to 5 mm"),
        (DropHandEdit("R1", 1, 2), "mm", "Forget it"),
        (TakeFill("125 gal"), "mm", "Take it as 125 gal"),
        (SetTarget("salad", 9), "mm", "Want 9 of each batch of salad"),
    ],
)
def test_a_cure_is_an_order(cure: Cure, unit: Unit, label: str) -> None:
    assert cure_label(cure, unit) == label


def test_the_winner_is_told_with_what_the_others_hold() -> None:
    plan = make_bed_plan()
    assert winner_sentence(plan, "mm") == (
        "square along, opened to 186.7 \N{MULTIPLICATION SIGN} 193.7 mm: 36 plants; staggered 32"
    )
    assert winner_sentence(plan, "in").startswith(
        "square along, opened to ≈ 7 3/8 \N{MULTIPLICATION SIGN} 7 5/8 in: 36"
    )
    tight = replace(plan, tried=(replace(plan.tried[0], pitch_mm=186.0, plants=1),), plants=1)
    assert (
        winner_sentence(tight, "mm")
        == "square along, at 186 \N{MULTIPLICATION SIGN} 193.7 mm: 1 plant"
    )
    by_hand = winner_sentence(replace(plan, plants=35), "mm")
    assert "36 plants, 35 with what was placed or left out by hand; staggered 32" in by_hand
    assert winner_sentence(replace(plan, tried=()), "mm") == "no hole fits"
    bare = replace(plan, tried=(), bed=replace(plan.bed, planting=None))
    assert winner_sentence(bare, "mm") == "nothing is planted"


def test_fields_have_words_of_their_own() -> None:
    assert field_words("planting.edge_margin") == "the edge margin"
    assert field_words("sheets.x.length") == "the length"
    assert not re.search("[_.]", field_words("rafts.length"))


@pytest.mark.parametrize(
    ("threshold", "sentence"),
    [
        (
            Threshold("spacing", F(200), 48, F(1, 10), F("207.34"), F("196.5"), 56),
            "The same 48 plants fit up to 207.3 mm; at 196.5 mm you gain 8.",
        ),
        (
            Threshold("edge_margin", F(60), 48, F(1), F(66), F(57), 52),
            "The same 48 plants up to an edge margin of 66 mm; with 57 mm edge margin you gain 4.",
        ),
        (
            Threshold("joint_gap", F(5), 48, F(1), F(12)),
            "The same 48 plants up to a joint gap of 12 mm.",
        ),
        (
            Threshold("clearance", F(5), 1, F(1), F(12)),
            "The one plant up to a clearance of 12 mm.",
        ),
        (Threshold("spacing", F(5), 1, F(1)), ""),
    ],
)
def test_a_threshold_is_said_in_one_sentence(threshold: Threshold, sentence: str) -> None:
    assert threshold_sentence(threshold, "mm") == sentence


def test_thresholds_are_rounded_down_to_the_tape() -> None:
    assert rounded_down(F("193.69"), "mm") == "193.6 mm"
    assert rounded_down(F("193.69"), "cm") == "19.36 cm"
    assert rounded_down(F("190.5"), "in") == "7 1/2 in"
    assert rounded_down(F("190.4"), "in") == "7 15/32 in"


def test_what_was_wanted_and_what_came_of_it() -> None:
    found = Found(40, F("214.2"), Counted(42, "staggered", "across"), 2e6)
    few = Found(400, None, Counted(88, "square", "along"), 2e6)

    assert found_sentence(found, "mm") == (
        "42 plants, 21 per m²: spacing up to 214.2 mm, staggered across"
    )
    assert found_sentence(few, "mm") == (
        "400 do not fit: holes and foam leave room for 88 plants at most"
    )


BOARD = Sheet("board", Length.of(1250), Length.of(600), price=F(14))
LEFT_OVER = replace(BOARD, name="left over", offcut=True)
PIECE = Piece("A", F(0), F(0), F(600), F(600), turned=False)
THREE = CutPlan((CutSheet(BOARD, (PIECE, PIECE), 3),), aim="sheets", bound=F(3))
OWN = CutSheet(LEFT_OVER, (PIECE,), 1)


@pytest.mark.parametrize(
    ("cut", "words"),
    [
        (THREE, "3 sheets for 42.00; no plan needs fewer"),
        (replace(THREE, bound=F(2)), "3 sheets for 42.00; every plan needs 2 or more"),
        (replace(THREE, aim="cost", bound=F(42)), "3 sheets for 42.00; no plan costs less"),
        (
            replace(THREE, aim="cost", bound=F(41)),
            "3 sheets for 42.00; every plan costs 41.00 or more",
        ),
        (replace(THREE, bound=None), "3 sheets for 42.00"),
        (
            replace(THREE, unplaced=(("A", 2),), bound=None),
            "3 sheets for 42.00; 2 rafts without a sheet",
        ),
        (
            replace(THREE, sheets=(*THREE.sheets, OWN)),
            "3 sheets and 1 offcut on hand for 42.00; no plan needs fewer",
        ),
        (CutPlan((OWN,), bound=F(0)), "1 offcut on hand; nothing is bought"),
        (CutPlan(bound=F(0)), "0 sheets"),
    ],
)
def test_a_cut_plan_says_what_it_needs_and_what_is_proved(cut: CutPlan, words: str) -> None:
    assert cut_sentence(cut) == words


_ROOM = make_room((500, 500), 200)


def make_question(**changes: Any) -> Question:
    asked = Question(
        "Bed", "R1", ("R1",), _ROOM, np.zeros((36, 2)), np.zeros((36, 2)), 41, None, 1.0, True
    )
    return replace(asked, **changes)


def make_offer(count: int = 39, grid: float | None = 1.0, **changes: Any) -> Offer:
    found = Squeezed(np.zeros((count, 2)), 200.0, grid, np.zeros(count, dtype=np.int64))
    return Offer(make_question(**changes), found)


def test_an_offer_says_what_it_wins_and_what_it_costs() -> None:
    offer = make_offer(rafts=("R1", "R2", "R3", "R4"))

    assert squeezed_title(offer) == "3 more holes on raft R1"
    text = squeezed_text(offer, 144)
    assert text.startswith("39 instead of 36. The same holes go on all 4 rafts like it.")
    assert "The whole bed then holds 156 instead of 144." in text
    assert "each has to be measured and marked on its own" in text
    assert text.endswith("All of them are in whole millimetres from the datum corner.")


def test_an_offer_at_the_ceiling_says_so() -> None:
    assert squeezed_title(make_offer(37)) == "1 more hole on raft R1"
    assert "No arrangement holds more." in squeezed_text(make_offer(41), 36)
    assert "No arrangement" not in squeezed_text(make_offer(40), 36)
    assert "whole bed" not in squeezed_text(make_offer(40), 36)


@pytest.mark.parametrize(
    ("grid", "words"),
    [(0.1, "steps of 0.1 mm"), (1.5875, "steps of 1/16 in"), (None, "no round figures")],
)
def test_an_offer_says_on_which_steps_its_holes_are(grid: float | None, words: str) -> None:
    assert words in squeezed_text(make_offer(grid=grid), 36)


def test_an_offer_owns_up_to_rows_that_do_nearly_as_well() -> None:
    offer = replace(make_offer(), rows=38)

    assert "Rows of another pattern hold 38 and are easier to mark." in squeezed_text(offer, 36)


def test_no_offer_says_what_is_known() -> None:
    most = make_question(ceiling=36)
    assert not_squeezed_text(most) == "Raft R1 has 36 holes: the most that any arrangement holds."
    assert "no arrangement holds more than 30" in not_squeezed_text(make_question(ceiling=30))
    open_ = not_squeezed_text(make_question())
    assert open_ == (
        "No room for more than 36 holes was found on raft R1. "
        "It is proved that none holds more than 41."
    )
    assert "such a raft holds 36 too." in not_squeezed_text(make_question(best_known=36))
    assert "such a raft holds 39." in not_squeezed_text(make_question(best_known=39))
    assert "Rows of another pattern hold 38" in not_squeezed_text(make_question(), 38)


@pytest.mark.parametrize(
    ("proof", "sentence"),
    [
        (Proof("full", 63), "63 plants: no arrangement holds more, by proof"),
        (
            Proof("full", 63, alike=True),
            "63 plants: no arrangement on rafts all alike holds more, by proof",
        ),
        (
            Proof("rows", 66, ("square", "staggered", "mixed")),
            "63 of at most 66; no square, staggered or mixed rows hold more",
        ),
        (
            Proof("rows", 66, ("hexagonal",), "along"),
            "63 of at most 66; no hexagonal rows along the bed hold more",
        ),
        (
            Proof("shift", 66, ("square", "hexagonal")),
            (
                "63 of at most 66; no shift of square or hexagonal rows holds more in the "
                "directions tried"
            ),
        ),
        (
            Proof("shift", 66, ("rows",), "across"),
            "63 of at most 66; no shift of rows filled one by one across the bed holds more",
        ),
        (
            Proof("open", 66, shape="square", record=65),
            "63 of at most 66; best known for a square: 65",
        ),
        (Proof("open", 66, alike=True), "63 of at most 66 on rafts all alike"),
    ],
)
def test_no_more_is_said_than_is_proved(proof: Proof, sentence: str) -> None:
    assert proof_sentence(replace(make_bed_plan(), plants=63, proof=proof)) == sentence


def test_the_few_words_of_a_proof() -> None:
    assert proof_words(Proof("full", 63)) == "no arrangement holds more"
    assert proof_words(Proof("rows", 66, ("square",))) == "at most 66 by proof"
    assert proof_sentence(make_bed_plan()) == ""
