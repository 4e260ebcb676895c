"""The tongue: English as it stands, another language where one is spoken."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import pytest

from geometry.tongue import (
    ENGLISH,
    GROUP_SIGN,
    Tongue,
    either,
    listed,
    mark,
    number,
    plural,
    signed,
    speaking,
    spoken,
    tr,
    tr_n,
)


@dataclass(frozen=True, slots=True)
class Shouted(Tongue):
    language: str = "loud"
    decimal_sign: str = ","
    group_sign: str = " "

    def text(self, english: str) -> str:
        return english.replace("raft", "RAFT")

    def plural(self, one: str, many: str, count: int) -> str:
        return (one if count < 2 else many).replace("hole", "HOLE")


def test_english_is_what_stands_in_the_code() -> None:
    assert tr("a raft {name}") == "a raft {name}"
    assert tr("a raft {name}", name="R1") == "a raft R1"
    assert tr(mark("a {brace")) == "a {brace"
    assert [tr_n("{n} hole", "{n} holes", n) for n in (0, 1, 2)] == ["0 holes", "1 hole", "2 holes"]
    assert tr_n("{n} hole", "{n} holes", 1000, n="a thousand") == "a thousand holes"


def test_another_tongue_is_spoken_for_a_while_and_in_every_thread() -> None:
    with ThreadPoolExecutor(1) as worker:
        worker.submit(spoken).result()
        with speaking(Shouted()):
            assert tr("raft {name}", name="raft") == "RAFT raft"
            assert worker.submit(tr, "raft").result() == "RAFT"
            assert tr_n("{n} hole", "{n} holes", 0) == "0 HOLE"
        with pytest.raises(ZeroDivisionError), speaking(Shouted()):
            raise ZeroDivisionError

    assert spoken() is ENGLISH
    assert tr("raft") == "raft"


def test_numbers_have_the_signs_of_the_tongue() -> None:
    assert number(1234.5, 2) == "1234.50"
    assert number(1234567, 0) == f"1{GROUP_SIGN}234{GROUP_SIGN}567"
    assert number(9999.4, 1) == "9999.4"
    assert number(-12_345.5) == f"-12{GROUP_SIGN}345.5"
    assert tr("{of} of {all}", of=True, all=10_000) == f"True of 10{GROUP_SIGN}000"
    assert tr_n("{n} hole", "{n} holes", 250_000) == f"250{GROUP_SIGN}000 holes"
    assert number(0.5) == "0.5"
    assert number(3) == "3"
    with speaking(Shouted()):
        assert number(1234.5, 2) == "1234,50"
        assert number(1234567.25, 1) == "1 234 567,2"
        assert signed("1,234.5") == "1 234,5"


def test_things_are_counted_and_listed_in_words() -> None:
    assert [plural(n, "hole") for n in (0, 1, 2)] == ["0 holes", "1 hole", "2 holes"]
    assert plural(2, "box", "boxes", shown="two") == "two boxes"
    assert listed(["a"]) == "a"
    assert listed(["a", "b", "c"]) == "a, b and c"
    assert either([]) == ""
    assert either(["a", "b"]) == "a or b"
    with speaking(Shouted()):
        assert plural(0, "hole") == "0 HOLE"
