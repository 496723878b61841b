"""From easy to hard to spell, with parts that can be seen."""

from __future__ import annotations

from functools import cache

import pytest

from decodecheck.wordlists.described import FoundWord
from decodecheck.wordlists.effort import Effort
from decodecheck.wordlists.spelling_choice import MOST_BITS
from tests.wordlists.asking import everything, found, harbour


@cache
def known() -> dict[str, FoundWord]:
    return {w.word: w for w in found(everything(), 1, number=None, common=3.0).words}


def effort(word: str) -> Effort:
    return known()[word].effort


def spots(word: str) -> list[tuple[str, str]]:
    return [(c.grapheme, c.usual) for c in effort(word).hard_spots]


# The source: the task itself, which names knee.
def test_knee_shows_its_hard_spot() -> None:
    assert spots("knee") == [("kn", "n")]
    assert effort("knee").choice > effort("need").choice


# Common practice in the teaching of spelling, no source: which spelling is usual where.
@pytest.mark.parametrize(
    ("word", "grapheme", "least"),
    [
        ("day", "ay", 0.6), ("back", "ck", 0.6), ("kick", "k", 0.6), ("cat", "c", 0.9), ("book", "k", 0.8), ("panic", "c", 0.5),
        ("hand", "d", 0.9), ("jumped", "ed", 0.8), ("dogs", "s", 0.9), ("make", "k", 0.8),
    ],
)  # fmt: skip
def test_the_usual_spelling_is_likely_where_it_stands(word: str, grapheme: str, least: float) -> None:
    assert next(c.likelihood for c in effort(word).choices if c.grapheme == grapheme) >= least


@pytest.mark.parametrize(
    ("word", "spot"),
    [
        ("lamb", "mb"),
        ("said", "ai"),
        ("write", "wr"),
        ("because", "au"),
        ("key", "ey"),
        ("yacht", "ach"),
        ("friend", "ie"),
    ],
)
def test_rare_spellings_are_hard_spots(word: str, spot: str) -> None:
    assert spot in [grapheme for grapheme, _ in spots(word)]


# The base is known: save is spelt with a-e, whatever the ending makes of it.
@pytest.mark.parametrize("word", ["saved", "making", "named", "liked"])
def test_a_split_digraph_before_an_ending_is_that_of_the_base(word: str) -> None:
    assert any("-" in c.grapheme for c in effort(word).choices) and spots(word) == []


@pytest.mark.parametrize("word", ["cat", "ship", "day", "back", "play", "panic", "jumped"])
def test_regular_words_have_no_hard_spot(word: str) -> None:
    assert spots(word) == []


# Common practice, no source: pairs in which anybody who teaches spelling would put the first word first.
@pytest.mark.parametrize(
    ("easier", "harder"),
    [
        ("cat", "rabbit"), ("net", "nest"), ("cap", "camp"), ("lip", "limp"), ("day", "knee"),
        ("lost", "land"), ("top", "stop"), ("man", "lemon"), ("bed", "bread"), ("he", "key"), ("bat", "batter"), ("not", "knot"),
    ],
)  # fmt: skip
def test_order(easier: str, harder: str) -> None:
    assert effort(easier).total <= effort(harder).total


def test_each_part() -> None:
    assert effort("cat").sounds == 1.5 and effort("queen").sounds == effort("box").sounds == 2.0
    assert (effort("stop").adjacent, effort("strap").adjacent, effort("cat").adjacent) == (1, 2, 0)
    assert [effort(w).nasal for w in ("jump", "hand", "think", "nest", "candy", "number")] == [1, 1, 1, 0, 0, 0]
    assert (effort("lemon").weak, effort("cat").weak) == (1.5, 0)
    assert (effort("rabbit").doubled, effort("happy").doubled, effort("cat").doubled) == (1, 1, 0)
    assert effort("cat").total == pytest.approx(sum(effort("cat").parts.values()))


# Words that adults often misspell, found by tests/data/misspellings.tsv: seperating, refering, comission.
def test_an_r_vowel_before_a_vowel_is_a_choice() -> None:
    assert spots("separating")[-1] == ("ar", "er")


def test_two_r_after_a_vowel_are_a_doubling() -> None:
    # which vowel it is, is chosen as in refer
    choice = next(c for c in effort("referring").choices if "er" in c.grapheme)
    assert choice.grapheme == "er" and choice.bits < 3


@pytest.mark.parametrize("word", ["referring", "occurring", "mission", "session", "stirring"])
def test_a_doubled_letter_counts_in_longer_graphemes(word: str) -> None:
    assert effort(word).doubled == (2 if word == "occurring" else 1)


def test_likelihoods_are_shares() -> None:
    for word in known().values():
        assert len(word.effort.choices) <= word.graphemes
        assert all(0 < c.likelihood <= 1 and 0 <= c.bits <= MOST_BITS for c in word.effort.choices), word.word


def test_only_taught_spellings_are_weighed() -> None:
    # kn is the only spelling of n beside n; before a-e, ai has no rival but ay, which is no choice inside a word
    early = {w.word: w for w in found(harbour(), 16, "ai", number=None).words}
    late = known()["rain"].effort
    own = {c.grapheme: c for c in early["rain"].effort.choices}
    assert own["ai"].likelihood > next(c.likelihood for c in late.choices if c.grapheme == "ai")
    assert early["rain"].effort.total < late.total
