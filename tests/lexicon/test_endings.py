"""Which words are forms and compounds of which, by spelling and sound, worked out anew.

Pronunciations are those of any British dictionary for learners (from memory).
"""

from __future__ import annotations

import pytest

from decodecheck.lexicon.analysis import Analysis, analyse
from decodecheck.lexicon.derive import Deriver
from decodecheck.lexicon.endings import attach, splits
from decodecheck.lexicon.store import lexicon
from decodecheck.phonics.sounds import BRITISH

WORDS = Deriver(lexicon(BRITISH), {})


def analysed(word: str, pronunciation: str) -> Analysis:
    found = analyse(word, pronunciation, BRITISH, WORDS)
    assert found is not None
    return found


def parts(word: str, pronunciation: str) -> list[str]:
    return [part.word for part in analysed(word, pronunciation).parts]


# The source: Quirk and others, A Comprehensive Grammar of the English Language, 1985, 5.83 (from memory): nouns in -th after a
# long vowel and house have a voiced plural, some of them beside a voiceless one; after a short vowel and a consonant they have none.
@pytest.mark.parametrize(
    ("noun", "said", "plural"),
    [
        ("bath", "b ˈɑː θ", "b ˈɑː ð z"),
        ("path", "p ˈɑː θ", "p ˈɑː ð z"),
        ("mouth", "m ˈaʊ θ", "m ˈaʊ ð z"),
        ("youth", "j ˈuː θ", "j ˈuː ð z"),
        ("oath", "ˈəʊ θ", "ˈəʊ ð z"),
        ("house", "h ˈaʊ s", "h ˈaʊ z ɪ z"),
        ("moth", "m ˈɒ θ", "m ˈɒ θ s"),
        ("month", "m ˈʌ n θ", "m ˈʌ n θ s"),
        ("face", "f ˈeɪ s", "f ˈeɪ s ɪ z"),
    ],
)
def test_voiced_plurals(noun: str, said: str, plural: str) -> None:
    assert attach(noun, said, "-s", BRITISH)[0][0] == plural


@pytest.mark.parametrize("noun", ["bath", "path", "mouth", "youth"])
def test_a_voiced_plural_is_the_noun_with_an_ending(noun: str) -> None:
    (said, *_) = WORDS.known(noun)
    for plural in (f"{said.removesuffix('θ')}ð z", f"{said} s"):
        assert parts(f"{noun}s", plural) == [noun], plural


# Words that only happen to hold a word of grammar with an ending (common practice, no source).
@pytest.mark.parametrize(
    ("word", "base"),
    [
        ("butter", "but"), ("butted", "but"), ("inner", "in"), ("inning", "in"), ("wither", "with"), ("weed", "we"), ("forest", "for"),
        ("notty", "not"), ("hissed", "his"), ("hissing", "his"), ("meed", "me"), ("usher", "us"), ("thaner", "than"),
    ],
)  # fmt: skip
def test_words_of_grammar_take_no_vowel_ending(word: str, base: str) -> None:
    assert base not in {split.base for split in splits(word)}


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("don't", "d ˈəʊ n t"),
        ("won't", "w ˈəʊ n t"),
        ("can't", "k ˈɑː n t"),
        ("shan't", "ʃ ˈɑː n t"),
        ("ain't", "ˈeɪ n t"),
    ],
)
def test_a_contraction_with_a_vowel_of_its_own_has_no_base(word: str, said: str) -> None:
    found = analysed(word, said)
    assert found.parts == ()
    # n't is its ending all the same
    assert found.ending is not None and found.ending.ending == "n't"
    assert "".join(s.grapheme for s in found.segments[found.ending.first :]) == "n't"


@pytest.mark.parametrize(
    ("word", "said", "base"),
    [
        ("didn't", "d ˈɪ d ə n t", "did"),
        ("mustn't", "m ˈʌ s ə n t", "must"),  # said without the t of must, written with it
        ("you're", "j ˈɔː", "you"),
        ("we'll", "w ˈiː l", "we"),
    ],
)
def test_other_contractions_have_one(word: str, said: str, base: str) -> None:
    assert parts(word, said) == [base]


def test_one_l_for_two_before_y() -> None:
    found = analysed("civilly", "s ˈɪ v ə l i")
    assert [s.grapheme for s in found.segments] == ["c", "i", "v", "i", "ll", "y"]
    assert found.ending is not None and (found.ending.ending, found.ending.first) == ("-ly", 5)


@pytest.mark.parametrize(
    ("word", "said", "expected"),
    [
        ("into", "ˈɪ n t uː", ["in", "to"]),
        ("onto", "ˈɒ n t uː", ["on", "to"]),
        ("makeup", "m ˈeɪ k ʌ p", ["make", "up"]),
        # of two ways to divide, that whose rarer half is the commoner: not backs and eat, hots and pot
        ("backseat", "b ˈæ k s iː t", ["back", "seat"]),
        ("hotspot", "h ˈɒ t s p ɒ t", ["hot", "spot"]),
        ("unhappy", "ʌ n h ˈæ p i", ["happy"]),
        ("notice", "n ˈəʊ t ɪ s", []),
    ],
)
def test_where_a_compound_divides(word: str, said: str, expected: list[str]) -> None:
    assert parts(word, said) == expected


@pytest.mark.parametrize(
    ("base", "form"), [("again", "again's"), ("often", "oftener"), ("pure", "purer"), ("sure", "surely")]
)
def test_a_form_has_the_variants_of_its_base(base: str, form: str) -> None:
    # again with the vowel of ten or of rain, often with and without t: whichever is taught, the form follows it
    lex = lexicon(BRITISH)
    variants = {reading.units[1:] for reading in lex.readings(base)}
    assert len(variants) > 1
    found = [reading for reading in (lex.readings(form) or WORDS.readings(form)) if not reading.rare]
    assert {part.reading.units[1:] for reading in found for part in reading.parts} == variants
