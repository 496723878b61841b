"""Which sequences of sounds and spellings English words have, and what graphemes say in them: counted when the lexicon is compiled
(`decodecheck.lexicon.compiling.measured`), read here."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from functools import cache, cached_property
from typing import Any

from decodecheck.lexicon.beside import Context, Run, Spelling
from decodecheck.lexicon.store import MEASURED, read_whole
from decodecheck.resources import compiled_folder

Counts = Mapping[Run, int]
"""Consonants, or a vowel by itself, and how many words have them."""


class Measured:
    """What is counted over one lexicon's words of one syllable, or of one and two, that are no names and are not made of others."""

    def __init__(self, name: str, most: int) -> None:
        found = _file()
        self._spellings: list[Spelling] = [
            (grapheme, tuple(sound.split("+"))) for grapheme, sound in found["spellings"]
        ]
        lexicon = found["lexicons"][name]
        self.looked_for: frozenset[str] = frozenset(lexicon["looked_for"])
        """Graphemes of several letters that readers look for."""
        self._plausible: Sequence[Any] = lexicon["plausible"]
        first, self._vowels, *self._ends, self._middles, self._seconds, self._letters = lexicon["sequences"][most - 1]
        self.first: Counts = {self._run(run): times for run, times in first}
        """The consonants that a word may begin with."""

    def _run(self, numbers: Sequence[int]) -> Run:
        return tuple(self._spellings[n] for n in numbers)

    def _after(self, found: Sequence[Any]) -> dict[Spelling, Counts]:
        return {self._spellings[one]: {self._run(run): times for run, times in more} for one, more in found}

    @cached_property
    def vowels_after(self) -> dict[Spelling | None, Counts]:
        """Vowels by the consonant before them (None: the start of the word)."""
        return {
            None if one is None else self._spellings[one]: {self._run([vowel]): times for vowel, times in more}
            for one, more in self._vowels
        }

    @cached_property
    def ends_after(self) -> dict[int, dict[Spelling, Counts]]:
        """Consonants at the end of a word by the vowel before them, by the number of syllables."""
        return {syllables: self._after(found) for syllables, found in enumerate(self._ends, 1)}

    @cached_property
    def middles_after(self) -> dict[Spelling, Counts]:
        """Consonants between vowels by the first vowel."""
        return self._after(self._middles)

    @cached_property
    def _letters_after(self) -> dict[Spelling | None, frozenset[str]]:
        """With which letters second vowels begin, by the consonant before them."""
        return {
            None if one is None else self._spellings[one]: frozenset(letter for letter, _ in more)
            for one, more in self._letters
        }

    def seconds_after(self, consonant: Spelling) -> Counts:
        """Second vowels that a consonant may stand before: c before a, not before e."""
        letters = self._letters_after.get(consonant, frozenset())
        found = ((self._spellings[vowel], times) for vowel, times in self._seconds)
        return {(vowel,): times for vowel, times in found if vowel[0][0] in letters}

    @cached_property
    def _said(self) -> list[dict[Context, list[Spelling]]]:
        return [
            {tuple(context): [self._spellings[n] for n in said] for context, said in found} for found in self._plausible
        ]

    def plausible(self, context: Context, syllables: int) -> list[Spelling]:
        """A grapheme with each sound that it often has beside what it stands beside, in words of one syllable or of two; the commonest first."""
        return self._said[syllables - 1].get(context, [])


@cache
def measured(name: str, most: int) -> Measured:
    """What is counted over the British or American lexicon, in words of one syllable or of at most two. Raises UserError where the compiled lexicon is
    damaged."""
    return Measured(name, most)


@cache
def _file() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(read_whole(compiled_folder() / MEASURED))
    return found
