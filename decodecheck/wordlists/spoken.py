"""What units and words of the lexicon say in an accent, fast enough for the whole lexicon."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from decodecheck.lexicon.store import Lexicon
from decodecheck.lexicon.units import Form
from decodecheck.phonics.sounds import project

Sounds = tuple[str, ...]
"""The sounds of a word in an accent, in IPA."""


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
        lex, tables = self.lexicon, self.lexicon.tables
        of_form = np.array([len(project(g, sound, linked, self.accent)) for g, sound, linked, _ in tables.forms])
        of_unit = _sums(of_form[_array(tables.form_flat)], _array(tables.unit_form))
        return _sums(of_unit[_array(lex.units)], _array(lex.reading_unit))


def _sums(values: npt.NDArray[np.int64], starts: npt.NDArray[np.int64]) -> npt.NDArray[np.int64]:
    """The sums of stretches of values, by where each begins."""
    sums = np.concatenate((np.zeros(1, np.int64), np.cumsum(values)))
    found: npt.NDArray[np.int64] = sums[starts[1:]] - sums[starts[:-1]]
    return found


def _array(column: memoryview) -> npt.NDArray[np.int64]:
    """A column as numbers to count places with."""
    return np.frombuffer(column, {"B": np.uint8, "H": np.uint16, "I": np.uint32}[column.format]).astype(np.int64)
