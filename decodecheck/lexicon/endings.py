"""Grammatical endings, recognised by sound: the base is a known word and base + ending gives the pronunciation.

Spelling proposes a base (*running*: run, with its consonant doubled), sound disposes. The rules of spelling and sound are
those of any handbook of English grammar; the doubling, e-dropping and y-to-i rules are also stated in England's national
curriculum, English Appendix 1, years 1 and 2.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from decodecheck.phonics.sounds import BRITISH

ENDINGS = ("-s", "-es", "-ed", "-ing", "-er", "-est", "-y", "-ly", "'s", "n't", "'ll", "'ve", "'re", "'d", "'m")
VOWELS = frozenset("aeiou")
SIBILANTS = frozenset(("s", "z", "ʃ", "ʒ", "tʃ", "dʒ"))
VOICELESS = frozenset(("p", "t", "k", "f", "θ"))
_VOICED = {"s": "z", "θ": "ð"}
_VOICED_PLURALS = ("house", "mouth", "path", "bath", "oath", "youth", "sheath", "wreath", "lath")
"""Nouns whose plural is voiced (Quirk and others, A Comprehensive Grammar of the English Language, 1985, 5.83; from memory)."""
_VOWEL_STARTS = frozenset("æɑɒɔeɪʌʊuiəɜaɛo")
CONTRACTIONS = ("n't", "'ll", "'ve", "'re", "'d", "'m")
KEEPS_BASE = frozenset(("don't", "won't", "can't", "shan't", "ain't"))
"""Contractions with a vowel of their own: they are read by their letters, not as do, will or can with an ending."""
FUNCTION_WORDS = frozenset(
    [
        "a",
        "am",
        "an",
        "and",
        "as",
        "at",
        "been",
        "but",
        "for",
        "from",
        "had",
        "has",
        "have",
        "he",
        "her",
        "him",
        "his",
        "if",
        "in",
        "is",
        "it",
        "its",
        "me",
        "my",
        "nor",
        "not",
        "of",
        "on",
        "or",
        "our",
        "she",
        "so",
        "than",
        "that",
        "the",
        "their",
        "them",
        "then",
        "they",
        "this",
        "to",
        "until",
        "us",
        "was",
        "we",
        "were",
        "with",
        "you",
        "your",
    ]
)
"""Words that take no ending that begins with a vowel (hissed is not of his). Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Split:
    """A way to take an ending off a word: the base, the ending, how the spelling changed, where the ending's letters start.

    `change` is "", "doubled", "dropped e" or "y to i".
    """

    base: str
    ending: str
    change: str
    start: int


def splits(word: str) -> Iterator[Split]:
    """All ways in which a lower-case word may be a base with one ending, by spelling; likelier ones first."""
    n = len(word)
    if "'" in word:
        at = word.rindex("'")
        if word.endswith("n't"):
            yield Split(word[:-3], "n't", "", n - 3)
        elif word[at:] in ENDINGS:
            yield Split(word[:at], word[at:], "", at)
        return
    if word.endswith("s") and n > 2 and not word.endswith("ss"):
        if word.endswith("ies") and n > 4:
            yield Split(word[:-3] + "y", "-es", "y to i", n - 1)
        if word.endswith(("ses", "zes")) and n > 3 and word[-4] in VOWELS:
            # nose+s before nos+es: a base that ends in one s or z after one vowel letter would double it, but for buses, gases
            yield Split(word[:-1], "-s", "", n - 1)
        if word.endswith(("ses", "xes", "zes", "ches", "shes", "oes")) and word[:-2] not in FUNCTION_WORDS:
            yield Split(word[:-2], "-es", "", n - (1 if word.endswith("oes") else 2))
            if word.endswith(("sses", "zzes")) and doubles(word[:-3]):
                yield Split(word[:-3], "-es", "doubled", n - 2)
        if not word.endswith("is") or n > 4:
            yield Split(word[:-1], "-s", "", n - 1)
    for letters in ("ed", "ing", "er", "est", "y"):
        if word.endswith(letters) and n > len(letters) + 1:
            yield from _vowel_ending(word, letters)
    if word.endswith("ly") and n > 3:
        yield Split(word[:-2], "-ly", "", n - 2)
        if word.endswith("ily"):
            yield Split(word[:-3] + "y", "-ly", "y to i", n - 2)
        if word.endswith("uly") or word == "wholly":
            yield Split(word[:-2] + "e", "-ly", "dropped e", n - 2)
        if _describes(word[:-1] + "e"):
            yield Split(word[:-1] + "e", "-ly", "dropped e", n - 2)


