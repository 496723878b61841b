"""Sounds by code, and the accents that project them to IPA.

The codes of vowels are lexical sets (J. C. Wells, Accents of English, 1982): one code stands for a group of words whose
vowel moves together from accent to accent. `rules/sounds.tsv` holds them with their IPA in every accent.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

ACCENTS = ("southern-british", "general-american", "northern-english", "scottish")
BRITISH, AMERICAN = "british", "american"
LEXICONS = (BRITISH, AMERICAN)

Sound = tuple[str, ...]
"""What a grapheme says: sound codes in order; empty where it is silent."""


def sound_of(codes: str) -> Sound:
    """A sound from its codes as they are written in keys and items: "sh", "SCHWA+l", "" for silence."""
    return tuple(codes.split("+")) if codes else ()


def lexicon_of(accent: str) -> str:
    """The lexicon an accent reads: every accent but the American ones projects the British lexicon."""
    return AMERICAN if accent == "general-american" else BRITISH


def reference_accent(lexicon: str) -> str:
    """The accent in which a lexicon's pronunciations are written."""
    return "general-american" if lexicon == AMERICAN else "southern-british"


@dataclass(frozen=True, slots=True)
class SoundCode:
    """One sound: its code, kind (vowel or consonant), IPA halves by accent, whether it links with an r, key word."""

    code: str
    vowel: bool
    ipa: dict[str, tuple[str, ...]]
    links: bool
    key_word: str


@cache
def sound_codes() -> dict[str, SoundCode]:
    """All sounds of `rules/sounds.tsv` by code."""
    found = {}
    for row in read_table(rules_folder() / "sounds.tsv"):
        ipa = {accent: tuple(row[accent].split(" ")) for accent in ACCENTS}
        found[row["code"]] = SoundCode(row["code"], row["kind"] == "vowel", ipa, row["link"] == "y", row["key_word"])
    return found


@cache
def _special() -> dict[tuple[str, str, str], tuple[str, ...]]:
    """Sounds that depend on the spelling in an accent: (accent, grapheme, code) to IPA halves."""
    return {
        (row["accent"], row["grapheme"], row["sound"]): tuple(row["ipa"].split(" "))
        for row in read_table(rules_folder() / "accent_spellings.tsv")
    }


def is_vowel(code: str) -> bool:
    """Is this sound code a vowel?"""
    return sound_codes()[code].vowel


def has_vowel(sound: Sound) -> bool:
    """Does this sound hold a vowel?"""
    return any(is_vowel(code) for code in sound)


@cache
def project(grapheme: str, sound: Sound, linked: bool, accent: str) -> tuple[str, ...]:
    """The IPA of each sound of a grapheme in an accent; a linking r is a sound of its own where r is otherwise unsounded.

    >>> project("ear", ("NEAR",), True, "southern-british")
    ('ɪə', 'r')
    """
    result = []
    for code in sound:
        halves = _special().get((accent, grapheme, code)) or sound_codes()[code].ipa[accent]
        result.append("".join(halves))
    if linked and not (result and result[-1][-1] in "rɹ"):
        result.append("r")
    return tuple(result)


def tokens(sound: Sound, linked: bool, accent: str) -> tuple[str, ...]:
    """The sound as the pronunciation files write it: every half a token of its own."""
    result: list[str] = []
    for code in sound:
        result += sound_codes()[code].ipa[accent]
    if linked:
        r = sound_codes()["r"].ipa[accent][0]
        if result[-1] != r:
            result.append(r)
    return tuple(result)


STRESS = ("ˈ", "ˌ")


def split_stress(pronunciation: str) -> tuple[tuple[str, ...], tuple[bool, ...]]:
    """Tokens of a pronunciation ("k ˈæ t") without stress marks, and which of them carry a stress."""
    raw = pronunciation.split(" ")
    return tuple(t.lstrip("ˈˌ") for t in raw), tuple(t[0] in STRESS for t in raw)


_SAME = (
    ("tʃ", "\x01"), ("dʒ", "\x02"), ("ʧ", "\x01"), ("ʤ", "\x02"), ("ɹ", "r"), ("g", "ɡ"), ("ɛː", "eə"), ("ɛə", "eə"),
    ("ɝ", "ɜr"), ("ɚ", "ər"), ("ɛ", "e"), ("a:", "ɑː"), (":", "ː"), ("ˈ", ""), ("ˌ", ""), ("'", ""), ("/", ""),
    ("[", ""), ("]", ""), (" ", ""), (".", ""), ("\u0361", ""),
)  # fmt: skip


def plain_ipa(ipa: str) -> str:
    """IPA with the usual differences of notation folded (r/ɹ, e/ɛ, eə/ɛː, ties, stress), for comparing."""
    for old, new in _SAME:
        ipa = ipa.replace(old, new)
    return ipa
