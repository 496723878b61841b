"""The aligner covers letters once and in order, keeps every sound, and splits only across one consonant grapheme."""

from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.lexicon.letters import place_graphemes, spell
from decodecheck.phonics.align import Segment, align
from decodecheck.phonics.sounds import BRITISH, LEXICONS, has_vowel, reference_accent, split_stress, tokens
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

ROWS = {lexicon: read_table(rules_folder() / "pronunciations" / f"{lexicon}.tsv")[::37] for lexicon in LEXICONS}
PAIRS = [(row["word"], row["pronunciation"], lexicon) for lexicon in LEXICONS for row in ROWS[lexicon]]


def check_alignment(word: str, sounds: tuple[str, ...], lexicon: str, segments: tuple[Segment, ...]) -> None:
    letters = [i for s in segments for i in s.letters]
    assert sorted(letters) == list(range(len(word)))
    assert [s.letters[0] for s in segments] == sorted(s.letters[0] for s in segments)
    for s in segments:
        assert "".join(word[i] for i in s.letters) == s.grapheme.replace("-", "")
    accent = reference_accent(lexicon)
    assert tuple(t for s in segments for t in tokens(s.sound, s.linked, accent)) == sounds
    for i, s in enumerate(segments):
        if "-" in s.grapheme:
            inside = segments[i + 1]
            assert not has_vowel(inside.sound) and inside.sound
            assert s.letters[1] == inside.letters[-1] + 1
    graphemes = [s.grapheme for s in segments]
    assert spell(graphemes) == word
    assert place_graphemes(graphemes) == [s.letters for s in segments]


@settings(max_examples=400, deadline=None)
@given(st.sampled_from(PAIRS))
def test_real_words(pair: tuple[str, str, str]) -> None:
    word, pronunciation, lexicon = pair
    sounds, stresses = split_stress(pronunciation)
    found = align(word, sounds, stresses, lexicon)
    if found is not None:
        check_alignment(word, sounds, lexicon, found.segments)


TOKENS = sorted({t for row in ROWS[BRITISH] for t in split_stress(row["pronunciation"])[0]})


@settings(max_examples=400, deadline=None)
@given(
    st.text(alphabet="abcdefghijklmnopqrstuvwxyz", min_size=1, max_size=9),
    st.lists(st.sampled_from(TOKENS), min_size=1, max_size=9),
)
def test_any_letters_with_any_sounds(word: str, sounds: list[str]) -> None:
    found = align(word, sounds, [True] * len(sounds), BRITISH)
    if found is None:
        assert len(sounds) > len(word)  # too many sounds for the letters
    else:
        check_alignment(word, tuple(sounds), BRITISH, found.segments)


def test_joins_are_not_crossed() -> None:
    sounds, stresses = split_stress("h ˈɒ t h aʊ s")
    found = align("hothouse", sounds, stresses, BRITISH, joins={3: 3})
    assert found is not None
    assert [s.grapheme for s in found.segments] == ["h", "o", "t", "h", "ou", "se"]


def test_irregular_letters_are_marked() -> None:
    sounds, stresses = split_stress("k ˈɜː n ə l")
    found = align("colonel", sounds, stresses, BRITISH)
    assert found is not None and found.irregular
