"""A list from easy to hard to spell."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from itertools import takewhile

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
        """The measure of each word that the lexicon lists, at the list's own step."""
        numbers = self.examined.numbers
        if not numbers:
            return {}
        order = self.examined.order
        columns = columns_of(order)
        readings = columns.first_reading[np.array(list(numbers.values()), np.int64)]
        choices = SpellingChoices(columns, order, self.examined.step).choices(readings)
        known = map(columns.lexicon.reading, readings.tolist())
        return {
            word: effort(reading, self.examined.sounds(reading), own).total
            for word, reading, own in zip(numbers, known, choices)
        }

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
        """A run from easy to hard. Entries without a measure at its start (a heading) stay there, others come last; what is as hard stays as it
        stood."""
        heading = list(takewhile(lambda f: f.word not in self.effort, run))
        rest = run[len(heading) :]
        return [
            *heading,
            *sorted(rest, key=lambda f: (f.word not in self.effort, self.rank(f) if f.word in self.effort else 0)),
        ]
