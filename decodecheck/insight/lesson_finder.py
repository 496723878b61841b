"""Where the words of a text hold what has been taught by a step: each correspondence, combination, ending and structure by itself."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from decodecheck.insight.key_words import by_sound
from decodecheck.insight.naming import Taught, usable
from decodecheck.lexicon.items import ADJACENT, GPC, TOGETHER, Item
from decodecheck.lexicon.store import Reading
from decodecheck.lexicon.units import Unit
from decodecheck.phonics.sounds import Sound
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.columns import MARKS, spread
from decodecheck.wordlists.columns import PLACES as PLACE_CODES
from decodecheck.wordlists.described import columns_of
from decodecheck.wordlists.find import fitting
from decodecheck.wordlists.pool import CHILD_LIKELY
from decodecheck.wordlists.wanted import END, MIDDLE, START, WantedWords

KINDS = ("correspondence", "together", "ending", "adjacent", "structure")
"""Kinds of lessons that words hold; capitals are looked for in none."""
WHOLE = "whole"
"""Where a structure stands: it is that of the whole word."""
PLACES = (START, MIDDLE, END, WHOLE)


class Spot(NamedTuple):
    """A lesson, by its number, and the graphemes of a unit that it covers, from the first to the last."""

    lesson: int
    first: int
    last: int


class LessonFinder:
    """Finds the lessons of an order up to a step in readings. `lessons` are they, each sound by itself, in the order of teaching.

    A word holds a correspondence where `decodecheck words --with` says so: in the word's own division, so *puff* holds ff and no f, and the
    weakened vowel of *seven* is no e as in *bed*. What two lessons name counts for the earlier one.
    """

    def __init__(self, order: TeachingOrder, step: int) -> None:
        self.order, self.step = order, step
        self.lessons: list[Taught] = []
        self._of_item: dict[Item, int] = {}
        for lesson in usable(order, step):
            for part in by_sound(order, lesson) if lesson.mention.kind in KINDS else ():
                own = [key for key in part.mention.keys if key not in self._of_item and key not in order.excepted]
                self._of_item.update(dict.fromkeys(own, len(self.lessons)))
                self.lessons += [part] if own else []
        # what a lesson names at every place in words is told by the grapheme and its sound, the rest by what a unit asks for
        self._anywhere: dict[tuple[str, Sound], int] = {}
        for item, number in self._of_item.items():
            if item.kind == GPC and all(self._of_item.get(item.at(place)) == number for place in PLACE_CODES):
                self._anywhere[item.correspondence] = number
        self._spots: dict[Unit, tuple[tuple[Spot, ...], frozenset[int]]] = {}
        self._offered: tuple[int, ...] | None = None

    def places(self, reading: Reading) -> Iterator[tuple[int, str]]:
        """Each lesson that a reading holds, by its number, with its place in the word, as often as it holds it."""
        ends = [at for at, segment in enumerate(reading.segments) if segment.grapheme not in MARKS]
        first, last = (ends[0], ends[-1]) if ends else (0, 0)
        graphemes = tuple(segment.grapheme for segment in reading.segments)
        at = 0
        for unit in reading.units:
            if not unit.forms:
                yield from self._structures(unit, graphemes)
            for spot in self.spots(unit)[0]:
                start, end = at + spot.first, at + spot.last
                yield spot.lesson, START if start <= first else END if end >= last else MIDDLE
            at += len(unit.forms)

    def left_over(self, reading: Reading) -> Iterator[str]:
        """The graphemes of a reading that no lesson names."""
        for unit in reading.units:
            named = self.spots(unit)[1]
            yield from (form[0] for at, form in enumerate(unit.forms) if at not in named and form[0] not in MARKS)

    def spots(self, unit: Unit) -> tuple[tuple[Spot, ...], frozenset[int]]:
        """What of the lessons is in a unit that has graphemes, and which of these they cover."""
        found = self._spots.get(unit)
        if found is None:
            spots = tuple(self._in(unit)) if unit.forms else ()
            covered = frozenset(at for spot in spots for at in range(spot.first, spot.last + 1))
            found = self._spots[unit] = spots, covered
        return found

    def _in(self, unit: Unit) -> Iterator[Spot]:
        last = len(unit.forms) - 1
        for at, (grapheme, sound, _, irregular) in enumerate(unit.forms):
            number = None if irregular else self._anywhere.get((grapheme, sound))
            if number is not None:
                yield Spot(number, at, at)
        # the first alternative is the word's own division; a combination may be in any
        items = {i for i in unit.alternatives[0] if i.kind != GPC or i.correspondence not in self._anywhere}
        items |= {item for alternative in unit.alternatives for item in alternative if item.kind == TOGETHER}
        for number in sorted({self._of_item[item] for item in items & self._of_item.keys()}):
            yield Spot(number, 0, last)

    def _structures(self, unit: Unit, graphemes: tuple[str, ...]) -> Iterator[tuple[int, str]]:
        for item in unit.alternatives[0]:
            number = self._of_item.get(item)
            if number is None:
                continue
            if item.kind != ADJACENT:
                yield number, WHOLE
                continue
            for at in range(len(graphemes) - len(item.run) + 1):
                if graphemes[at : at + len(item.run)] == item.run:
                    yield number, START if not at else END if at + len(item.run) == len(graphemes) else MIDDLE

    def offered(self) -> tuple[int, ...]:
        """For each lesson, how many likely words of the lexicon that can be decoded at the step hold it: those of `decodecheck words --likely 3`."""
        if self._offered is None:
            self._offered = self._count()
        return self._offered

    def _count(self) -> tuple[int, ...]:
        _, readings = fitting(self.order, self.step, WantedWords(likely=CHILD_LIKELY / 100))
        columns = columns_of(self.order)
        at, owner = spread(columns.reading_unit, readings)
        units, which = np.unique(columns.units[at], return_inverse=True)
        held = [self._numbers(columns.tables.unit(int(number))) for number in units]
        starts = np.cumsum([0, *map(len, held)])
        rows, places = spread(starts, which)
        lessons = np.array([number for numbers in held for number in numbers], np.int64)[rows]
        each = np.unique(owner[places] * max(1, len(self.lessons)) + lessons)
        return tuple(np.bincount(each % max(1, len(self.lessons)), minlength=len(self.lessons)).tolist())

    def _numbers(self, unit: Unit) -> list[int]:
        """The lessons that a unit holds."""
        if unit.forms:
            return sorted({spot.lesson for spot in self.spots(unit)[0]})
        return sorted({self._of_item[item] for item in unit.alternatives[0] if item in self._of_item})


def lesson_finder(order: TeachingOrder, step: int) -> LessonFinder:
    """The finder of an order at a step; made once, and kept with the order."""
    found = order.remembered.get(("lessons", step))
    if not isinstance(found, LessonFinder):
        found = order.remembered["lessons", step] = LessonFinder(order, step)
    return found