LE_ADJECTIVES = frozenset(
    [
        "able",
        "ample",
        "brittle",
        "double",
        "feeble",
        "fickle",
        "gentle",
        "humble",
        "idle",
        "ignoble",
        "little",
        "multiple",
        "nimble",
        "noble",
        "quadruple",
        "simple",
        "single",
        "stable",
        "subtle",
        "supple",
        "treble",
        "triple",
    ]
)
"""Words in -le that take -ly (gently); the others take -y (bubbly). Common practice, no source."""


def _describes(base: str) -> bool:
    return base in LE_ADJECTIVES or (base.endswith(("able", "ible")) and len(base) > 4)


def _vowel_ending(word: str, letters: str) -> Iterator[Split]:
    ending, start = "-" + letters, len(word) - len(letters)
    stem = word[:start]
    if stem[-1] == "i" and letters in ("ed", "er", "est") and len(stem) > 1 and stem[-2] not in VOWELS:
        yield Split(stem[:-1] + "y", ending, "y to i", start + 1 if letters == "ed" else start)
    if letters[0] == "e":
        base = stem + "e"
        # free+d: the e belongs to a vowel grapheme of the base, so the ending is what follows it; not in free+er
        keeps = base[-2:] in ("ee", "ie", "oe", "ye", "ue") or (base[-2:] == "re" and base[-3:-2] not in VOWELS)
        yield Split(base, ending, "dropped e", start + 1 if keeps and letters == "ed" else start)
    elif (stem[-1] not in VOWELS or stem[-1] == "u") and (letters != "y" or not _describes(stem + "e")):
        yield Split(stem + "e", ending, "dropped e", start)
    if letters == "ing" and stem[-1] == "y":
        yield Split(stem[:-1] + "ie", ending, "y to i", start)
    # civil+ly, wool+ly: two l before y are those of -ly
    if (
        len(stem) > 2
        and stem[-1] == stem[-2]
        and stem[-1] not in VOWELS
        and doubles(stem[:-1])
        and (letters != "y" or stem[-1] != "l")
    ):
        yield Split(stem[:-1], ending, "doubled", start)
    if stem.endswith("ck"):  # picnicking, panicked
        yield Split(stem[:-1], ending, "doubled", start)
    if stem in FUNCTION_WORDS:
        return
    if stem[-1] not in "aeou" if letters == "y" else not must_double(stem):
        yield Split(stem, ending, "", start)


def doubles(base: str) -> bool:
    """May a base double its last letter before an ending: one consonant letter after one vowel letter (hop, travel, quiz)?"""
    if len(base) < 2 or base[-1] in VOWELS or base[-1] in "hwxy" or base in FUNCTION_WORDS:
        return False
    if len(base) == 2:
        return base[0] in VOWELS  # up
    if base[-2] not in VOWELS | {"y"}:
        return False
    # dial, fuel: two syllables; quiz: the u belongs to the q
    return base[-3] not in VOWELS or base[-3:-1] in ("ia", "ua", "ue") or base[-4:-2] == "qu"


def must_double(base: str) -> bool:
    """Does a base of one syllable double its last letter before a vowel ending (hop, run; not help, box, rain)?"""
    if len(base) < 3 or base[-1] in VOWELS or base[-1] in "wxy" or base[-2] not in VOWELS:
        return False
    return base[-3] not in VOWELS and not any(c in VOWELS or c == "y" for c in base[:-2])


