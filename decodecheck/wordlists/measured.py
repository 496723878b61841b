"""Which sequences of sounds and spellings English words have, counted over the distinct words of a lexicon.

A word is taken as runs of consonants and vowels in turn: the consonants that it begins with, a vowel, the consonants after it, and in
words of two syllables a second vowel and what follows. What is counted are neighbours: which consonants begin words, which
vowel follows a consonant, which consonants follow a vowel at the end and between vowels. Each word counts once, however common.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache, cached_property
from typing import TypeVar

import numpy as np

from decodecheck.lexicon.store import Lexicon, lexicon
from decodecheck.lexicon.units import SHORT, WEAK, Form
from decodecheck.lexicon.vector import rising
from decodecheck.phonics.sounds import Sound, has_vowel, reference_accent
from decodecheck.wordlists.spoken import UnitSounds

USUAL = 0.15
"""The least part of the words with the same sounds at the same place that has to be spelt so."""
_A = TypeVar("_A")
_B = TypeVar("_B")
COMMON = 250
"""Hundredths of the Zipf scale: rarer words, many of them foreign, say little of what English words are like."""
DISTINCT = 3
"""So many distinct words have to have a sequence before it is taken for one of English."""

Spelling = tuple[str, Sound]
"""A grapheme with its sound."""
Run = tuple[Spelling, ...]
"""Consonants one after the other; none for a word that begins or ends with a vowel."""

LAST_C: Run = (("c", ("k",)),)


class Measured:
    """The sequences of one lexicon's words of one syllable, or of one and two, that are no names and are not made of others."""

    def __init__(self, lex: Lexicon, most: int) -> None:
        self.words = list(_divided(lex, most))
        """The words themselves."""
        short = [runs for runs in self.words if len(runs) == 3]
        long = [runs for runs in self.words if len(runs) == 5]
        self.starts = Counter(runs[0] for runs in self.words)
        """The consonants that words begin with."""
        self.onward = Counter((_last(runs[0]), runs[1][0]) for runs in self.words)
        """A consonant (None: the start of the word) and the vowel after it."""
        self.ends = {
            1: Counter((runs[1][0], runs[2]) for runs in short),
            2: Counter((runs[3][0], runs[4]) for runs in long),
        }
        """A vowel and the consonants after it at the end of words, by the number of syllables."""
        self.middles = Counter((runs[1][0], runs[2]) for runs in long)
        """A first vowel and the consonants after it, in words of two syllables."""
        self.seconds = Counter(runs[3][0] for runs in long)
        """Second vowels."""
        self.before_seconds = Counter((_last(runs[2]), runs[3][0][0][0]) for runs in long)
        """The last consonant between two vowels, and the letter after it."""

    # -- by what comes before, for drawing ---------------------------------------------------------------------------

    @cached_property
    def first(self) -> Counter[Run]:
        """The consonants that a word may begin with: not a rare spelling (kl) of what is mostly spelt otherwise (cl)."""
        return _usual(self.starts, lambda run: run)

    @cached_property
    def vowels_after(self) -> dict[Spelling | None, Counter[Spelling]]:
        """Vowels by the consonant before them."""
        return _grouped(self.onward)

    @cached_property
    def ends_after(self) -> dict[int, dict[Spelling, Counter[Run]]]:
        """Consonants at the end by the vowel before them, by the number of syllables. No word of one syllable ends in a short vowel and c: those
        that do are clipped (doc, mic) or borrowed."""
        return {
            syllables: _grouped(
                _usual(
                    Counter({pair: times for pair, times in found.items() if syllables > 1 or not _clipped(*pair)}),
                    lambda pair: pair[1],
                    lambda pair: pair[0][0],
                )
            )
            for syllables, found in self.ends.items()
        }

    @cached_property
    def middles_after(self) -> dict[Spelling, Counter[Run]]:
        """Consonants between vowels by the first vowel."""
        return _grouped(self.middles)

    def seconds_after(self, consonant: Spelling) -> Counter[Spelling]:
        """Second vowels that a consonant may stand before: c before a, not before e."""
        return Counter(
            {
                vowel: times
                for vowel, times in self.seconds.items()
                if times >= DISTINCT and self.before_seconds[consonant, vowel[0][0]] >= DISTINCT
            }
        )


def _last(run: Run) -> Spelling | None:
    return run[-1] if run else None


