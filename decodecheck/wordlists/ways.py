"""The ways to put taught graphemes together like English words: drawn one by one, or all of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from random import Random

from decodecheck.lexicon.beside import Run, Spelling
from decodecheck.lexicon.items import Item
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.measured import Counts, Measured
from decodecheck.wordlists.screening_check import CVC, TWO_SYLLABLES, sections

_Options = tuple[list[Run], list[int]]
"""Runs that may come next, and how many words have each."""
_NONE: _Options = ([], [])


class Ways:
    """Graphemes whose neighbours are measured ones, all of them taught by each of some orders at a step of each.

    `structure` is that of a section of the screening check where one is named, else "" (then `syllables` says how long words are).
    """

    def __init__(
        self, measured: Measured, taught: Sequence[tuple[TeachingOrder, int]], section: int, syllables: int
    ) -> None:
        self.measured, self.taught, self.section, self.syllables = measured, taught, section, syllables
        self._options: dict[object, _Options] = {}
        self._named: dict[tuple[Spelling, str], bool] = {}

    def drawn(self, structure: str, random: Random) -> tuple[Spelling, ...] | None:
        """One of the ways, the likelier the more words have its parts; None where the way ends before a word is whole."""
        runs: tuple[Run, ...] = ()
        while len(runs) < self._parts(structure):
            options, weights = self._next(structure, runs)
            if not options:
                return None
            runs = (*runs, random.choices(options, weights)[0])
        return tuple(spelling for run in runs for spelling in run)

    def all(self, structure: str, runs: tuple[Run, ...] = ()) -> Iterator[tuple[Spelling, ...]]:
        """All of the ways that begin with some runs."""
        if len(runs) == self._parts(structure):
            yield tuple(spelling for run in runs for spelling in run)
            return
        for run in self._next(structure, runs)[0]:
            yield from self.all(structure, (*runs, run))

    def _two(self, structure: str) -> bool:
        return structure == TWO_SYLLABLES or (not structure and self.syllables == 2)

    def _parts(self, structure: str) -> int:
        """Of how many runs a word is made: a start, a vowel and an end, in longer words also a middle and a second vowel."""
        return 5 if self._two(structure) else 3

    def _next(self, structure: str, runs: tuple[Run, ...]) -> _Options:
        """What may come after some runs."""
        m, two = self.measured, self._two(structure)
        before, _, after = structure.partition("V") if structure and not two else ("", "", "")
        sizes = (len(before), len(after)) if before or after else (None, None)
        if not runs:
            return self._taught(("start", sizes[0]), m.first, "s", sizes[0])
        last = runs[-1]
        if len(runs) == 1:
            consonant = last[-1] if last else None
            vowels = m.vowels_after.get(consonant)
            own = self._own_vowels() if structure == CVC else None
            if vowels and own is not None:
                vowels = {run: times for run, times in vowels.items() if run[0][0] in own}
            return self._taught(("vowel", consonant, own), vowels, "m" if last else "s")
        if len(runs) == 2 and two:
            return self._taught(("middle", last), m.middles_after.get(last[0]), "m")
        if len(runs) == 3:
            return self._taught(("second", last[-1]), m.seconds_after(last[-1]), "me") if last else _NONE
        return self._taught(("end", two, last, sizes[1]), m.ends_after[1 + two].get(last[0]), "e", sizes[1])

    def _own_vowels(self) -> frozenset[str] | None:
        """In section 2 of the screening check, its own vowel graphemes: words with three sounds belong there only with these."""
        if self.section != 2:
            return None
        return frozenset(g for g in sections()[2].graphemes if g[0] in "aeiou")

    def _taught(self, key: object, counts: Counts | None, places: str, size: int | None = None) -> _Options:
        """Those of some runs that are taught."""
        if key not in self._options:
            usable = {
                run: times
                for run, times in (counts or {}).items()
                if (size is None or len(run) == size) and self._is_named(run, places)
            }
            self._options[key] = list(usable), list(usable.values())
        return self._options[key]

    def _is_named(self, run: Run, places: str) -> bool:
        """Whether each grapheme of a run is taught as such at one of some places; what only comes with another (ff with f) is not."""
        return all(any(self._named_at(spelling, place) for place in {*places, "m"}) for spelling in run)

    def _named_at(self, spelling: Spelling, place: str) -> bool:
        key = spelling, place
        if key not in self._named:
            # the n of bank is never named: what it comes with is looked at when the whole word is judged
            self._named[key] = spelling == ("n", ("ng",)) or all(
                order.step_of(Item.gpc(*spelling, place)) <= step for order, step in self.taught
            )
        return self._named[key]
