"""How hard a word is to spell for a child who has been taught so far, as a sum of parts that can be seen.

    sounds      half a point for each sound that has to be heard and held
    adjacent    a point for each consonant that stands right after another one: the second is easily left out
    nasal       a point more where the first of two consonants that close a word or a part of it is m, n or ng (jump, hand, think): it is
                what young spellers leave out most (R. Treiman, Beginning to Spell, 1993)
    weak        a point and a half for each weakened vowel (the a of about): its sound does not tell its letter
    doubled     a point for each consonant letter that is written twice (rabbit, mission, referring)
    choice      for each sound, how little its spelling follows from it: the number of times that one would have to halve the choices
                (`spelling_choice.py`); three for a letter without a sound of its own

The weights are the project's own judgement; only their order is meant to be used.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from decodecheck.lexicon.store import Reading
from decodecheck.lexicon.units import doubled_single
from decodecheck.phonics.align import VOWEL_LETTERS, Segment
from decodecheck.phonics.sounds import has_vowel
from decodecheck.wordlists.shown import shown_segments
from decodecheck.wordlists.spelling_choice import Choice

SOUND, ADJACENT, NASAL, WEAK, DOUBLED, SILENT = 0.5, 1.0, 1.0, 1.5, 1.0, 3.0
HARD = 0.4
"""A grapheme that is less likely than this for its sound is told as a hard spot."""
BY_RULE = frozenset(
    (
        "ve",
        "se",
        "ze",
        "ce",
        "ge",
        "ck",
        "tch",
        "dge",
        "ch",
        "k",
        "c",
        "g",
        "j",
        "s",
        "z",
        "le",
        "el",
        "nk",
        "ng",
        "n",
        "ed",
        "d",
        "t",
    )
)
"""Consonants that stand where rules of spelling put them: at the end of a word, after a short vowel, before e or i."""
NASALS = ("m", "n", "ng")


@dataclass(frozen=True, slots=True)
class Effort:
    """The parts of a word's measure, and what each spelling of it weighs."""

    sounds: float
    adjacent: float
    nasal: float
    weak: float
    doubled: float
    choice: float
    choices: tuple[Choice, ...]

    @property
    def parts(self) -> dict[str, float]:
        """Every part by its name."""
        return {
            "sounds": self.sounds,
            "adjacent": self.adjacent,
            "nasal": self.nasal,
            "weak": self.weak,
            "doubled": self.doubled,
            "choice": self.choice,
        }

    @property
    def total(self) -> float:
        """The whole: the larger, the harder."""
        return sum(self.parts.values())

    @property
    def hard_spots(self) -> tuple[Choice, ...]:
        """The spellings that a child would hardly choose, and that nothing in the word decides: the kn of knee. Not told is what a rule of spelling
        gives: a doubled letter, the ve of leave, the ck of tickle, the k of skirt; nor is a split digraph where a single letter is likelier,
        or the other way round."""
        return tuple(c for c in self.choices if c.likelihood < HARD and c.usual != c.grapheme and _is_choice(c))


def _is_choice(choice: Choice) -> bool:
    """Whether nothing but the word itself decides on a spelling."""
    grapheme, usual = choice.grapheme, choice.usual
    # the ie of cried is the y of cry
    if (
        (grapheme == "ie" and "-" in usual)
        or doubled_single(grapheme)
        or grapheme in BY_RULE
        or doubled_single(usual) == grapheme
    ):
        return False
    if len(grapheme) == 1 and grapheme in VOWEL_LETTERS:
        return len(usual) == 1
    return "-" not in grapheme or len(usual) > 1


def effort(reading: Reading, sounds: int, choices: Sequence[Choice]) -> Effort:
    """The measure of a reading with so many sounds, whose spellings are weighed by `choices`."""
    segments = shown_segments(reading)
    heard = [s for s in segments if s.sound]
    consonants = [not has_vowel(s.sound) for s in heard]
    adjacent = sum(one and other for one, other in pairwise(consonants))
    return Effort(
        SOUND * sounds,
        ADJACENT * adjacent,
        NASAL * _nasals(heard, consonants),
        WEAK * sum("SCHWA" in s.sound for s in segments),
        DOUBLED * sum(has_doubled(s.grapheme) for s in segments),
        sum(c.bits for c in choices) + SILENT * (len(segments) - len(heard)),
        tuple(choices),
    )


@cache
def has_doubled(grapheme: str) -> bool:
    """Is a consonant letter written twice in a grapheme: in bb, but also in the ssi of mission and the err of referring?"""
    return any(doubled_single(one + other) for one, other in pairwise(grapheme))


def _nasals(segments: Sequence[Segment], consonants: Sequence[bool]) -> int:
    """How many of m, n and ng stand right after a vowel and before another consonant that closes with them: not the n of candy."""
    found = 0
    for at in range(1, len(segments) - 1):
        if segments[at].sound[-1] in NASALS and not consonants[at - 1] and consonants[at + 1]:
            after = consonants[at + 1 :]
            run = after.index(False) if False in after else len(after)
            found += at + 1 + run == len(segments) or run > 1
    return found
