"""Hypothesis strategies for what a crop is run by: water, pots, limits, runs, the log."""

from datetime import date
from fractions import Fraction

from hypothesis import strategies as st

from geometry.model.allowances import Allowances
from geometry.model.limits import Limits
from geometry.model.log import BatchGrown, Log, Note, RaftMade
from geometry.model.own_crop import OwnCrop
from geometry.model.pot import Pot
from geometry.model.run import Pause, Run, RunStage, SlowTime
from geometry.model.water import Walls, Water
from geometry.units import ZERO, Length

lengths = st.integers(100, 10**6).map(lambda n: Length(Fraction(n, 100))) | st.integers(
    16, 640
).map(lambda n: Length.of(f"{n // 16} {n % 16}/16 in"))
maybe = st.none() | lengths
names = st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), min_size=1, max_size=9)
texts = st.lists(names, max_size=2).map("\n".join)
days = st.dates(date(1990, 1, 1), date(2110, 1, 1))
counts = st.none() | st.integers(1, 3650)
hundredths = st.integers(1, 100).map(lambda n: Fraction(n, 100))
grams = st.none() | st.integers(1, 10**6).map(lambda n: Fraction(n, 10))


def _within(first: date, last: date) -> tuple[date, date]:
    return min(first, last), max(first, last)


spans = st.builds(_within, days, days)
walls = st.builds(Walls, lengths, lengths, lengths)
waters = st.builds(
    lambda depth, low, high, celsius, found: Water(
        depth, low if depth is None or low.exact < depth.exact else ZERO, high, celsius, found
    ),
    maybe,
    lengths,
    lengths,
    st.integers(0, 450).map(lambda n: Fraction(n, 10)),
    st.none() | walls,
)
pots = st.builds(
    lambda name, body, less, depth, lip, height, mass, collar: Pot(
        name,
        body,
        depth,
        Length(body.exact * less),
        Length(body.exact * (1 + lip)) if lip and not collar else ZERO,
        height,
        mass,
        Length(body.exact * (1 + collar)) if collar else ZERO,
        Length(body.exact * collar) if collar else ZERO,
    ),
    names,
    lengths,
    hundredths,
    lengths,
    st.just(Fraction(0)) | hundredths,
    lengths,
    grams,
    st.just(Fraction(0)) | hundredths,
)
own_crops = st.builds(OwnCrop, names, lengths, counts, maybe, maybe, grams, texts)
limits = st.builds(
    Limits,
    hundredths,
    hundredths,
    lengths,
    lengths,
    hundredths,
    hundredths,
    maybe,
    st.none() | hundredths,
)
allowances = st.builds(Allowances, lengths, hundredths, hundredths, hundredths, lengths)
stages = st.builds(RunStage, names, st.integers(1, 400), hundredths, st.just(""), counts)
runs = st.builds(
    Run,
    names,
    names | st.just(""),
    st.lists(stages, min_size=1, max_size=3).map(tuple),
    st.integers(1, 60),
    counts,
    st.none() | days,
    st.none() | days,
    st.integers(0, 9),
    st.lists(st.builds(lambda span, why: Pause(*span, why), spans, names), max_size=2).map(tuple),
    st.lists(
        st.builds(lambda span, factor: SlowTime(*span, factor + 1), spans, hundredths), max_size=2
    ).map(tuple),
    counts,
    counts,
    st.integers(0, 30),
    st.booleans(),
    st.integers(1, 9),
    st.integers(1, 60),
)
logs = st.builds(
    Log,
    st.lists(
        st.builds(
            RaftMade,
            names,
            names | st.just(""),
            names | st.just(""),
            st.none() | days,
            maybe,
            maybe,
            maybe,
            counts,
            st.booleans(),
            names | st.just(""),
            names | st.just(""),
            st.none() | st.integers(0, 20),
            counts,
            st.none() | days,
            texts,
        ),
        max_size=2,
        unique_by=lambda made: made.label.casefold(),
    ).map(tuple),
    st.lists(
        st.builds(
            BatchGrown,
            names,
            days,
            counts,
            counts,
            counts,
            counts,
            st.none() | days,
            grams,
            st.none() | hundredths,
        ),
        max_size=2,
        unique_by=lambda batch: batch.name.casefold(),
    ).map(tuple),
    st.lists(
        st.builds(
            Note, texts, st.sampled_from(["project", "raft", "batch"]), names, st.none() | days
        ),
        max_size=2,
    ).map(tuple),
)
