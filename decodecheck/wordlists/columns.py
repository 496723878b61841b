"""What lists ask of every reading of a lexicon at once, in an accent: counts, structure, endings, and what it sounds like."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property
from typing import Any

import numpy as np
import numpy.typing as npt

from decodecheck.lexicon.items import ENDING, GPC, PATTERN
from decodecheck.lexicon.store import UNFIT_KINDS, Lexicon
from decodecheck.lexicon.units import Form
from decodecheck.lexicon.vector import labelled, rising
from decodecheck.phonics.sounds import has_vowel, project

Numbers = npt.NDArray[np.int64]
Mask = npt.NDArray[np.bool_]
PLACES = ("s", "m", "e")
MARKS = ("'", "-")


def numbers(column: memoryview) -> npt.NDArray[Any]:
    """A column of the compiled lexicon as an array, not copied."""
    return np.asarray(column)


def spread(offsets: npt.NDArray[Any], chosen: npt.NDArray[Any]) -> tuple[Numbers, Numbers]:
    """Where the elements of some rows stand, given where each row starts; and the place in `chosen` of the row of each."""
    starts = offsets[chosen].astype(np.int64)
    lengths = offsets[chosen.astype(np.int64) + 1].astype(np.int64) - starts
    return ranges(starts, lengths), np.repeat(np.arange(len(chosen)), lengths)


def ranges(starts: npt.NDArray[Any], lengths: npt.NDArray[Any]) -> Numbers:
    """The numbers of some ranges, one range after the other."""
    before = np.cumsum(lengths) - lengths
    result: Numbers = np.arange(lengths.sum()) + np.repeat(starts.astype(np.int64) - before, lengths)
    return result


def _lengths(offsets: npt.NDArray[Any]) -> Numbers:
    """How many elements each row has."""
    result: Numbers = offsets[1:].astype(np.int64) - offsets[:-1]
    return result


def _sums(values: npt.NDArray[Any], offsets: npt.NDArray[Any]) -> npt.NDArray[Any]:
    """The sum of each row, some of which may be empty."""
    total = np.concatenate((np.zeros(1, values.dtype), np.cumsum(values, dtype=values.dtype)))
    result: npt.NDArray[Any] = total[offsets[1:]] - total[offsets[:-1]]
    return result


class Columns:
    """The columns of a lexicon in an accent; each is worked out when it is first asked for."""

    def __init__(self, lexicon: Lexicon, accent: str) -> None:
        self.lexicon, self.accent, self.tables = lexicon, accent, lexicon.tables
        self.reading_unit = numbers(lexicon.reading_unit)
        self.units = numbers(lexicon.units)
        self.unit_form = numbers(self.tables.unit_form)
        self.form_flat = numbers(self.tables.form_flat)

    # -- words and readings -----------------------------------------------------------------------------------------------

    @cached_property
    def first_reading(self) -> Numbers:
        """The first reading of every word, and one number more."""
        result: Numbers = rising(self.lexicon.sense_reading)[numbers(self.lexicon.word_sense)].astype(np.int64)
        return result

    @cached_property
    def reading_word(self) -> Numbers:
        """The word of every reading."""
        return np.repeat(np.arange(self.tables.count), _lengths(self.first_reading))

    @cached_property
    def usual(self) -> Mask:
        """For every reading, whether its sense is usual; rare senses are where a word has no others."""
        rare = self._of_senses("RARE")
        common = np.zeros(self.tables.count, bool)
        common[self.reading_word[~rare]] = True
        result: Mask = ~rare | ~common[self.reading_word]
        return result

    @cached_property
    def names(self) -> Mask:
        """For every reading, whether its sense is a name."""
        return self._of_senses("PROPN")

    def _of_senses(self, tag: str) -> Mask:
        lexicon = self.lexicon
        found = np.array(labelled(lexicon, tag))[numbers(lexicon.sense_label)]
        result: Mask = np.repeat(found, _lengths(rising(lexicon.sense_reading)))
        return result

    @cached_property
    def senses(self) -> Numbers:
        """How many usual senses every word has."""
        rare = np.array(labelled(self.lexicon, "RARE"))[numbers(self.lexicon.sense_label)]
        word = np.repeat(np.arange(self.tables.count), _lengths(numbers(self.lexicon.word_sense)))
        return np.bincount(word[~rare], minlength=self.tables.count)

    @cached_property
    def unfit(self) -> Mask:
        """For every word, whether it is unfit for a primary classroom (`rules/unfit_words.tsv`), a form of such a word, or a compound with
        one."""
        result: Mask = numbers(self.lexicon.unfit) != 0
        return result

    def for_reasons(self, *kinds: str) -> Mask:
        """For every word, whether `rules/unfit_words.tsv` names it, for one of some reasons."""
        kind = numbers(self.tables.unfit_kind)
        result: Mask = np.array([each in kinds for each in UNFIT_KINDS])[kind]
        return result

    # -- graphemes and sounds ---------------------------------------------------------------------------------------------

    @cached_property
    def form_sounds(self) -> list[tuple[str, ...]]:
        """What each form says in the accent."""
        return [project(g, sound, linked, self.accent) for g, sound, linked, _ in self.tables.forms]

    def forms_where(self, wanted: Callable[[Form], bool]) -> Mask:
        """For each form, whether it is wanted."""
        return np.array([wanted(form) for form in self.tables.forms], bool)

    def _counted(self, of_forms: Iterable[int], readings: Numbers) -> Numbers:
        """The sum over the forms of each of some readings of what is counted of a form."""
        if not len(readings):
            return np.zeros(0, np.int64)
        by_unit = _sums(np.array(list(of_forms), np.int64)[self.form_flat], self.unit_form)
        at, _ = spread(self.reading_unit, readings)
        starts = np.cumsum(_lengths(self.reading_unit)[readings])
        result: Numbers = np.add.reduceat(by_unit[self.units[at]], np.concatenate((np.zeros(1, np.int64), starts[:-1])))
        return result

    def graphemes(self, readings: Numbers) -> Numbers:
        """How many graphemes each of some readings has."""
        return self._counted((g not in MARKS for g, _, _, _ in self.tables.forms), readings)

    def sounds(self, readings: Numbers) -> Numbers:
        """How many sounds each of some readings has in its graphemes; an apostrophe is none, whatever it stands for."""
        forms = zip(self.tables.forms, self.form_sounds)
        return self._counted((len(said) if form[0] not in MARKS else 0 for form, said in forms), readings)

    def syllables(self, readings: Numbers) -> Numbers:
        """How many syllables each of some readings has."""
        return self._counted((has_vowel(sound) for _, sound, _, _ in self.tables.forms), readings)

    # -- items ------------------------------------------------------------------------------------------------------------

    @cached_property
    def _first_items(self) -> tuple[Numbers, Numbers]:
        """The items of the first alternative of every unit, which is its own division, and the unit of each."""
        first = numbers(self.tables.unit_alternative)[:-1]
        at, owner = spread(numbers(self.tables.alternative_item), first)
        return numbers(self.tables.item_flat)[at], owner

    def units_with_item(self, items: Mask, anywhere: Mask | None = None) -> Mask:
        """For each unit, whether one of some items is in its own division, or one of those `anywhere` in it at all."""
        held, owner = self._first_items
        found = np.zeros(len(self.unit_form) - 1, bool)
        found[owner[items[held]]] = True
        if anywhere is not None and anywhere.any():
            alternatives = np.logical_or.reduceat(
                anywhere[numbers(self.tables.item_flat)], numbers(self.tables.alternative_item)[:-1]
            )
            found |= np.logical_or.reduceat(alternatives, numbers(self.tables.unit_alternative)[:-1])
        return found

    def items_where(self, names: Iterable[str]) -> Mask:
        """For each item of the lexicon, whether it is one of some, which are given as text."""
        wanted = set(names)
        return np.array([text in wanted for text in map(str, self.tables.items)], bool)

    def of_kind(self, kind: str) -> Mask:
        """For each item of the lexicon, whether it is of a kind."""
        return np.array([item.kind == kind for item in self.tables.items], bool)

    def has_form(self, forms: Mask) -> Mask:
        """For each unit, whether one of its forms is among some."""
        return self.units_holding(forms[self.form_flat])

    def units_holding(self, places: Mask) -> Mask:
        """For each unit, whether one of the places of its forms in `form_flat` is among some."""
        result: Mask = _sums(places.astype(np.int64), self.unit_form) > 0
        return result

    @cached_property
    def ending_units(self) -> Mask:
        """For each unit, whether it is an ending that can be taught: the ed of jumped."""
        return self.units_with_item(self.of_kind(ENDING))

    @cached_property
    def with_ending(self) -> Mask:
        """For every reading, whether it ends in an ending that can be taught: jumps, boxes, louder."""
        return self.any_unit(self.ending_units)

    def any_unit(self, units: Mask) -> Mask:
        """For every reading, whether one of its units is among some."""
        result: Mask = np.logical_or.reduceat(units[self.units], self.reading_unit[:-1])
        return result

    def structures(self, names: Iterable[str]) -> Mask:
        """For every reading, whether it has one of some structures."""
        wanted = set(names)
        items = np.array([i.kind == PATTERN and i.name in wanted for i in self.tables.items], bool)
        result: Mask = self.units_with_item(items)[self.units[self.reading_unit[:-1]]]
        return result

    @cached_property
    def unit_place(self) -> Numbers:
        """The place of each unit that is one correspondence: 0 at the start of a word, 1 inside, 2 at the end; else -1."""
        places = [PLACES.index(i.place) if i.kind == GPC else -1 for i in self.tables.items]
        return self.of_single_units(np.array(places, np.int64))

    def of_single_units(self, of_items: Numbers) -> Numbers:
        """For each unit of one grapheme, what holds of the item in its own division, given what holds of every item; else -1."""
        held, owner = self._first_items
        found = np.full(len(self.unit_form) - 1, -1, np.int64)
        found[owner] = of_items[held]
        found[_lengths(self.unit_form) != 1] = -1
        return found

    # -- what readings sound like -----------------------------------------------------------------------------------------

    @cached_property
    def heard(self) -> Numbers:
        """For every reading, the number of the first reading that has the same sounds in the same order."""
        over = numbers(self.tables.column(f"{self.accent}_alike"))
        result: Numbers = np.arange(len(over)) - over
        return result


def among(values: npt.NDArray[Any], wanted: npt.NDArray[Any]) -> Mask:
    """For each value, whether it is among some others. (numpy's own way loads a module that is slow to load.)"""
    if not len(wanted):
        return np.zeros(len(values), bool)
    known = np.sort(wanted)
    at = np.minimum(np.searchsorted(known, values), len(known) - 1)
    result: Mask = known[at] == values
    return result
