"""Words that could stand for another in a list: decodable, with the same target, number of sounds and structure."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from decodecheck.lexicon.store import Reading
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.columns import Numbers
from decodecheck.wordlists.described import columns_of
from decodecheck.wordlists.find import fitting
from decodecheck.wordlists.shown import shown_segments, structure
from decodecheck.wordlists.targets import Target
from decodecheck.wordlists.wanted import WantedWords

AMONG = 40
"""Of so many of the likeliest words, the one that is most like the other is taken."""
EVERYDAY = 3.8
"""How likely a word has to be in books for young children to be offered (child_zipf)."""
MOST = 500
"""So many entries of a list are offered a replacement; one with more faults is hardly mended word by word."""


@dataclass
class _Fitting:
    """The words that hold a target at a step, the likeliest first: their readings' numbers, and how many sounds each has."""

    readings: Numbers
    sounds: Numbers
    by_shape: dict[tuple[int, str], list[int]] = field(default_factory=dict)


class Replacements:
    """Finds replacements; no word is offered twice, and none that is in `used`."""

    def __init__(self, order: TeachingOrder, used: frozenset[str]) -> None:
        self.order = order
        self.columns = columns_of(order)
        self.words = self.columns.tables.words()
        self._used = set(used)
        self._asked = 0
        self._by_target: dict[tuple[int, Target | None], _Fitting] = {}
        self._known: dict[int, Reading] = {}

    def find(self, step: int, target: Target | None, reading: Reading | None, sounds: int) -> str:
        """A word for a list of a step; "" where there is none. `reading` is that of the word that it is to stand for, with so many
        sounds; without a word of the same structure, one with the same number of sounds will do."""
        self._asked += 1
        if reading is None or self._asked > MOST:
            return ""
        for shape in (structure(reading), ""):
            free = [n for n in self._of_shape(step, target, sounds, shape) if self._word(n) not in self._used]
            if free:
                # the likeliest come first, and stay first among those that are as like
                best = max(free[:AMONG], key=lambda n: _shared(self._reading(n), reading))
                self._used.add(self._word(best))
                return self._word(best)
        return ""

    def _of_shape(self, step: int, target: Target | None, sounds: int, shape: str) -> list[int]:
        """The readings with so many sounds and a structure ("" for any), the likeliest first."""
        found = self._by_target.get((step, target))
        if found is None:
            found = self._by_target[step, target] = self._all(step, target)
        known = found.by_shape.get((sounds, shape))
        if known is None:
            mask = found.sounds == sounds
            if shape:
                mask &= self.columns.structures((shape,))[found.readings]
            known = found.by_shape[sounds, shape] = found.readings[np.flatnonzero(mask)].tolist()
        return known

    def _all(self, step: int, target: Target | None) -> _Fitting:
        wanted = WantedWords(
            targets=(target,) if target else (), endings=False, likely=EVERYDAY, apart=True, number=None
        )
        _, readings = fitting(self.order, step, wanted)
        return _Fitting(readings, self.columns.sounds(readings))

    def _word(self, reading: int) -> str:
        return self.words[int(self.columns.reading_word[reading])]

    def _reading(self, number: int) -> Reading:
        found = self._known.get(number)
        if found is None:
            found = self._known[number] = self.columns.lexicon.reading(number)
        return found


def _shared(one: Reading, other: Reading) -> int:
    """How many graphemes two readings have in common."""
    rest = [s.grapheme for s in other.segments]
    shared = 0
    for segment in shown_segments(one):
        if segment.grapheme in rest:
            rest.remove(segment.grapheme)
            shared += 1
    return shared
