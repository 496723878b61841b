"""A list from easy to hard to spell."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np

from decodecheck.lists.examined import Examined, Fact
from decodecheck.wordlists.described import columns_of
from decodecheck.wordlists.effort import effort
from decodecheck.wordlists.spelling_choice import SpellingChoices

CLOSE = 0.05
"""Words whose measures differ by less are as hard as each other."""


class Ordering:
    """How hard the words of a list are to spell."""

    def __init__(self, examined: Examined) -> None:
        self.examined = examined

    @cached_property
    def effort(self) -> dict[str, float]:
        """The measure of each word that the lexicon lists, at the step of its entry."""
        found: dict[str, float] = {}
        columns = columns_of(self.examined.order)
        by_step: dict[int, list[str]] = {}
        for fact in self.examined.words:
            if fact.word in self.examined.numbers:
                by_step.setdefault(fact.step, []).append(fact.word)
        for step, words in by_step.items():
            distinct = [word for word in dict.fromkeys(words) if word not in found]
            if not distinct:
                continue
            readings = columns.first_reading[np.array([self.examined.numbers[w] for w in distinct], np.int64)]
            choices = SpellingChoices(columns, self.examined.order, step).choices(readings)
            for word, reading, own in zip(distinct, readings.tolist(), choices):
                known = columns.lexicon.reading(reading)
                found[word] = effort(known, self.examined.sounds(known), own).total
        return found

    @cached_property
    def runs(self) -> list[list[Fact]]:
        """The entries that belong together: rows without an empty one between, of one step and one target."""
        runs: list[list[Fact]] = []
        for fact in self.examined.facts:
            before = runs[-1][-1] if runs else None
            if before is None or not fact.entry.follows or (fact.step, fact.target) != (before.step, before.target):
                runs.append([])
            runs[-1].append(fact)
        return runs

    def rank(self, fact: Fact) -> int:
        """Where a word stands by its measure; of words that are as hard as each other it is the same."""
        return round(self.effort[fact.word] / CLOSE)

    def in_order(self, run: Sequence[Fact]) -> list[Fact]:
        """A run from easy to hard; words without a measure come last, and what is as hard stays as it stood."""
        return sorted(run, key=lambda f: (f.word not in self.effort, self.rank(f) if f.word in self.effort else 0))
