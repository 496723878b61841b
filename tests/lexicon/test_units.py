"""What the units of a word ask for, worked out anew from spelling and sound; the compiled lexicon only says which words there are.

The divisions are those of rules/SWITCHES.md; pronunciations are those of any British dictionary for learners (from memory).
"""

from __future__ import annotations

import pytest

from decodecheck.lexicon.analysis import Analysis, Part, analyse
from decodecheck.lexicon.derive import Deriver, said
from decodecheck.lexicon.items import PATTERN, WEAKENED, Item
from decodecheck.lexicon.store import lexicon
from decodecheck.lexicon.units import Unit, build_units
from decodecheck.phonics.sounds import BRITISH

LEXICON = lexicon(BRITISH)
WORDS = Deriver(LEXICON, {})


def analysed(word: str, pronunciation: str) -> Analysis:
    found = analyse(word, pronunciation, BRITISH, WORDS)
    assert found is not None
    return found


def units_of(part: Part) -> tuple[Unit, ...] | None:
    readings = LEXICON.readings(part.word)
    return next((r.units for r in readings if said(r, BRITISH) == part.pronunciation), None)


def ways(word: str, pronunciation: str, graphemes: str) -> set[frozenset[Item]]:
    """The ways to read the first unit of a word that covers these graphemes."""
    units = build_units(analysed(word, pronunciation), units_of)
    unit = next(u for u in units if " ".join(form[0] for form in u.forms) == graphemes)
    return {frozenset(alternative) for alternative in unit.alternatives}


def structure(word: str, pronunciation: str) -> set[Item]:
    (items,) = build_units(analysed(word, pronunciation), units_of)[0].alternatives
    return {item for item in items if item.kind != PATTERN}


def each(*alternatives: str) -> set[frozenset[Item]]:
    return {frozenset(map(Item, a.split(" "))) for a in alternatives}


def test_the_last_y_of_mystery_is_not_the_y_of_gym() -> None:
    # the weak vowel is excused inside a word only: "y as in funny stays a lesson of its own"
    assert ways("mystery", "m ˈɪ s t ə r i", "y") == each("gpc|y|KIT|m")
    last = build_units(analysed("mystery", "m ˈɪ s t ə r i"))[-1]
    assert last.alternatives == ((Item("gpc|y|HAPPY|e"),),)


@pytest.mark.parametrize(
    ("word", "pronunciation", "grapheme", "place"),
    [
        ("going", "ɡ ˈəʊ ɪ ŋ", "o", "gpc|o|GOAT|e"),  # before an ending the end of the base counts
        ("hotel", "h əʊ t ˈe l", "o", "gpc|o|GOAT|m"),
        ("don't", "d ˈəʊ n t", "o", "gpc|o|GOAT|m"),
        ("won't", "w ˈəʊ n t", "o", "gpc|o|GOAT|m"),  # its wo is no word that ends
        ("sunset", "s ˈʌ n s e t", "n", "gpc|n|n|e"),  # in a compound each word has its ends
    ],
)
def test_the_place_of_a_grapheme(word: str, pronunciation: str, grapheme: str, place: str) -> None:
    assert ways(word, pronunciation, grapheme) == each(place)


def test_a_base_ends_before_its_ending() -> None:
    # looked at without the units of must, so that the place is worked out here; nothing of must is heard to end there
    alternatives = [u.alternatives for u in build_units(analysed("mustn't", "m ˈʌ s ə n t"))]
    assert ((Item("gpc|st|s|e"),),) in alternatives


def test_a_compound_starts_twice_and_an_ending_starts_nothing() -> None:
    starts = [i for u in build_units(analysed("sunset", "s ˈʌ n s e t")) for a in u.alternatives for i in a]
    assert [i for i in starts if i.place == "s"] == [Item("gpc|s|s|s"), Item("gpc|s|s|s")]
    # looked at without its base's units, so that the places are its own
    items = [i for u in build_units(analysed("hunted", "h ˈʌ n t ɪ d")) for a in u.alternatives for i in a]
    assert [i for i in items if i.place == "s"] == [Item("gpc|h|h|s")]


