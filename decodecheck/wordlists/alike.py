"""Words that sound alike, found from their sounds alone."""

from __future__ import annotations

import re
from functools import cache

import numpy as np

from decodecheck.lexicon.store import NAMED
from decodecheck.wordlists.columns import Columns, Mask, Numbers, ranges
from decodecheck.wordlists.likely import likely_column

KNOWN_FROM = 330
"""How likely a word has to be in books for young children, in hundredths on the Zipf scale, to be named as one that another sounds like, unless
`rules/homophones.tsv` says otherwise: what is rarer (*seme*, for *seem*) confuses nobody."""
_RESPELT = (
    (re.compile(r"([iy])z(e|es|ed|er|ers|ing|ation|ations)\Z"), r"\1s\2"),
    (re.compile(r"our"), "or"),
    (re.compile(r"ll"), "l"),
    (re.compile(r"ae|oe"), "e"),
)
"""Two spellings of one word: organise and organize, colour and color. Only tried in words of more than one syllable: pour and por,
hall and hal are none."""
_COUNTRIES = (("our", "or"), ("re", "er"), ("ise", "ize"), ("isi", "izi"), ("isa", "iza"), ("yse", "yze"), ("ll", "l"), ("ence", "ense"), ("ogue", "og"),
              ("ey", "ay"), ("um", "om"), ("tyre", "tire"), ("programme", "program"), ("plough", "plow"), ("pyjama", "pajama"), ("aero", "air"))  # fmt: skip
"""Letters that the spellings of two countries have for each other."""


class Alike:
    """Which words of a lexicon sound like which, in the accent of the columns."""

    def __init__(self, columns: Columns) -> None:
        self.columns = columns
        tables = columns.tables
        by_hand = np.asarray(tables.named_alike)
        known = np.where(by_hand == 0, np.asarray(likely_column()) >= KNOWN_FROM, by_hand == NAMED.index("yes"))
        known &= (np.asarray(tables.is_name) == 0) & (np.asarray(tables.is_sound) == 0)
        self._usable: Mask = known[columns.reading_word] & columns.usual & ~columns.names

    def words(self, numbers: Numbers, words: list[str]) -> dict[int, tuple[str, ...]]:
        """For the numbers of some words, the other words that one of their usual readings sounds like, the likeliest first.

        `words` are all words of the lexicon. Names, possessives, what is unfit for a classroom, and other spellings of the same
        word are left out.
        """
        columns = self.columns
        own = self._readings(numbers)
        others, owner = self._with_sounds(columns.heard[own])
        one, other = columns.reading_word[own][owner], columns.reading_word[others]
        kept = (one != other) & ~columns.unfit[other] & (np.asarray(columns.tables.unfit_kind)[other] == 0)
        beats = np.zeros(columns.tables.count, np.int64)
        np.maximum.at(beats, columns.reading_word[own], columns.syllables(own))
        found: dict[int, set[int]] = {}
        for word, alike in zip(one[kept].tolist(), other[kept].tolist()):
            if _may_be_named(words[alike]) and not _same(words[word], words[alike], int(beats[word])):
                found.setdefault(word, set()).add(alike)
        how = likely_column()
        return {
            word: tuple(words[w] for w in sorted(alike, key=lambda w: (-how[w], words[w])))
            for word, alike in found.items()
        }

    def alone(self, numbers: Numbers) -> Mask:
        """For the numbers of some words, whether no usable word shares a sound with one of theirs: quick, and true wherever it
        says so; the others are to be asked for by `words`."""
        columns, heard = self.columns, self.columns.heard
        own = self._readings(numbers)
        times = np.bincount(heard[self._usable], minlength=len(heard))[heard[own]]
        busy = np.zeros(columns.tables.count, bool)
        busy[columns.reading_word[own[times > self._usable[own]]]] = True
        result: Mask = ~busy[numbers]
        return result

    def _readings(self, numbers: Numbers) -> Numbers:
        """The usual readings of some words, but for names."""
        columns = self.columns
        wanted = np.zeros(columns.tables.count, bool)
        wanted[numbers] = True
        return np.flatnonzero(wanted[columns.reading_word] & columns.usual & ~columns.names)

    def _with_sounds(self, sounds: Numbers) -> tuple[Numbers, Numbers]:
        """The readings of usable words that sound as some numbers say, and for each the place of its number."""
        usable = np.flatnonzero(self._usable & self._among(sounds))
        heard = self.columns.heard[usable]
        usable = usable[np.argsort(heard, kind="stable")]
        heard = np.sort(heard)
        starts, ends = np.searchsorted(heard, sounds), np.searchsorted(heard, sounds, "right")
        return usable[ranges(starts, ends - starts)], np.repeat(np.arange(len(sounds)), ends - starts)

    def _among(self, sounds: Numbers) -> Mask:
        """For every reading, whether its sounds are among some."""
        heard = self.columns.heard
        wanted = np.zeros(len(heard), bool)
        wanted[sounds] = True
        result: Mask = wanted[heard]
        return result


SHORT = ("a", "i", "who's", "he's", "she's", "it's", "that's", "what's", "there's", "here's", "where's", "let's")
"""Words of one letter, and contractions that end like possessives."""


def other_spellings(word: str) -> list[str]:
    """How a word may be spelt in the other country: organise and organize, colour and color; most of these are no words."""
    found = {word}
    for old, new in _COUNTRIES:
        found |= {one.replace(a, b) for one in list(found) for a, b in ((old, new), (new, old)) if a in one}
    return sorted(found - {word})


def _may_be_named(word: str) -> bool:
    """May a word that is fit for a classroom stand on a teacher's page as one that another sounds like?"""
    if word in SHORT:
        return True
    return not word.endswith("'s") and "-" not in word and len(word) > 1


def _same(one: str, other: str, syllables: int) -> bool:
    """Are two words one word in two spellings?"""
    return syllables > 1 and _respelt(one) == _respelt(other)


@cache
def _respelt(word: str) -> str:
    """A word as it would be written if what is spelt in two ways were spelt in one."""
    for pattern, instead in _RESPELT:
        word = pattern.sub(instead, word)
    return word
