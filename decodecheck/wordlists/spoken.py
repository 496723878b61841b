"""What units and words of the lexicon say in an accent, fast enough for the whole lexicon."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import pairwise
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from decodecheck.lexicon.store import Lexicon, lexicon
from decodecheck.lexicon.units import Form
from decodecheck.phonics.sounds import has_vowel, lexicon_of, project

Sounds = tuple[str, ...]
"""The sounds of a word in an accent, in IPA."""
Hashes = npt.NDArray[np.uint64]
_N = TypeVar("_N", np.int64, np.uint64)
_MIX = 0x9E3779B97F4A7C15
_BASE = 0x100000001B3
_WORD = (1 << 64) - 1
_LONGEST = 256
"""Sounds; no word has as many."""


def sounds_of(forms: Iterable[Form], accent: str) -> Sounds:
    """The sounds of graphemes in an accent."""
    return tuple(s for grapheme, sound, linked, _ in forms for s in project(grapheme, sound, linked, accent))


class UnitSounds:
    """The graphemes of units and what they say, worked out once for each unit that is asked about."""

    def __init__(self, lex: Lexicon, accent: str) -> None:
        self.lexicon, self.accent = lex, accent
        self._forms: dict[int, tuple[Form, ...]] = {}

    def forms(self, reading: int) -> tuple[Form, ...]:
        """The graphemes of a reading, by its number."""
        lex, known = self.lexicon, self._forms
        found: tuple[Form, ...] = ()
        for unit in lex.units[lex.reading_unit[reading] : lex.reading_unit[reading + 1]]:
            forms = known.get(unit)
            if forms is None:
                tables = lex.tables
                numbers = tables.form_flat[tables.unit_form[unit] : tables.unit_form[unit + 1]]
                forms = known[unit] = tuple(tables.forms[n] for n in numbers)
            found += forms
        return found

    def of(self, readings: list[int]) -> Iterator[list[int]]:
        """The graphemes of many readings, as numbers of `Tables.forms`."""
        lex, tables = self.lexicon, self.lexicon.tables
        units, begins = _spread(_array(lex.units), _array(lex.reading_unit), np.array(readings, np.int64))
        forms, starts = _spread(_array(tables.form_flat), _array(tables.unit_form), units)
        numbers, places = forms.tolist(), starts[begins].tolist()
        for start, end in pairwise(places):
            yield numbers[start:end]

    def counts(self) -> npt.NDArray[np.int64]:
        """How many sounds each reading of the lexicon has."""
        return self._summed([len(project(g, sound, linked, self.accent)) for g, sound, linked, _ in self._all()])

    def vowels(self) -> npt.NDArray[np.int64]:
        """How many graphemes of each reading hold a vowel."""
        return self._summed([int(has_vowel(sound)) for _, sound, _, _ in self._all()])

    def _all(self) -> list[Form]:
        return self.lexicon.tables.forms

    def _summed(self, of_form: list[int]) -> npt.NDArray[np.int64]:
        """For each reading, the sum of a figure over its graphemes."""
        lex, tables = self.lexicon, self.lexicon.tables
        of_unit = _sums(np.array(of_form)[_array(tables.form_flat)], _array(tables.unit_form))
        return _sums(of_unit[_array(lex.units)], _array(lex.reading_unit))


def _sums(values: npt.NDArray[np.int64], starts: npt.NDArray[np.int64]) -> npt.NDArray[np.int64]:
    """The sums of stretches of values, by where each begins."""
    sums = np.concatenate((np.zeros(1, np.int64), np.cumsum(values)))
    found: npt.NDArray[np.int64] = sums[starts[1:]] - sums[starts[:-1]]
    return found


# -- does any word sound like this? ------------------------------------------------------------------------------------


@cache
def said_hashes(accent: str) -> frozenset[int]:
    """A number for what each reading of an accent's lexicon sounds like, names and rare senses included.

    A long vowel counts as the short one that is written with the same sign (the y of happy as the ee of see). Two sound alike where their numbers are the same; that unlike ones share a number is next to impossible (64 bits).
    """
    lex = lexicon(lexicon_of(accent))
    tables = lex.tables
    spoken = [project(grapheme, sound, linked, accent) for grapheme, sound, linked, _ in tables.forms]
    codes, starts = _flat([[_of_sound(s) for s in said] for said in spoken])
    codes, starts = _spread(codes, starts, _array(tables.form_flat))
    of_unit, sizes = _joined(codes, np.ones(len(codes), np.int64), starts[_array(tables.unit_form)])
    units = _array(lex.units)
    found, _ = _joined(of_unit[units], sizes[units], _array(lex.reading_unit))
    return frozenset(found.tolist())


def _joined(
    hashes: Hashes, sizes: npt.NDArray[np.int64], starts: npt.NDArray[np.int64]
) -> tuple[Hashes, npt.NDArray[np.int64]]:
    """The numbers of sequences, each joined from shorter ones, and how many sounds they have; `starts` says where each begins."""
    ends = np.concatenate((np.zeros(1, np.int64), np.cumsum(sizes)))
    place = ends[:-1] - np.repeat(ends[starts[:-1]], np.diff(starts))
    sums = np.concatenate((np.zeros(1, np.uint64), np.cumsum(hashes * _powers()[place], dtype=np.uint64)))
    return sums[starts[1:]] - sums[starts[:-1]], ends[starts[1:]] - ends[starts[:-1]]


def hash_of(sounds: Sequence[str]) -> int:
    """The number of some sounds, as in `said_hashes`."""
    powers = _powers()
    return sum(_of_sound(sound) * int(powers[place]) for place, sound in enumerate(sounds)) & _WORD


@cache
def _of_sound(sound: str) -> int:
    value = 0
    for character in sound.rstrip("ː"):
        value = ((value ^ ord(character)) * _MIX + 1) & _WORD
    return value


@cache
def _powers() -> Hashes:
    found = [1]
    for _ in range(_LONGEST):
        found.append(found[-1] * _BASE & _WORD)
    return np.array(found, np.uint64)


def _array(column: memoryview) -> npt.NDArray[np.int64]:
    """A column as numbers to count places with."""
    return np.frombuffer(column, {"B": np.uint8, "H": np.uint16, "I": np.uint32}[column.format]).astype(np.int64)


def _flat(lists: Sequence[Sequence[int]]) -> tuple[Hashes, npt.NDArray[np.int64]]:
    """Lists one after the other, and where each begins."""
    starts = np.cumsum([0, *map(len, lists)])
    return np.array([value for values in lists for value in values], np.uint64), starts


def _spread(
    values: npt.NDArray[_N], starts: npt.NDArray[np.int64], chosen: npt.NDArray[np.int64]
) -> tuple[npt.NDArray[_N], npt.NDArray[np.int64]]:
    """The values of some lists one after the other, and where each list begins."""
    lengths = (starts[1:] - starts[:-1])[chosen]
    begins = np.concatenate((np.zeros(1, np.int64), np.cumsum(lengths)))
    inside = np.arange(begins[-1]) - np.repeat(begins[:-1], lengths)
    return values[np.repeat(starts[:-1][chosen], lengths) + inside], begins
