"""The words that chains are made of: decodable at a step, fit for a classroom, likely known to a child."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from decodecheck.lexicon.common_words import is_fit
from decodecheck.lexicon.units import Form
from decodecheck.lexicon.vector import labelled, rising
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.likely import likely_column
from decodecheck.wordlists.spoken import Sounds, UnitSounds, sounds_of

CHILD_LIKELY = 300
"""Hundredths: a word has to be likely at least once in a million words of books for young children."""


@dataclass(frozen=True, slots=True)
class SpokenWord:
    """A word with what it says in one reading: its graphemes, and its sounds in the accent. `sense` is "" where the word has
    one sense only; `likely` how likely it is in books for young children (`likely.py`), `made` whether it is made of another word (cats, racked)."""

    word: str
    forms: tuple[Form, ...]
    sounds: Sounds
    sense: str
    likely: int
    made: bool = False


class Pool:
    """The words of a teaching order at a step that lists for children are made of.

    Left out are names, words that the order speaks of by themselves (pinned readings), unfit words
    (`rules/unfit_words.tsv`), uncommon words, and, unless `heteronyms`, words with senses that sound differently.
    """

    def __init__(self, order: TeachingOrder, step: int, *, heteronyms: bool = False) -> None:
        self.order, self.step, self.heteronyms = order, step, heteronyms
        self._units = UnitSounds(order.lexicon, order.accent)
        self._steps = order.readiness.readings.tolist()
        rare, name = (labelled(order.lexicon, tag) for tag in ("RARE", "PROPN"))
        self._unusual = [r or n for r, n in zip(rare, name)]

    def words(self, most: int | None = None) -> list[SpokenWord]:
        """All of them, sorted by word; only those of at most so many sounds, if a number is given."""
        lexicon = self.order.lexicon
        tables = lexicon.tables
        likely = np.frombuffer(likely_column(), np.uint16)
        usable = (self.order.readiness.words <= self.step) & (likely >= CHILD_LIKELY)
        usable &= np.frombuffer(tables.is_name, np.uint8) == 0
        if most is not None:
            usable &= self._sounds_of_words() <= most
        found: list[SpokenWord] = []
        for number in np.flatnonzero(usable).tolist():
            word = tables.word(number)
            if word.isalpha() and word not in self.order.pinned and is_fit(word, lexicon.name):
                readings = self._of(number, word)
                if self.heteronyms or len(readings) == 1:
                    found += [r for r in readings if most is None or len(r.sounds) <= most]
        return found

    def _sounds_of_words(self) -> npt.NDArray[np.int64]:
        """How many sounds the first reading of each word has."""
        lexicon = self.order.lexicon
        first = rising(lexicon.sense_reading)[np.frombuffer(lexicon.word_sense, np.uint32)[:-1]]
        return np.append(self._units.counts(), 0)[first]

    def named(self, word: str) -> list[SpokenWord]:
        """What one word says, uncommon or unfit or not, as long as it can be decoded: one for each of its senses that sound
        differently. Empty where it is not in the lexicon."""
        number = self.order.lexicon.tables.number(word)
        if word in self.order.pinned:
            forms = tuple((s.grapheme, s.sound, s.linked, s.irregular) for s in self.order.pinned[word].segments)
            return [SpokenWord(word, forms, sounds_of(forms, self.order.accent), "", 0)]
        return self._of(number, word) if number >= 0 else []

    def _of(self, number: int, word: str) -> list[SpokenWord]:
        lexicon = self.order.lexicon
        senses = range(lexicon.word_sense[number], lexicon.word_sense[number + 1])
        likely = int(likely_column()[number])
        found: dict[Sounds, tuple[int, SpokenWord]] = {}
        for sense in self._usual(senses):
            # of variants, the first that can be read by now
            readings = range(lexicon.sense_reading[sense], lexicon.sense_reading[sense + 1])
            reading = next((r for r in readings if self._steps[r] <= self.step), None)
            if reading is None:
                continue
            forms = self._units.forms(reading)
            sounds = sounds_of(forms, self.order.accent)
            made = lexicon.reading_part[reading] < lexicon.reading_part[reading + 1]
            found.setdefault(sounds, (sense, SpokenWord(word, forms, sounds, "", likely, made)))
        if len(found) == 1:
            return [spoken for _, spoken in found.values()]
        return [replace(spoken, sense=self._label(sense)) for sense, spoken in found.values()]

    def _label(self, sense: int) -> str:
        lexicon = self.order.lexicon
        return lexicon.reading(lexicon.sense_reading[sense], sense).sense

    def _usual(self, senses: range) -> Sequence[int]:
        """The senses that are neither rare nor names; all of them where there are no others."""
        label = self.order.lexicon.sense_label
        return [sense for sense in senses if not self._unusual[label[sense]]] or senses