def attach(base: str, pronunciation: str, ending: str, lexicon: str) -> list[tuple[str, int]]:
    """Pronunciations of base + ending, the likeliest first, each with the number of sounds that are the ending's.

    Takes and gives tokens with stress marks, as in the data files.
    """
    british = lexicon == BRITISH
    sounds = pronunciation.split(" ")
    last = sounds[-1].lstrip("ˈˌ")
    vowel_final = last[0] in _VOWEL_STARTS
    stems = [sounds]
    if ending in ("-ing", "-er", "-est", "-y"):
        if british and vowel_final and base.endswith(("r", "re")):
            stems = [[*sounds, "r"]]
        elif base.endswith("le") and last == "l" and len(sounds) > 2 and sounds[-2] == "ə":
            stems = [[*sounds[:-2], "l"], sounds]
    elif ending == "-ly":
        stems = _before_ly(base, sounds)
        if last == "l" and not _syllabic_le(base):
            # civil+ly: one /l/ for both letters
            return [(" ".join([*sounds, "i"]), 1), (" ".join([*sounds, "l", "i"]), 2)]
    elif ending in ("-s", "-es") and last in _VOICED and base.endswith(_VOICED_PLURALS):
        stems = [[*sounds[:-1], _VOICED[last]], sounds]
        return [
            (" ".join([*stem, *tail]), len(tail))
            for stem in stems
            for tail in _tails(ending, stem[-1].lstrip("ˈˌ"), False, british)
        ]
    tails = _tails(ending, last, vowel_final, british)
    return [(" ".join([*stem, *tail]), len(tail)) for stem in stems for tail in tails]


def _tails(ending: str, last: str, vowel_final: bool, british: bool) -> list[list[str]]:
    """What an ending adds after a last sound."""
    if ending in ("-s", "-es", "'s"):
        if last in SIBILANTS:
            return [["ɪ", "z"]] if british else [["ɪ", "z"], ["ə", "z"]]
        return [["s" if last in VOICELESS else "z"]]
    if ending == "-ed":
        if last in ("t", "d"):
            return [["ɪ", "d"], ["ə", "d"]]
        return [["t" if last in VOICELESS or last in ("s", "ʃ", "tʃ") else "d"]]
    after_consonant = {"'ll": ["ə", "l"], "'ve": ["ə", "v"], "'d": ["ə", "d"]}
    if ending in after_consonant:
        long = after_consonant[ending]
        return [long[1:], long] if vowel_final else [long, long[1:]]
    fixed = {
        "-ing": [["ɪ", "ŋ"]],
        "-er": [["ə"] if british else ["ə", "ɹ"]],
        "-est": [["ɪ", "s", "t"], ["ə", "s", "t"]],
        "-y": [["i"]],
        "-ly": [["l", "i"]],
        "n't": [["ə", "n", "t"], ["n", "t"]],
        "'re": [["ə"] if british else ["ə", "ɹ"]],
        "'m": [["m"]],
    }
    return fixed[ending]


def _syllabic_le(base: str) -> bool:
    """Does a word end in the le of gentle, not in that of sole?"""
    return base.endswith("le") and base[-3:-2] not in VOWELS


def _before_ly(base: str, stem: list[str]) -> list[list[str]]:
    """What is left of a base before -ly: gentle loses its l, happy has a weak i."""
    if _syllabic_le(base) and stem[-1] == "l" and len(stem) > 2:
        return [stem[:-2] if stem[-2] == "ə" else stem[:-1]]
    if base.endswith("y") and stem[-1] == "i":
        return [[*stem[:-1], weak] for weak in ("ɪ", "ə")]
    return [stem]


def same_sound(one: str, other: str) -> bool:
    """Are two pronunciations the same but for stress and for weak i against schwa?"""
    return loose(one) == loose(other)


_WEAK_I = {"ɪ": "ə", "i": "ə"}


@lru_cache(maxsize=1 << 16)
def loose(pronunciation: str) -> str:
    """A pronunciation without stress and with one sign for the weak vowels ɪ, i, ə."""
    return " ".join(_WEAK_I.get(t, t) for t in unstressed(pronunciation).split(" "))


def unstressed(pronunciation: str) -> str:
    """A pronunciation without its stress marks."""
    return pronunciation.replace("ˈ", "").replace("ˌ", "")