def _usual(
    found: Counter[_A], run: Callable[[_A], Run], beside: Callable[[_A], object] = lambda _: None
) -> Counter[_A]:
    """Counts without rare spellings of consonants that are mostly spelt otherwise, beside the same thing, and without those of too few
    words."""
    by_sound: Counter[object] = Counter()
    for thing, times in found.items():
        by_sound[beside(thing), _sounds(run(thing))] += times
    return Counter(
        {
            thing: times
            for thing, times in found.items()
            if times >= DISTINCT and times >= USUAL * by_sound[beside(thing), _sounds(run(thing))]
        }
    )


def _clipped(vowel: Spelling, run: Run) -> bool:
    """Do a short vowel and a single c stand at the end? In short words /k/ is usually spelt ck there (National curriculum in England, English Appendix
    1, 2013, year 1)."""
    return run == LAST_C and len(vowel[0]) == 1


def _sounds(run: Run) -> tuple[str, ...]:
    return tuple(code for _, sound in run for code in sound)


def _grouped(found: Counter[tuple[_A, _B]]) -> dict[_A, Counter[_B]]:
    """Counts by the first of each pair, without those of too few words."""
    result: dict[_A, Counter[_B]] = {}
    for (one, other), times in found.items():
        if times >= DISTINCT:
            result.setdefault(one, Counter())[other] = times
    return result


def measured(name: str, most: int) -> Measured:
    """The sequences of the British or American lexicon, in words of one syllable or of at most two."""
    if (name, most) not in _MEASURED:
        _MEASURED[name, most] = Measured(lexicon(name), most)
    return _MEASURED[name, most]


_MEASURED: dict[tuple[str, int], Measured] = {}


def words_of(name: str, syllables: int) -> Iterator[list[Run]]:
    """The measured words that have so many syllables."""
    found = _MEASURED.get((name, 2)) or measured(name, syllables)
    return (word for word in found.words if len(word) == 2 * syllables + 1)


@cache
def vowel(sound: Sound) -> bool:
    """Does this sound hold a vowel?"""
    return has_vowel(sound)


def _divided(lex: Lexicon, most: int) -> Iterator[list[Run]]:
    """The words as runs of consonants and vowels in turn."""
    units = UnitSounds(lex, reference_accent(lex.name))
    known = [None if _odd(form) else (form[:2], vowel(form[1]), _weak(*form[:2])) for form in lex.tables.forms]
    for forms in units.of(_readings(lex, units, most)):
        runs: list[Run] = [()]
        first_weak = last_weak = False
        for number in forms:
            found = known[number]
            if found is None:
                runs = []
                break
            spelling, is_vowel, weak = found
            if not is_vowel:
                runs[-1] = (*runs[-1], spelling)
                continue
            if weak and len(runs) == 3:
                spelling = spelling[0], (SHORT[spelling[0]],)  # the e of tennis is read as that of ten
            first_weak = first_weak or (weak and len(runs) == 1)
            last_weak = weak
            runs += [(spelling,), ()]
        # nor does the a of pizza tell how an a at the end is read that is not weakened
        if len(runs) == 3 or (len(runs) == 5 and not first_weak and (runs[4] or not last_weak)):
            yield runs


def _odd(form: Form) -> bool:
    """Is a grapheme none that an invented word may have: irregular, silent, an apostrophe?"""
    grapheme, sound, _, irregular = form
    return irregular or not sound or not grapheme.replace("-", "").isalpha()


def _weak(grapheme: str, sound: Sound) -> bool:
    """Is a single vowel letter weakened?"""
    return grapheme in SHORT and sound[0] in WEAK and sound != (SHORT[grapheme],) and len(sound) == 1


def _readings(lex: Lexicon, units: UnitSounds, most: int) -> list[int]:
    """The first readings of common words of at most so many syllables that are no names and not made of others."""
    tables = lex.tables
    senses = np.frombuffer(lex.word_sense, np.uint32)
    usable = (np.frombuffer(tables.zipf, np.uint16) >= COMMON) & (np.frombuffer(tables.is_name, np.uint8) == 0)
    usable &= senses[1:] > senses[:-1]
    readings = rising(lex.sense_reading)[senses[:-1][usable]]
    parts = np.frombuffer(lex.reading_part, np.uint32)
    syllables = units.vowels()[readings]
    whole = (parts[readings + 1] == parts[readings]) & (syllables >= 1) & (syllables <= most)
    found: list[int] = readings[whole].tolist()
    return found
