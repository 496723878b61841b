"""The first step of everything in the lexicon at once: four reductions over whole columns."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from decodecheck.lexicon.store import NEVER, Lexicon, Tables

Steps = npt.NDArray[np.uint16]
_TYPES = {"B": np.uint8, "H": np.uint16, "I": np.uint32}


def _array(column: memoryview) -> npt.NDArray[Any]:
    return np.frombuffer(column, _TYPES[column.format])


def unit_steps(tables: Tables, item_steps: Steps) -> Steps:
    """The first step at which each unit can be read, given the step of each item."""
    alternative = np.maximum.reduceat(item_steps[_array(tables.item_flat)], _array(tables.alternative_item)[:-1])
    result: Steps = np.minimum.reduceat(alternative, _array(tables.unit_alternative)[:-1])
    return result


def reading_steps(lexicon: Lexicon, units: Steps) -> Steps:
    """The first step at which each reading can be read: that of its hardest unit."""
    result: Steps = np.maximum.reduceat(units[_array(lexicon.units)], _array(lexicon.reading_unit)[:-1])
    return result


def sense_steps(lexicon: Lexicon, readings: Steps) -> Steps:
    """The first step at which each sense can be read: any of its readings will do."""
    result: Steps = np.minimum.reduceat(readings, _array(lexicon.sense_reading)[:-1])
    return result


def word_steps(lexicon: Lexicon, senses: Steps) -> Steps:
    """The first step at which each word can be read in all its senses, rare ones left out; NEVER for a word without senses."""
    rare = np.array(["RARE" in label for label in lexicon.tables.meta["labels"]])[_array(lexicon.sense_label)]
    first = _array(lexicon.word_sense)
    listed = np.flatnonzero(first[1:] > first[:-1])
    starts = first[:-1][listed]
    usual = np.maximum.reduceat(np.where(rare, 0, senses), starts)
    any_sense = np.maximum.reduceat(senses, starts)
    only_rare = np.minimum.reduceat(rare, starts)
    result: Steps = np.full(lexicon.tables.count, NEVER, np.uint16)
    result[listed] = np.where(only_rare, any_sense, usual)
    return result


def made_of(lexicon: Lexicon, numbers: Sequence[int]) -> list[int]:
    """The numbers of some words, and of all words that have one of them as a part, in however many steps."""
    first_reading = _array(lexicon.sense_reading)[_array(lexicon.word_sense)]
    parts = np.searchsorted(first_reading, _array(lexicon.part_reading), side="right") - 1
    counts = np.diff(_array(lexicon.reading_part))
    reading_of_part = np.repeat(np.arange(len(counts)), counts)
    word_of_part = np.searchsorted(first_reading, reading_of_part, side="right") - 1
    found = np.unique(np.asarray(numbers, np.int64))
    while True:
        more = np.union1d(found, word_of_part[np.isin(parts, found)])
        if len(more) == len(found):
            result: list[int] = found.tolist()
            return result
        found = more
