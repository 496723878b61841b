"""What a teaching order makes of the whole lexicon: the first step of every word, in one go."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property

import numpy as np

from decodecheck.lexicon.items import Item
from decodecheck.lexicon.store import Lexicon
from decodecheck.lexicon.vector import Steps, WordSteps, made_of, reading_steps, sense_steps, unit_steps, word_steps


class Readiness:
    """First steps over the whole lexicon; made once for a teaching order, in some 10 ms."""

    def __init__(self, step_of: Callable[[Item], int], lexicon: Lexicon, tricky: Iterable[str]) -> None:
        self.step_of, self.lexicon, self.tricky = step_of, lexicon, tricky

    @cached_property
    def items(self) -> Steps:
        """The step of every item."""
        return np.fromiter(map(self.step_of, self.lexicon.tables.items), np.uint16)

    @cached_property
    def units(self) -> Steps:
        """The first step at which each unit can be read."""
        return unit_steps(self.lexicon.tables, self.items)

    @cached_property
    def readings(self) -> Steps:
        """The first step at which each reading can be read."""
        return reading_steps(self.lexicon, self.units)

    @cached_property
    def senses(self) -> Steps:
        """The first step at which each sense can be read."""
        return sense_steps(self.lexicon, self.readings)

    @cached_property
    def of_words(self) -> WordSteps:
        """The first steps at which each word can be decoded."""
        return word_steps(self.lexicon, self.senses)

    @property
    def words(self) -> Steps:
        """The first step at which each word can be decoded in every usual sense; NEVER for one this lexicon lacks."""
        return self.of_words.all_senses

    @cached_property
    def touched(self) -> frozenset[int]:
        """The numbers of words that are tricky words or are made of one (friends, someone)."""
        tables = self.lexicon.tables
        numbers = [number for word in self.tricky if (number := tables.number(word)) >= 0]
        return frozenset(made_of(self.lexicon, numbers))
