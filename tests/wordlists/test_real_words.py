"""What counts as a word already, and what is too close to a rude one."""

from random import Random

import pytest
import wordfreq

from decodecheck.wordlists import real_words
from decodecheck.wordlists.real_words import is_listed, is_word, near_rude_by_letters, near_rude_by_sounds


def test_the_list_is_wordfreqs_own() -> None:
    listed = wordfreq.get_frequency_dict("en", "large")
    sample = Random(1).sample([w for w in sorted(listed) if w.isascii() and w.isalpha()], 400)
    assert all(map(is_listed, sample))
    altered = [w[::-1] + "q" for w in sample]
    assert [w for w in altered if is_listed(w)] == [w for w in altered if w in listed]


def test_without_the_file_wordfreq_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(real_words, "_list", lambda: None)
    assert is_listed("donkey")
    assert not is_listed("vrilp")


def test_forms_of_words_are_words() -> None:
    assert is_word("nettle")
    assert is_word("haversacks")
    assert not is_word("vrilp")


@pytest.mark.parametrize("word", ["tits", "tiit", "tt", "xbitch", "bitchen", "damm"])
def test_near_by_letters(word: str) -> None:
    assert near_rude_by_letters(word)


def test_two_letters_away_is_far_enough() -> None:
    assert not near_rude_by_letters("flamp")
    assert not near_rude_by_letters("trock")


def test_near_by_sounds() -> None:
    assert near_rude_by_sounds(("k", "r", "æ", "p"), "southern-british")
    assert near_rude_by_sounds(("k", "r", "ɪ", "p"), "southern-british")
    assert near_rude_by_sounds(("k", "æ", "p"), "southern-british")
    assert not near_rude_by_sounds(("f", "l", "æ", "m", "p"), "southern-british")
