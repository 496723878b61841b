"""From which steps words can be read: what a teaching order says of a word, at whatever step it is asked."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from decodecheck.lexicon.lookup import Lookup, plain_spelling
from decodecheck.lexicon.store import NEVER, Reading
from decodecheck.progression.order import TeachingOrder


def first_steps(order: TeachingOrder) -> FirstSteps:
    """The first steps of words by an order: made once, and kept with it."""
    found = order.remembered.get("first steps")
    if not isinstance(found, FirstSteps):
        found = order.remembered["first steps"] = FirstSteps(order)
    return found


class FirstSteps:
    """The first steps of words by a teaching order; remembers what it was asked."""

    def __init__(self, order: TeachingOrder) -> None:
        self.order = order
        self.lookup = Lookup(order.accent, order.pinned)
        self._worked_out: dict[str, int] = {}
        """Of words that the lexicon lacks, or that the order speaks of by themselves."""

    def of(self, word: str) -> tuple[int, int]:
        """From which step a plain lower-case word is decodable, and from which it is known by tricky words.

        NEVER where it is not. Senses that are rare do not count; capitals and allowances are left out of account.
        """
        decodable = self.decodable(word)
        if not self._may_be_tricky(word):
            return decodable, NEVER
        return decodable, tricky_step(self.order, word, self.lookup.readings(word)) or NEVER

    def decodable(self, word: str) -> int:
        """From which step a word is decodable; NEVER where it is not."""
        number = self.lookup.lexicon.tables.number(word)
        if number >= 0 and word not in self.order.pinned:
            step = self._steps[number]
            if step != NEVER or self.lookup.lexicon.has(word):
                return step
        if word not in self._worked_out:
            readings = self.lookup.find(plain_spelling(word)).readings
            self._worked_out[word] = max((step for _, step in by_sense(self.order, readings)), default=NEVER)
        return self._worked_out[word]

    def in_one_sense(self, word: str) -> int:
        """From which step a word can be read in one of its usual senses at least (the wind that blows, not to wind); NEVER where it cannot."""
        readings = self.lookup.find(plain_spelling(word)).readings
        return min((step for _, step in by_sense(self.order, readings)), default=NEVER)

    def readable(self, word: str) -> int:
        """From which step a word can be read: decodable, or known by tricky words; NEVER where it cannot."""
        return min(self.of(word))

    @cached_property
    def _steps(self) -> list[int]:
        found: list[int] = self.order.readiness.words.tolist()
        return found

    def _may_be_tricky(self, word: str) -> bool:
        """Is a word tricky, or made of one that is?"""
        number = self.lookup.lexicon.tables.number(word)
        if number >= 0 and not self.order.pinned:
            return number in self.order.readiness.touched
        return bool(self.order.tricky)


def by_sense(order: TeachingOrder, readings: Sequence[Reading]) -> list[tuple[Reading, int]]:
    """The reading of each usual sense that is readable first, and from which step: any variant of a sense will do."""
    senses: dict[str, tuple[Reading, int]] = {}
    for reading in _usual(readings):
        step = order.reading_step(reading)
        if reading.sense not in senses or step < senses[reading.sense][1]:
            senses[reading.sense] = reading, step
    return list(senses.values())


def tricky_step(order: TeachingOrder, word: str, readings: Sequence[Reading]) -> int | None:
    """The step at which a word is taught whole, or follows from a tricky word by an ending or as a compound; None for none."""
    if not order.tricky:
        return None
    whole = order.tricky.get(word, NEVER)
    usual = _usual(readings)
    senses: dict[str, int] = {}
    for reading in usual:
        if reading.parts:
            step = order.known_step(word, reading)
            if step < order.reading_step(reading):
                senses[reading.sense] = min(step, senses.get(reading.sense, NEVER))
    # what follows from a tricky word holds for the word only if it holds for each of its senses
    if senses and len(senses) == len({r.sense for r in usual}):
        whole = min(whole, max(senses.values()))
    return None if whole == NEVER else whole


def _usual(readings: Sequence[Reading]) -> Sequence[Reading]:
    """The readings that are not rare; all of them where there are no others."""
    return [r for r in readings if not r.rare] or readings
