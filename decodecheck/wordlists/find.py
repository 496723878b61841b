"""Find the words of the lexicon that fit what is asked, all at once by the vector."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, partial

import numpy as np

from decodecheck.errors import Problem, UserError
from decodecheck.lexicon.items import SINGLE, UNNAMED, WEAKENED
from decodecheck.lexicon.store import NEVER
from decodecheck.lexicon.vector import Steps, reading_steps, unit_steps
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.alike import Alike
from decodecheck.wordlists.columns import Columns, Mask, Numbers
from decodecheck.wordlists.described import Chosen, FoundWord, columns_of, described
from decodecheck.wordlists.left_out import ALWAYS, KINDS, LeftOut
from decodecheck.wordlists.likely import likely_column
from decodecheck.wordlists.targets import Target
from decodecheck.wordlists.wanted import COMMON, END, SPELLING, START, Range, WantedWords

DRAWN_AMONG = 6
"""With a seed, words are drawn among so many times as many of the likeliest."""


@dataclass(frozen=True, slots=True)
class Found:
    """A list: its words in order, how many fit in all, and how many more would, by the kind for which they were left out."""

    order: TeachingOrder
    step: int
    wanted: WantedWords
    words: tuple[FoundWord, ...]
    fitting: int
    left_out: tuple[tuple[str, int], ...]


def find(order: TeachingOrder, step: int, wanted: WantedWords) -> Found:
    """The words that fit. Raises UserError where none does, saying which filter leaves nothing."""
    return _Finder(order, step, wanted).found()


def fitting(order: TeachingOrder, step: int, wanted: WantedWords) -> tuple[Numbers, Numbers]:
    """The numbers of all words that fit and that lists do not leave out, and of a reading of each that can be read, the likeliest first;
    none where no word fits. What it asks for a number, a seed and an order is left out of account."""
    finder = _Finder(order, step, wanted)
    try:
        numbers, readings, _ = finder.filtered()
    except UserError:
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    kinds = finder.kinds(numbers, readings)
    kept = np.flatnonzero(np.array([not kind or kind in wanted.also for kind in kinds], bool))
    kept = kept[np.argsort(-np.asarray(likely_column()).astype(np.int64)[numbers[kept]], kind="stable")]
    return numbers[kept].astype(np.int64), readings[kept].astype(np.int64)


class _Finder:
    def __init__(self, order: TeachingOrder, step: int, wanted: WantedWords) -> None:
        self.order, self.step, self.wanted = order, step, wanted
        self.columns = columns_of(order)
        self.words = self.columns.tables.words()
        self.alike = Alike(self.columns)

    def found(self) -> Found:
        numbers, readings, counts = self.filtered()
        kinds = self.kinds(numbers, readings)
        left_out = Counter(kind for kind in kinds if kind and kind not in self.wanted.also)
        told = tuple((kind, left_out[kind]) for kind in KINDS if left_out[kind])
        kept = np.array([kind not in left_out for kind in kinds], bool)
        if not kept.any():
            raise UserError(_only_left_out(counts, told))
        fitting = np.flatnonzero(kept)
        chosen = [Chosen(int(numbers[n]), int(readings[n]), kinds[n]) for n in self._selected(numbers, fitting)]
        words = sorted(described(self.order, self.step, chosen, self.words, self.alike), key=self._rank)
        return Found(self.order, self.step, self.wanted, tuple(words), len(fitting), told)

    def kinds(self, numbers: Numbers, readings: Numbers) -> list[str]:
        """The kind for which lists leave out each of some words; "" for most."""
        return LeftOut(self.columns, self.order, self.step, self.words).kinds(numbers, readings)

    # -- filters ----------------------------------------------------------------------------------------------------------

    def filtered(self) -> tuple[Numbers, Numbers, list[tuple[str, int]]]:
        """The words that fit with a reading of each, and how many each filter left. Raises UserError where none is left."""
        readings = self._first_readings(self.order.readiness.readings)
        start = f"can be read at step {self.step}"
        if not len(readings):
            what = f"No word of the lexicon can be read at step {self.step}."
            later = self.step < self.order.last
            todo = (
                "Name a later step with --step." if later else "Teach more in the progression: this is its last step."
            )
            raise UserError(Problem(self.order.path, what, todo))
        counts = [(start, len(readings))]
        for name, keep in self._filters():
            before, readings = readings, keep(readings)
            counts.append((name, len(readings)))
            if not len(readings):
                raise UserError(self._nothing_left(name, before, counts))
        return self.columns.reading_word[readings], readings, counts

    def _first_readings(self, steps: Steps) -> Numbers:
        """Of every word that can be read by some steps, in one usual sense at least, the first reading that can."""
        columns = self.columns
        able = np.flatnonzero((steps <= self.step) & columns.usual)
        word = columns.reading_word[able]
        result: Numbers = able[np.flatnonzero(np.diff(word, prepend=-1))]
        return result

    def _filters(self) -> Iterator[tuple[str, Callable[[Numbers], Numbers]]]:
        """What is asked, in the order of the options: its name, and what it leaves of some readings."""
        wanted, columns = self.wanted, self.columns
        if wanted.purpose == SPELLING:
            yield "--for spelling", lambda _: self._first_readings(self._spelling_steps)
        for target in wanted.targets:
            yield target.name, self._mask(partial(self._with, target))
        if wanted.place:
            yield f"--place {wanted.place}", self._mask(lambda: _at_place(columns, wanted.targets[0], wanted.place))
        for target in wanted.without:
            yield target.name, self._mask(partial(self._without, target))
        for name, asked in (
            ("graphemes", wanted.graphemes),
            ("sounds", wanted.sounds),
            ("syllables", wanted.syllables),
        ):
            if asked:
                yield f"--{name} {asked.text}", partial(_within, getattr(columns, name), asked)
        if wanted.structures:
            yield (
                f"--structure {','.join(wanted.structures)}",
                self._mask(lambda: columns.structures(wanted.structures)),
            )
        if not wanted.endings:
            yield "--no-endings", self._mask(lambda: ~columns.with_ending)
        if wanted.common is not None:
            yield (
                f"--common {wanted.common:g}",
                self._mask(lambda: self._least(columns.tables.zipf, wanted.common or 0)),
            )
        if wanted.likely is not None:
            yield f"--likely {wanted.likely:g}", self._mask(lambda: self._least(likely_column(), wanted.likely or 0))
        if wanted.used is not None:
            yield f"--not-in {wanted.used_from}", self._unused
        if wanted.apart:
            yield "--apart", self._apart

    def _mask(self, mask: Callable[[], Mask]) -> Callable[[Numbers], Numbers]:
        def keep(readings: Numbers) -> Numbers:
            result: Numbers = readings[mask()[readings]]
            return result

        return keep

    def _with(self, target: Target) -> Mask:
        return self.columns.any_unit(target.of_units(self.columns))

    def _without(self, target: Target) -> Mask:
        return ~self._with(target)

    def _least(self, column: memoryview, floor: float) -> Mask:
        result: Mask = (np.asarray(column) >= round(floor * 100))[self.columns.reading_word]
        return result

    @cached_property
    def _spelling_steps(self) -> Steps:
        """The step from which each reading can be spelt: nothing is let pass that is only good enough for reading, such as a double
        consonant that comes with the single one, or a weakened vowel for its short sound."""
        tables = self.columns.tables
        lenient = [i.kind in (SINGLE, UNNAMED) or i is WEAKENED for i in tables.items]
        items = np.where(np.array(lenient), NEVER, self.order.readiness.items).astype(np.uint16)
        return reading_steps(self.order.lexicon, unit_steps(tables, items))

    def _unused(self, readings: Numbers) -> Numbers:
        used = self.wanted.used or frozenset()
        keep = [self.words[n] not in used for n in self.columns.reading_word[readings].tolist()]
        result: Numbers = readings[np.array(keep, bool)]
        return result

    def _apart(self, readings: Numbers) -> Numbers:
        numbers = self.columns.reading_word[readings]
        keep = self.alike.alone(numbers)
        heard = self.alike.words(numbers[~keep], self.words)
        keep[~keep] = [n not in heard for n in numbers[~keep].tolist()]
        result: Numbers = readings[keep]
        return result

    def _nothing_left(self, name: str, before: Numbers, counts: list[tuple[str, int]]) -> Problem:
        """Which filter leaves nothing, and what is left after each."""
        what = "This leaves no word."
        todo = _told(counts)
        target = next((t for t in self.wanted.targets if t.name == name), None)
        if target:
            first = target.first_step(self.order)
            if first == NEVER:
                what = f"`{target.text}` is not taught in {self.order.name}, and no word that can be read at step {self.step} holds it."
            elif first > self.step:
                what = f"`{target.text}` is taught at step {first}, and the words are to be read at step {self.step}."
        return Problem(name, what, todo)

    # -- choosing and telling ---------------------------------------------------------------------------------------------

    def _selected(self, numbers: Numbers, fitting: Numbers) -> list[int]:
        """As many of the fitting words as are asked for, by their places in `numbers`: the likeliest, or some drawn among these; of
        equals the first in the alphabet."""
        wanted = self.wanted
        column = np.asarray(self.columns.tables.zipf if wanted.order == COMMON else likely_column()).astype(np.int64)
        ranked: list[int] = fitting[np.argsort(-column[numbers[fitting]], kind="stable")].tolist()
        if wanted.number is None:
            return ranked
        if wanted.seed is None:
            return ranked[: wanted.number]
        # only a draw needs it
        from random import Random

        among = ranked[: DRAWN_AMONG * wanted.number]
        return Random(wanted.seed).sample(among, min(wanted.number, len(among)))

    def _rank(self, found: FoundWord) -> tuple[float, str]:
        """Where a word stands in the list; equals by the alphabet."""
        match self.wanted.order:
            case "common":
                return -found.common, found.word
            case "length":
                return len(found.word), found.word
            case "alphabet":
                return 0, found.word.lower()
            case _:
                return round(found.effort.total, 6), found.word


def _within(count: Callable[[Numbers], Numbers], asked: Range, readings: Numbers) -> Numbers:
    values = count(readings)
    result: Numbers = readings[(values >= asked.least) & (values <= asked.most)]
    return result


def _at_place(columns: Columns, target: Target, place: str) -> Mask:
    """For every reading, whether a target stands at its start, at its end, or inside."""
    units, forms = target.of_units(columns), target.of_forms(columns)
    held = columns.form_flat
    first_form = units & _form_at(forms[held], columns, 0)
    last_form = units & _form_at(forms[held], columns, -1)
    # the first unit of a reading is its structure
    first = columns.reading_unit[:-1] + 1
    last = columns.reading_unit[1:] - 1
    at_start: Mask = first_form[columns.units[np.minimum(first, last)]]
    at_end: Mask = last_form[columns.units[last]]
    if place == START:
        return at_start
    if place == END:
        return at_end
    flat = units[columns.units].astype(np.int64)
    times = np.add.reduceat(flat, columns.reading_unit[:-1])
    alone = first == last
    result: Mask = times > at_start.astype(np.int64) + (at_end & ~(alone & at_start))
    return result


def _form_at(forms: Mask, columns: Columns, end: int) -> Mask:
    """For each unit, whether its first or last form is wanted; of a unit with one form, or of one that counts as a whole, it is."""
    starts, ends = columns.unit_form[:-1].astype(np.int64), columns.unit_form[1:].astype(np.int64)
    at = starts if end == 0 else ends - 1
    none_inside = np.add.reduceat(np.append(forms, False).astype(np.int64), starts) * (ends > starts) == 0
    result: Mask = np.append(forms, False)[np.clip(at, 0, len(forms))] & (ends > starts) | none_inside
    return result


def _told(counts: list[tuple[str, int]]) -> str:
    """What is left after each filter, in a sentence."""
    return "Left after each: " + "; ".join(f"{name}: {number:,}" for name, number in counts) + "."


def _only_left_out(counts: list[tuple[str, int]], told: tuple[tuple[str, int], ...]) -> Problem:
    """What is said where all that fits is of kinds that lists leave out."""
    kinds = "; ".join(
        f"{number:,} {KINDS[kind][0]}" + f" (--also {kind})" * (kind not in ALWAYS) for kind, number in told
    )
    what = f"All words that fit are of kinds that lists leave out: {kinds}."
    return Problem(counts[-1][0], what, _told(counts))