@pytest.mark.parametrize(
    ("word", "pronunciation", "graphemes", "expected"),
    [
        # a doubled letter, and se, ce: with the single letter only under a guard
        ("rabbit", "r ˈæ b ɪ t", "bb", each("gpc|bb|b|m", "gpc|b|b|m single|bb|b")),
        ("fence", "f ˈe n s", "ce", each("gpc|ce|s|e", "gpc|c|s|e unnamed|ce|s")),
        ("face", "f ˈeɪ s", "c", each("gpc|c|s|e", "gpc|ce|s|e")),
        # the weak vowel before l: by its letters only where nothing names al
        (
            "metal",
            "m ˈe t ə l",
            "al",
            each("gpc|al|SCHWA+l|e", "gpc|a|SCHWA|m gpc|l|l|e", "gpc|a|TRAP|m gpc|l|l|e unnamed|al|SCHWA+l weak"),
        ),
        # July: the vowel of good without stress is excused; so is a letter without a sound
        ("july", "dʒ ʊ l ˈaɪ", "u", each("gpc|u|FOOT|m", "gpc|u|STRUT|m weak")),
        ("coffee", "k ˈɒ f i", "ee", each("gpc|ee|HAPPY|e", "gpc|ee|FLEECE|e")),
        ("finger", "f ˈɪ ŋ ɡ ə", "n", each("gpc|n|ng|m", "gpc|n|n|m")),
        # the /t/ of jumped is not excused
        ("jumped", "dʒ ˈʌ m p t", "ed", each("ending|-ed", "gpc|ed|t|e letters|-ed")),
        # tried by the ie of pie, else as try
        ("tried", "t r ˈaɪ d", "ie", each("gpc|ie|PRICE|e", "gpc|y|PRICE|e unnamed|ie|PRICE")),
        (
            "question",
            "k w ˈe s tʃ ə n",
            "ti o n",
            each(
                "together|tion|ch.SCHWA.n",
                "gpc|ti|ch|m gpc|o|SCHWA|m gpc|n|n|e",
                "gpc|ti|ch|m gpc|o|LOT|m gpc|n|n|e weak",
            ),
        ),
    ],
)
def test_the_ways_to_read_a_stretch(
    word: str, pronunciation: str, graphemes: str, expected: set[frozenset[Item]]
) -> None:
    assert ways(word, pronunciation, graphemes) == expected


def test_the_weak_vowel_of_an_ending_is_excused() -> None:
    # hunted by its letters, where -ed never stands
    (excused,) = each("gpc|e|DRESS|m gpc|d|d|e letters|-ed")
    assert any(way - {WEAKENED} == excused for way in ways("hunted", "h ˈʌ n t ɪ d", "ed"))


@pytest.mark.parametrize(
    ("word", "pronunciation", "expected"),
    [
        ("cats", "k ˈæ t s", {"shape|CVC", "syllables|1"}),
        # a word with a part of its own waits for both: help is CVCC, ful CVC
        ("helpful", "h ˈe l p f ʊ l", {"shape|CVCC", "shape|CVC", "adjacent|l+p", "syllables|2"}),
        # consonants that meet where two words do are none side by side
        ("flapjack", "f l ˈæ p dʒ æ k", {"shape|CCVC", "shape|CVC", "adjacent|f+l", "syllables|2"}),
        ("hunted", "h ˈʌ n t ɪ d", {"shape|CVCC", "adjacent|n+t", "syllables|2"}),
    ],
)
def test_the_structure_of_a_word_that_divides(word: str, pronunciation: str, expected: set[str]) -> None:
    assert structure(word, pronunciation) == set(map(Item, expected))
