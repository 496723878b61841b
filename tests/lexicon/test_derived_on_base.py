"""A derived form is divided and said as its base is, wherever the ending leaves the base as it stands."""

import pytest

from decodecheck.lexicon.lookup import Lookup


@pytest.mark.parametrize(
    ("word", "base"),
    [
        ("conversation's", "conversation"), ("compounder", "compound"), ("clamorously", "clamorous"), ("salary's", "salary"),
        ("noris", "nori"), ("countryman's", "countryman"), ("numerators", "numerator"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("accent", ["southern-british", "general-american"])
def test_a_form_begins_as_its_base(word: str, base: str, accent: str) -> None:
    lookup = Lookup(accent)
    bases = [r.segments for r in lookup.readings(base) if not r.rare]
    found = lookup.readings(word)
    assert found
    for reading in found:
        assert reading.origin == "derived"
        whole = [(s.grapheme, s.sound, s.letters) for s in reading.segments]
        assert any(whole[: len(own)] == [(s.grapheme, s.sound, s.letters) for s in own] for own in bases)


@pytest.mark.parametrize("word", ["twitterer", "bouldery", "slobbering"])
def test_an_r_that_is_heard_only_before_a_vowel_is_heard_there(word: str) -> None:
    (reading, *_) = Lookup("southern-british").readings(word)
    assert any(s.linked for s in reading.segments)
