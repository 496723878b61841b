"""What is mended by rule in dictionary entries before they are compiled; single faults stand in `rules/supplement`."""

from __future__ import annotations

import re
from collections.abc import Collection

from decodecheck.lexicon.endings import attach, splits

_NUMERAL = re.compile(r"m*(?:cm|cd|d?c{0,3})(?:xc|xl|l?x{0,3})(?:ix|iv|v?i{0,3})\Z")
_TAILS = {
    "ing": ("ɪ ŋ",), "ings": ("ɪ ŋ z",), "ingly": ("ɪ ŋ l i",), "er": ("ə", "ə ɹ"), "ers": ("ə z", "ə ɹ z"),
    "est": ("ɪ s t", "ə s t"), "y": ("i",), "ies": ("i z", "iː z"), "ish": ("ɪ ʃ",), "ist": ("ɪ s t",),
}  # fmt: skip
"""Endings before which an l that follows a consonant letter is no syllable of its own, with their sounds."""
_SYLLABIC = re.compile(r"[bcdfghkptz]l(ing|ings|ingly|er|ers|est|y|ies|ish|ist)\Z|stl(ing|er|ers|y)\Z")
_SHORT = frozenset("eæɪʌɒʊɛɑi")
_VOWELS = frozenset("æɑɒɔeɪʌʊuiəɜaɛo")
_LONG = frozenset(("eɪ", "aɪ", "əʊ", "oʊ", "uː", "u", "iː", "i"))
_E_AFTER = ("c", "g", "v", "s", "z", "u", "l")


def is_numeral(word: str) -> bool:
    """Is this a Roman numeral of two letters or more in small letters (xiv)? Some are words, too (mix)."""
    return len(word) > 1 and bool(_NUMERAL.match(word))


def without_syllable(word: str, pronunciation: str) -> str:
    """Middling, wobbly, settler with /l/ straight after the consonant: the sources write it now with a schwa, now without.

    Takes and gives tokens with stress marks.
    """
    found = _SYLLABIC.search(word)
    if not found:
        return pronunciation
    for tail in _TAILS[found[1] or found[2]]:
        before = pronunciation.removesuffix(f" ə l {tail}")
        if before != pronunciation and before[-1] not in _VOWELS | {"ː", "r", "ɹ"}:
            return f"{before} l {tail}"
    return pronunciation


_NO_T = re.compile(r"n(?:ti|si|ssi)[aeou]|nci(?:al|ous|en)")


def without_t(word: str, pronunciation: str) -> str:
    """Intention, financial with /nʃ/: some American entries write the /t/ that slips in after an n. Takes and gives tokens."""
    if "ch" in word or not _NO_T.search(word):
        return pronunciation
    return pronunciation.replace("n tʃ ", "n ʃ ")


def verb_of(
    word: str, pronunciation: str, lexicon: str, likely: Collection[str] = frozenset()
) -> tuple[str, str] | None:
    """The verb that a form in -ed or -ing would have, with its pronunciation, though no source lists it (assorted).

    Told by sound: what is left without the ending must take it as any verb does; *naked*, *seaweed*, *purebred* do not.
    `likely` holds verbs to be preferred.
    """
    ending = "-ed" if word.endswith("ed") else "-ing" if word.endswith("ing") else ""
    if not ending or word.endswith("eed"):
        return None
    options = [s for s in splits(word) if s.ending == ending]
    sounds = pronunciation.split(" ")
    for length in (2, 1) if ending == "-ed" else (2,):
        stem = sounds[:-length]
        if len(stem) < 2 or (length == 1 and stem[-1].lstrip("ˈˌ") in _SHORT):
            continue
        if ending == "-ed" and ((length == 2 and word[-3] not in "td") or (stem[-1] == "ə" and word[-3] != "r")):
            continue
        said = " ".join(stem)
        fitting = [s for s in options if pronunciation in (built for built, _ in attach(s.base, said, ending, lexicon))]
        if fitting:
            return max(fitting, key=lambda s: (s.base in likely, _likely(s.change, s.base, said))).base, said
    return None


def _likely(change: str, base: str, said: str) -> int:
    """How well a base fits a participle: no doubled letter at its end, a final e after c, g, v or a long vowel letter."""
    if change == "doubled":
        return 2 if base[-1] not in "sflz" else 0
    if change == "y to i":
        return 3
    if change == "dropped e":
        stem = base[:-1]
        vowel = [t for t in said.replace("ˈ", "").replace("ˌ", "").split(" ") if t[0] in _VOWELS][-1:]
        long = stem[-2] in "aiouy" and stem[-3:-2] not in tuple("aeiou") and stem[-1] not in "wxy" and vowel[0] in _LONG
        soft = stem[-1] in _E_AFTER and not stem.endswith(("ss", "ll", "zz"))
        return 1 if long or soft or (stem.endswith("th") and said.endswith("ð")) else -1
    return 0
