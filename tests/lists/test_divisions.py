"""Segmentations as people write them."""

from functools import cache
from random import Random

import pytest

from decodecheck.lexicon.lookup import Lookup
from decodecheck.lexicon.store import tables
from decodecheck.lists.divisions import accepted, in_the_manner_of, is_right
from decodecheck.tables import read_table
from tests.data.folder import DATA
from tests.lexicon.test_gold import DIVIDED_OTHERWISE
from tests.wordlists.asking import everything, harbour

LOOKUP = Lookup("southern-british")
MANNERS = ("k i t", "k/i/t", "k / i / t", "k-i-t", "k+i+t", "k|i|t", "k, i, t", "k.i.t", "k·i·t")


@cache
def sample() -> list[str]:
    words = [w for w in tables().words() if "-" not in w and LOOKUP.readings(w)]
    return Random(7).sample(words, 400)


@pytest.mark.parametrize("like", MANNERS)
def test_ours_is_right_however_it_is_written(like: str) -> None:
    wrong = [
        word
        for word in sample()
        for reading in LOOKUP.readings(word)
        if not is_right(in_the_manner_of(like, reading), LOOKUP.readings(word))
    ]
    assert not wrong


# source: the gold set (tests/data/gold_segmentations.tsv), made by hand
def test_the_gold_set_is_right() -> None:
    rows = [row for row in read_table(DATA / "gold_segmentations.tsv") if "#" not in row["word"]]
    wrong = {
        row["word"]
        for row in rows
        if not any(
            is_right(way, LOOKUP.readings(row["word"]))
            for way in (row["graphemes"], *(a.strip() for a in row["also"].split("|") if a.strip()))
        )
    }
    # of everyone the row names our division beside its own
    assert wrong == set(DIVIDED_OTHERWISE) - {"everyone"}


def test_letter_by_letter_is_wrong_where_graphemes_are_longer() -> None:
    words = [w for w in sample() if w.isalpha()]
    longer = [w for w in words if all(any(len(g) > 1 for g in way) for way in accepted(LOOKUP.readings(w)))]
    assert len(longer) > 100
    assert not [w for w in longer if is_right("/".join(w), LOOKUP.readings(w))]


def test_what_is_taught_as_one_may_be_written_as_one() -> None:
    # `together tion` and `-ing` are taught in the first, not in the second
    taught = everything().item_step
    assert is_right("s t a tion", LOOKUP.readings("station"), taught)
    assert is_right("j u m p ing", LOOKUP.readings("jumping"), harbour().item_step)
    assert not is_right("s t a tion", LOOKUP.readings("station"))
    assert is_right("ch a-e n g", LOOKUP.readings("change")) and is_right("ch-a-n-ge", LOOKUP.readings("change"))
    assert not is_right("ch a n g e", LOOKUP.readings("change"))


def test_a_form_may_be_divided_as_its_base_is() -> None:
    # common practice, no source: schools that keep the split digraph, and those that do not
    for word, ways in {
        "hoped": ("h o-e p ed", "h o p ed", "h o-e p d"),
        "making": ("m a-e k i ng", "m a k i ng"),
        "tired": ("t ire d",),
        "cared": ("c are d",),
        "stored": ("s t ore d",),
        "pages": ("p a-e g es", "p a g es"),
    }.items():
        assert [way for way in ways if not is_right(way, LOOKUP.readings(word))] == [], word
    assert not is_right("h o-e p i ng", LOOKUP.readings("hopping"))
    (tired,) = LOOKUP.readings("tired")[:1]
    assert in_the_manner_of("a/b", tired) == "t/ire/d"


def test_a_combination_inside_a_stretch_may_be_written_as_one() -> None:
    taught = harbour().item_step
    for word, way in {"think": "th i nk", "drinks": "d r i nk s", "thinking": "th i nk i ng"}.items():
        assert is_right(way, LOOKUP.readings(word), taught), word
    assert not is_right("th i nk", LOOKUP.readings("think"))
