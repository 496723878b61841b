"""What units and words of the lexicon say in an accent, fast enough for the whole lexicon."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache

import numpy as np
import numpy.typing as npt

from decodecheck.lexicon.store import Lexicon, lexicon
from decodecheck.lexicon.units import Form
from decodecheck.phonics.sounds import lexicon_of, project

Sounds = tuple[str, ...]
"""The sounds of a word in an accent, in IPA."""
Hashes = npt.NDArray[np.uint64]
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

    def counts(self) -> npt.NDArray[np.int64]:
        """How many sounds each reading of the lexicon has."""
        tables = self.lexicon.tables
        of_form = [len(project(grapheme, sound, linked, self.accent)) for grapheme, sound, linked, _ in tables.forms]
        sums = np.concatenate(
            ([0], np.cumsum(np.array(of_form)[np.frombuffer(tables.form_flat, _type(tables.form_flat))]))
        )
        of_unit = np.diff(sums[np.frombuffer(tables.unit_form, _type(tables.unit_form))])
        sums = np.concatenate(([0], np.cumsum(of_unit[np.frombuffer(self.lexicon.units, _type(self.lexicon.units))])))
        counts: npt.NDArray[np.int64] = np.diff(sums[np.frombuffer(self.lexicon.reading_unit, np.uint32)])
        return counts


# -- does any word sound like this? ------------------------------------------------------------------------------------


@cache
def said_hashes(accent: str) -> frozenset[int]:
    """A number for what each reading of an accent's lexicon sounds like, names and rare senses included.

    Two sound alike where their numbers are the same; that unlike ones share a number is next to impossible (64 bits).
    """
    lex = lexicon(lexicon_of(accent))
    tables = lex.tables
    spoken = [project(grapheme, sound, linked, accent) for grapheme, sound, linked, _ in tables.forms]
    of_form, form_starts = _flat([[_of_sound(s) for s in said] for said in spoken])
    units = np.frombuffer(lex.units, _type(lex.units))
    starts = np.frombuffer(lex.reading_unit, _type(lex.reading_unit)).astype(np.int64)
    forms, unit_starts = _spread(
        np.frombuffer(tables.form_flat, _type(tables.form_flat)),
        np.frombuffer(tables.unit_form, _type(tables.unit_form)).astype(np.int64),
        units,
    )
    codes, code_starts = _spread(of_form, form_starts, forms)
    first = code_starts[unit_starts[starts[:-1]]]
    ends = np.append(first[1:], len(codes))
    place = np.arange(len(codes)) - np.repeat(first, ends - first)
    sums = np.concatenate((np.zeros(1, np.uint64), np.cumsum(codes * _powers()[place], dtype=np.uint64)))
    return frozenset((sums[ends] - sums[first]).tolist())


def hash_of(sounds: Sequence[str]) -> int:
    """The number of some sounds, as in `said_hashes`."""
    powers = _powers()
    return sum(_of_sound(sound) * int(powers[place]) for place, sound in enumerate(sounds)) & _WORD


@cache
def _of_sound(sound: str) -> int:
    value = 0
    for character in sound:
        value = ((value ^ ord(character)) * _MIX + 1) & _WORD
    return value


@cache
def _powers() -> Hashes:
    found = [1]
    for _ in range(_LONGEST):
        found.append(found[-1] * _BASE & _WORD)
    return np.array(found, np.uint64)


def _type(column: memoryview) -> npt.DTypeLike:
    return {"B": np.uint8, "H": np.uint16, "I": np.uint32}[column.format]


def _flat(lists: Sequence[Sequence[int]]) -> tuple[Hashes, npt.NDArray[np.int64]]:
    """Lists one after the other, and where each begins."""
    starts = np.cumsum([0, *map(len, lists)])
    return np.array([value for values in lists for value in values], np.uint64), starts


def _spread(
    values: npt.NDArray[np.unsignedinteger], starts: npt.NDArray[np.int64], chosen: npt.NDArray[np.unsignedinteger]
) -> tuple[npt.NDArray[np.unsignedinteger], npt.NDArray[np.int64]]:
    """The values of some lists one after the other, and where each list begins."""
    lengths = (starts[1:] - starts[:-1])[chosen]
    begins = np.concatenate((np.zeros(1, np.int64), np.cumsum(lengths)))
    inside = np.arange(begins[-1]) - np.repeat(begins[:-1], lengths)
    return values[np.repeat(starts[:-1][chosen], lengths) + inside], begins
