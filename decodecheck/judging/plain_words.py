"""Many plain words at once: status and first step straight from the vectors over the lexicon.

A word is answered here only where it is proved to be plain: listed, with nothing in the order that speaks of it by itself. All others
are left to the judge.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

from decodecheck.judging.blockers import blocker, capitals_step
from decodecheck.judging.verdict import BLOCKED, DECODABLE, Blocker
from decodecheck.lexicon.store import segments_of
from decodecheck.lexicon.vector import alike_with_capital, labelled
from decodecheck.progression.order import TeachingOrder

Answer = tuple[str, int] | None
"""Status and first step; None for a form that is not plain."""


class PlainWords:
    """The plain words of a teaching order."""

    def __init__(self, order: TeachingOrder) -> None:
        self.order = order
        self.numbers = order.lexicon.tables.numbers
        readiness = order.readiness
        # read one by one, as plain numbers
        self._late, self._early = readiness.of_words.all_senses.data, readiness.of_words.one_sense.data
        self._plain = _plain(order).tobytes()
        self._hard: dict[tuple[int, ...], tuple[Blocker, ...]] = {}
        """What stands in the way, by the step and the units that come later."""
        self._gated = bool(order.capitals_from or order.capitals)

    def answers(self, forms: Sequence[str], step: int) -> list[Answer]:
        """What holds of each form at a step."""
        find, plain, late, early = self.numbers.get, self._plain, self._late, self._early
        goes_by_items = self.order.goes_by_items
        found: list[Answer] = []
        for form in forms:
            answer = None
            word = form.lower().replace("’", "'")
            number = find(word, -1)
            if number >= 0 and plain[number] and len(word) > 1 and goes_by_items(word):
                first = late[number]
                capital = capitals_step(form, self.order) if self._gated and form != word else 0
                if capital <= step and (first <= step or early[number] > step):
                    answer = (DECODABLE if first <= step else BLOCKED), max(first, capital)
            found.append(answer)
        return found

    def hindrances(self, forms: Sequence[str], step: int) -> list[tuple[Blocker, ...] | None]:
        """What stands in the way of each form that is blocked at a step, without the letters that it covers; None for a form that is not
        plain, or is not blocked. It is the same object for all forms with the same units in the way."""
        found: list[tuple[Blocker, ...] | None] = []
        steps, told = self._unit_steps, self._hard
        for form, answer in zip(forms, self.answers(forms, step)):
            if answer is None or answer[0] != BLOCKED:
                found.append(None)
                continue
            units = self._units(self.numbers[form.lower().replace("’", "'")])
            hard = step, *[unit for unit in units if steps[unit] > step]
            known = told.get(hard)
            if known is None:
                known = told[hard] = tuple([b for unit in hard[1:] for b in self._of_unit(unit, step)])
            found.append(known)
        return found

    def _units(self, number: int) -> Sequence[int]:
        """The units of the reading of a word that is readable first, as the judge chooses it."""
        lexicon, steps = self.order.lexicon, self._reading_steps
        first, last = lexicon.word_sense[number], lexicon.word_sense[number + 1]
        best = lexicon.sense_reading[first]
        if last > first + 1 or lexicon.sense_reading[first + 1] > best + 1:
            usual = [sense for sense in range(first, last) if not self._rare[lexicon.sense_label[sense]]]
            senses = usual or range(first, last)
            readings = [r for s in senses for r in range(lexicon.sense_reading[s], lexicon.sense_reading[s + 1])]
            best = min(readings, key=steps.__getitem__)
        return lexicon.units[lexicon.reading_unit[best] : lexicon.reading_unit[best + 1]]

    def _of_unit(self, unit: int, step: int) -> tuple[Blocker, ...]:
        """What of a unit is not taught by a step."""
        known = self._hard.get((step, unit))
        if known is None:
            found = self.order.lexicon.tables.unit(unit)
            segments = segments_of((found,))
            places = tuple(range(sum(len(s.letters) for s in segments)))
            missing = [blocker(self.order, item, segments, places) for item in self.order.missing(found, step)]
            known = self._hard[step, unit] = tuple([replace(one, letters=()) for one in missing])
        return known

    @cached_property
    def _unit_steps(self) -> list[int]:
        steps: list[int] = self.order.readiness.units.tolist()
        return steps

    @cached_property
    def _reading_steps(self) -> list[int]:
        steps: list[int] = self.order.readiness.readings.tolist()
        return steps

    @cached_property
    def _rare(self) -> list[bool]:
        return labelled(self.order.lexicon, "RARE")


def _plain(order: TeachingOrder) -> npt.NDArray[np.bool_]:
    """For each word of the lexicon, whether its steps alone decide: no tricky word is in it, and a capital changes nothing."""
    plain = alike_with_capital(order.lexicon)
    plain[list(order.readiness.touched)] = False
    return plain
