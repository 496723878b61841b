"""The first step of everything in the lexicon at once: four reductions over whole columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from decodecheck.lexicon.store import NEVER, Lexicon, Rising, Tables

Steps = npt.NDArray[np.uint16]
_TYPES = {"B": np.uint8, "H": np.uint16, "I": np.uint32}


def _array(column: memoryview) -> npt.NDArray[Any]:
    return np.frombuffer(column, _TYPES[column.format])


def rising(numbers: Rising) -> npt.NDArray[np.uint32]:
    """All numbers of such a column."""
    over = _array(numbers.over)
    found: npt.NDArray[np.uint32] = over + np.arange(len(over), dtype=np.uint32)
    return found


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
    result: Steps = np.minimum.reduceat(readings, rising(lexicon.sense_reading)[:-1])
    return result


@dataclass(frozen=True, slots=True)
class WordSteps:
    """For each word, the step from which all its usual senses can be read, and the step from which one of them can; NEVER for a
    word without senses. Rare senses count only where there are no others."""

    all_senses: Steps
    one_sense: Steps


def word_steps(lexicon: Lexicon, senses: Steps) -> WordSteps:
    """The first steps of every word, given that of each sense."""
    rare = _labelled(lexicon, "RARE")
    listed, starts = _listed(lexicon)
    only_rare = np.logical_and.reduceat(rare, starts)
    late, early = np.full(lexicon.tables.count, NEVER, np.uint16), np.full(lexicon.tables.count, NEVER, np.uint16)
    usual = np.maximum.reduceat(np.where(rare, 0, senses), starts)
    late[listed] = np.where(only_rare, np.maximum.reduceat(senses, starts), usual)
    usual = np.minimum.reduceat(np.where(rare, NEVER, senses), starts)
    early[listed] = np.where(only_rare, np.minimum.reduceat(senses, starts), usual)
    return WordSteps(late, early)


def alike_with_capital(lexicon: Lexicon) -> npt.NDArray[np.bool_]:
    """For each word, whether it has senses, and its senses are the same with a capital and without: all are names, or none is."""
    name = _labelled(lexicon, "PROPN")
    listed, starts = _listed(lexicon)
    result = np.zeros(lexicon.tables.count, bool)
    result[listed] = np.logical_and.reduceat(name, starts) == np.logical_or.reduceat(name, starts)
    return result


def labelled(lexicon: Lexicon, tag: str) -> list[bool]:
    """For each label of senses, whether it has a tag."""
    return [tag in label.partition("|")[2].split(",") for label in lexicon.tables.meta["labels"]]


def _labelled(lexicon: Lexicon, tag: str) -> npt.NDArray[np.bool_]:
    """For each sense, whether its label has a tag."""
    found: npt.NDArray[np.bool_] = np.array(labelled(lexicon, tag))[_array(lexicon.sense_label)]
    return found


def _listed(lexicon: Lexicon) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.uint32]]:
    """The numbers of words that have senses, and the first sense of each."""
    first = _array(lexicon.word_sense)
    listed = np.flatnonzero(first[1:] > first[:-1])
    return listed, first[:-1][listed]


def made_of(lexicon: Lexicon, numbers: Sequence[int]) -> list[int]:
    """The numbers of some words, and of all words that have one of them as a part, in however many steps."""
    first_reading = rising(lexicon.sense_reading)[_array(lexicon.word_sense)]
    known = np.zeros(lexicon.tables.count, bool)
    known[list(numbers)] = True
    found = holding(first_reading, _array(lexicon.reading_part), _array(lexicon.part_reading), known)
    result: list[int] = np.flatnonzero(found).tolist()
    return result


def holding(
    first_reading: npt.NDArray[Any],
    reading_part: npt.NDArray[Any],
    part_reading: npt.NDArray[Any],
    known: npt.NDArray[np.bool_],
) -> npt.NDArray[np.bool_]:
    """For each word, whether it is among some or has one of them as a part, in however many steps; given the first reading of every
    word, and the columns that say of which known words a reading is made."""
    parts = np.searchsorted(first_reading, part_reading, side="right") - 1
    counts = np.diff(reading_part)
    reading_of_part = np.repeat(np.arange(len(counts)), counts)
    word_of_part = np.searchsorted(first_reading, reading_of_part, side="right") - 1
    found = known.copy()
    before = -1
    while (number := int(found.sum())) > before:
        before = number
        found[word_of_part[found[parts]]] = True
    return found
