"""Words that sound alike, found from their sounds alone."""

from __future__ import annotations

import re
from functools import cache, cached_property

import numpy as np
import numpy.typing as npt

from decodecheck.lexicon.common_words import unfit_words
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table
from decodecheck.wordlists.columns import Columns, Mask, Numbers
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
        known = np.asarray(likely_column()) >= KNOWN_FROM
        for word, named in _by_hand().items():
            number = tables.number(word)
            if number >= 0:
                known[number] = named
        known &= (np.asarray(tables.is_name) == 0) & (np.asarray(tables.is_sound) == 0)
        self._usable: Mask = known[columns.reading_word] & columns.usual & ~columns.names

    def words(self, numbers: Numbers, words: list[str]) -> dict[int, tuple[str, ...]]:
        """For the numbers of some words, the other words that one of their usual readings sounds like, the likeliest first.

        `words` are all words of the lexicon. Names, possessives, what is unfit for a classroom, and other spellings of the same
        word are left out.
        """
        columns, heard = self.columns, self.columns.heard
        own = self._readings(numbers)
        others = self._sorted_readings[_between(self._sorted_codes, heard[own])]
        by_sound: dict[int, set[int]] = {}
        for code, word in zip(heard[others].tolist(), columns.reading_word[others].tolist()):
            by_sound.setdefault(code, set()).add(word)
        found: dict[int, set[int]] = {}
        syllables: dict[int, int] = {}
        for code, word, beats in zip(
            heard[own].tolist(), columns.reading_word[own].tolist(), columns.syllables(own).tolist()
        ):
            found.setdefault(word, set()).update(by_sound.get(code, ()))
            syllables[word] = max(beats, syllables.get(word, 0))
        how = likely_column()
        result: dict[int, tuple[str, ...]] = {}
        for word, alike in found.items():
            mine = words[word]
            kept = [
                w
                for w in alike - columns.unfit - {word}
                if _may_be_named(words[w]) and not _same(mine, words[w], syllables[word])
            ]
            if kept:
                result[word] = tuple(words[w] for w in sorted(kept, key=lambda w: (-how[w], words[w])))
        return result

    def alone(self, numbers: Numbers) -> Mask:
        """For the numbers of some words, whether no usable word shares a sound with one of theirs: quick, and true wherever it
        says so; the others are to be asked for by `words`."""
        columns, heard = self.columns, self.columns.heard
        own = self._readings(numbers)
        codes = self._sorted_codes
        times = np.searchsorted(codes, heard[own], "right") - np.searchsorted(codes, heard[own])
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

    @cached_property
    def _sorted_readings(self) -> Numbers:
        """The readings of usable words, by what they sound like."""
        usable = np.flatnonzero(self._usable)
        result: Numbers = usable[np.argsort(self.columns.heard[usable], kind="stable")]
        return result

    @cached_property
    def _sorted_codes(self) -> npt.NDArray[np.uint64]:
        return self.columns.heard[self._sorted_readings]


@cache
def _by_hand() -> dict[str, bool]:
    """Words that are named, or not, however likely they are."""
    return {row["word"]: row["named"] == "yes" for row in read_table(rules_folder() / "homophones.tsv")}


def _between(codes: npt.NDArray[np.uint64], wanted: npt.NDArray[np.uint64]) -> Numbers:
    """Where in sorted codes those stand that are wanted; some may be named twice."""
    starts, ends = np.searchsorted(codes, wanted), np.searchsorted(codes, wanted, "right")
    lengths = ends - starts
    before = np.cumsum(lengths) - lengths
    result: Numbers = np.arange(lengths.sum()) - np.repeat(before, lengths) + np.repeat(starts, lengths)
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
    """May a word stand on a teacher's page as one that another sounds like?"""
    if word in SHORT:
        return True
    return word not in unfit_words() and not word.endswith("'s") and "-" not in word and len(word) > 1


def _same(one: str, other: str, syllables: int) -> bool:
    """Are two words one word in two spellings?"""
    return syllables > 1 and _respelt(one) == _respelt(other)


@cache
def _respelt(word: str) -> str:
    """A word as it would be written if what is spelt in two ways were spelt in one."""
    for pattern, instead in _RESPELT:
        word = pattern.sub(instead, word)
    return word
