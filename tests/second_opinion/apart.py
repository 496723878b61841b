"""Taking words apart: a base and its ending, a word with a first or last part, two words in one, a contraction.

The spelling rules are those of England's national curriculum, English Appendix 1, years 1 and 2 (doubling, dropped e, y to i);
whether the parts are heard in the whole is decided by a rough skeleton of its sounds.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

from decodecheck.lexicon.store import tables
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table
from tests.second_opinion.words import PROJECTED, REFERENCE, Divided, in_reference, readings

ENDS_SAID = {
    "-s": ("s", "z", "ɪz"), "-es": ("ɪz", "z"), "-ed": ("ɪd", "d", "t"), "-ing": ("ɪŋ",), "-er": ("ə",), "-est": ("ɪst",),
    "-y": ("i",), "-ly": ("li",), "'s": ("s", "z", "ɪz"), "n't": ("ənt", "nt"), "'ll": ("əl", "l"), "'ve": ("əv", "v"), "'re": ("ə",),
    "'d": ("d", "ɪd"), "'m": ("m",),
}  # fmt: skip
CONTRACTED = ("n't", "'s", "'ll", "'ve", "'re", "'d", "'m")
OWN_VOWEL = frozenset(("don't", "won't", "can't", "shan't", "ain't"))
SHORT_WORDS = frozenset(
    ("up", "in", "on", "no", "to", "so", "my", "by", "be", "it", "at", "ice", "air", "ear", "eye", "egg")
)
DIPHTHONGS = (
    ("iː", "I"),
    ("eɪ", "E"),
    ("aɪ", "A"),
    ("ɔɪ", "O"),
    ("ɛɹ", "Q"),
    ("eə", "Q"),
    ("əʊ", "G"),
    ("ɛ", "e"),
    ("ð", "θ"),
)
VOWELS = frozenset("aeiou")
RAREST = 150
COMMON_BASE = 260
"""How common the base of a word in -er, -est, -y, -ly must be (as tests/checking/test_forms.py has it)."""
COMMON = 200
"""How common both halves of a compound must be, in hundredths on the Zipf scale; this is a guess of the second opinion."""


@dataclass(frozen=True)
class Parts:
    """A word as its known words, the ending that follows them, and its letters that are neither: (from, to, first part?)."""

    bases: tuple[tuple[Divided, ...], ...]
    ending: str = ""
    affix: tuple[int, int] | None = None
    loose: bool = False
    """Two words in one, as it seems; whether the whole is read as them or by its letters is not for us to say."""


def skeleton(said: str) -> str:
    """Sounds without what endings and joins change: weak vowels and r; doubled sounds are one."""
    for long, one in DIPHTHONGS:
        said = said.replace(long, one)
    kept = "".join(c for c in said if c not in "ɪiəɹrɜɚ")
    return "".join(c for i, c in enumerate(kept) if kept[i - 1 : i] != c)


def _ends(said: str, end: str) -> bool:
    """Is an ending heard at the end, weak vowels and a final r not told apart?"""

    def weak(sounds: str) -> str:
        return re.sub("[ɪi](?!ː)", "ə", sounds.rstrip("rɹ"))

    return weak(said).endswith(weak(end))


@cache
def zipf(word: str) -> int:
    """Hundredths on the Zipf scale, 0 for a word that was not counted."""
    known = tables()
    number = known.number(word)
    return int(known.zipf[number]) if number >= 0 else 0


@cache
def _table(name: str, *columns: str) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(r[c] for c in columns) for r in read_table(rules_folder() / name))


@cache
def no_ending() -> frozenset[tuple[str, ...]]:
    """Words whose last letters are no ending."""
    return frozenset(_table("not_endings.tsv", "word", "ending"))


@cache
def no_compound() -> frozenset[str]:
    """Words that are no two words."""
    return frozenset(w for (w,) in _table("not_compounds.tsv", "word"))


@cache
def by_hand() -> dict[str, tuple[str, str]]:
    """Compounds whose sounds do not add up."""
    return {w: (a, b) for w, a, b in _table("compounds.tsv", "word", "left", "right")}


def bases(word: str) -> Iterator[tuple[str, str]]:
    """(base, ending) by spelling."""
    for ending in CONTRACTED:
        if word.endswith(ending) and len(word) > len(ending) and word not in OWN_VOWEL:
            yield word[: -len(ending)], ending
    if "'" in word:
        return
    for ending in ("-s", "-es", "-ed", "-ing", "-er", "-est", "-y", "-ly"):
        letters = ending[1:]
        stem = word[: -len(letters)]
        if not word.endswith(letters) or len(stem) < 2:
            continue
        if ending == "-s" and not stem.endswith("s"):
            yield stem, ending
        if ending == "-s":
            continue
        if letters[0] not in "ey" or not stem.endswith("e"):
            yield stem, ending
        if letters[0] in "eiy":
            if stem[-1] not in VOWELS or stem[-1] in "uo" or ending == "-ed":
                yield stem + "e", ending
            if stem[-1] == stem[-2] and stem[-1] not in VOWELS:
                yield stem[:-1], ending
            if stem.endswith("ck"):
                yield stem[:-1], ending
        if stem.endswith("i") and ending not in ("-ing", "-y"):
            yield stem[:-1] + "y", ending
        if ending == "-ing" and stem.endswith("y"):
            yield stem[:-1] + "ie", ending
        if ending == "-ly":
            yield stem + "l", ending
            yield stem + "le", ending
            if stem[-1] in "lu":
                yield stem + "e", ending


@cache
def apart(accent: str, whole: Divided) -> list[Parts]:
    """Every way to take a reading apart whose sounds add up; two words in one only where there is no other way.

    An accent that projects another is taken apart as that one is: a word is of two words or not, however it is said.
    """
    if accent in PROJECTED:
        other = in_reference(accent, whole)
        if other:
            found = (replace(p, bases=tuple(_here(accent, b) for b in p.bases)) for p in apart(REFERENCE, other))
            return [p for p in found if all(p.bases)]
        return []
    return [*_forms(accent, whole), *_affixed(accent, whole)] or list(_compounds(accent, whole))


def _here(accent: str, group: tuple[Divided, ...]) -> tuple[Divided, ...]:
    """Readings of the reference accent as another one has them."""
    wanted = {(r.sense, r.graphemes) for r in group}
    return tuple(r for r in readings(accent, group[0].word, True) if (r.sense, r.graphemes) in wanted)


@cache
def is_name(word: str) -> bool:
    """Is this word a name only?"""
    known = tables()
    number = known.number(word)
    return number >= 0 and bool(known.is_name[number])


def _forms(accent: str, whole: Divided) -> Iterator[Parts]:
    wanted = skeleton(whole.said)
    for base, ending in dict.fromkeys(bases(whole.word)):
        if (whole.word, ending) in no_ending() or whole.word.endswith("ically"):
            continue  # the al of logically is not heard: it is no logical with -ly
        if ending not in CONTRACTED and (is_name(base) or is_name(whole.word)):
            continue
        if ending in ("-er", "-est", "-y", "-ly") and (zipf(base) < COMMON_BASE or len(base) < 3):
            continue
        fits = tuple(
            r
            for r in readings(accent, base, True)
            if any(skeleton(r.said + e) == wanted and _ends(whole.said, e) for e in ENDS_SAID[ending])
            or ending == "'re"
        )
        if fits:
            doubtful = zipf(base) < RAREST or (ending == "-ly" and base.endswith("ll"))
            yield Parts((fits,), ending, loose=doubtful)


def _affixed(accent: str, whole: Divided) -> Iterator[Parts]:
    word, wanted = whole.word, skeleton(whole.said)
    for letters, said in _table("word_parts.tsv", "letters", "pronunciations"):
        text, first = letters.strip("-"), letters.endswith("-")
        size = len(text)
        if len(word) < size + 3 or not (word.startswith(text) if first else word.endswith(text)):
            continue
        rest = word[size:] if first else word[:-size]
        span = (0, size) if first else (len(word) - size, len(word))
        if zipf(rest) < COMMON_BASE or is_name(rest):
            continue
        for one in said.split(" | "):
            part = one.replace(" ", "")
            fits = tuple(
                r for r in readings(accent, rest, True) if skeleton(part + r.said if first else r.said + part) == wanted
            )
            if fits:
                yield Parts((fits,), "", span, loose=True)


def _compounds(accent: str, whole: Divided) -> Iterator[Parts]:
    word, wanted = whole.word, skeleton(whole.said)
    if word in by_hand():
        left, right = by_hand()[word]
        yield Parts((readings(accent, left), readings(accent, right)))
        return
    if word in no_compound() or "'" in word or is_name(word):
        return
    if "-" in word:
        halves = tuple(readings(accent, w) for w in word.split("-"))
        if all(halves):
            yield Parts(halves)
        return
    for i in range(2, len(word) - 1):
        left, right = word[:i], word[i:]
        if min(len(left), len(right)) < 3 and not SHORT_WORDS & {left, right}:
            continue
        if is_name(left) or is_name(right) or min(zipf(left), zipf(right)) < COMMON:
            continue
        if left + "-" in no_compound() or "-" + right in no_compound():
            continue
        pairs = [
            (a, b)
            for a in readings(accent, left)
            for b in readings(accent, right)
            if skeleton(a.said + b.said) == wanted
        ]
        if pairs:
            yield Parts((tuple(a for a, _ in pairs), tuple(b for _, b in pairs)), loose=True)
