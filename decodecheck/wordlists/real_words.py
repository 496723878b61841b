"""Is a spelling a word somewhere: in the lexicon, in wordfreq's list, or close to one that no child should be made to say?"""

from __future__ import annotations

import gzip
from collections.abc import Iterable
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from decodecheck.lexicon.common_words import unfit_words
from decodecheck.lexicon.lookup import Lookup
from decodecheck.lexicon.store import UNFIT_KINDS, lexicon
from decodecheck.phonics.sounds import lexicon_of, reference_accent
from decodecheck.wordlists.spoken import Sounds, UnitSounds, sounds_of

_T = TypeVar("_T", str, Sounds)
RUDE = "unsuitable"
"""The kind of `rules/unfit_words.tsv` that is kept at a distance."""
SHORTEST_INSIDE = 4
"""A rude word of so many letters is not even inside of an invented one."""
_FIXED = 0xA0
"""In msgpack, a text of fewer than 32 bytes begins with this and its length (https://github.com/msgpack/msgpack, "spec.md")."""


def is_listed(word: str) -> bool:
    """Is a plain word in wordfreq's largest list of English?

    The list is looked through as it lies in its file: reading it takes a third of the time that importing wordfreq takes. wordfreq
    itself is asked where there is no such file.
    """
    data = _list()
    if data is not None and word.isascii() and 0 < len(word) < 32:
        return bool((_of_length(len(word)) == word.encode()).any())
    import wordfreq

    return bool(wordfreq.zipf_frequency(word, "en", wordlist="large"))


@cache
def _list() -> bytes | None:
    spec = find_spec("wordfreq")
    for folder in (spec.submodule_search_locations or ()) if spec else ():
        try:
            return gzip.decompress((Path(folder) / "data" / "large_en.msgpack.gz").read_bytes())
        except (OSError, EOFError):
            continue
    return None


@cache
def _of_length(length: int) -> npt.NDArray[np.bytes_]:
    """All texts of so many bytes in wordfreq's file."""
    data = np.frombuffer(_list() or b"", np.uint8)
    starts = np.flatnonzero(data[:-length] == _FIXED + length) + 1
    found: npt.NDArray[np.bytes_] = data[starts[:, None] + np.arange(length)].view(f"S{length}").ravel()
    return found


def is_word(word: str) -> bool:
    """Is a plain word in one of the lexicons, a form of such a word, or in wordfreq's list?"""
    return is_listed(word) or any(_lookup(accent).knows(word) for accent in _REFERENCE)


_REFERENCE = (reference_accent("british"), reference_accent("american"))


@cache
def _lookup(accent: str) -> Lookup:
    return Lookup(accent)


# -- rude words --------------------------------------------------------------------------------------------------------


@cache
def rude_words() -> tuple[str, ...]:
    """The words that invented ones keep a letter and a sound away from."""
    return tuple(word for word, kind in unfit_words().items() if kind == RUDE)


@cache
def _near_by_letters() -> frozenset[tuple[str, str]]:
    """What stands before and after any one letter of a rude word, or before and after a place between two."""
    return frozenset(pattern for word in rude_words() for pattern in _open(word))


def _open(word: _T) -> Iterable[tuple[_T, _T]]:
    for i in range(len(word) + 1):
        yield word[:i], word[i:]
        if i < len(word):
            yield word[:i], word[i + 1 :]


def _is_near(word: _T, near: frozenset[tuple[_T, _T]]) -> bool:
    """Is a word one letter or sound away from one whose patterns are given: changed in it or dropped from it, or added to it? A word itself
    is near to itself, too."""
    changed = any((word[:i], word[i + 1 :]) in near for i in range(len(word)))
    return changed or any((word[:i], word[i:]) in near for i in range(len(word) + 1))


def near_rude_by_letters(word: str) -> bool:
    """Is a word a letter away from a rude one (changed, added, dropped), or has it one inside?"""
    if any(rude in word for rude in rude_words() if len(rude) >= SHORTEST_INSIDE):
        return True
    return _is_near(word, _near_by_letters())


@cache
def _near_by_sounds(accent: str) -> frozenset[tuple[Sounds, Sounds]]:
    lex = lexicon(lexicon_of(accent))
    units = UnitSounds(lex, accent)
    rude = np.flatnonzero(np.asarray(lex.tables.unfit_kind) == UNFIT_KINDS.index(RUDE)).tolist()
    senses = (sense for word in rude for sense in range(lex.word_sense[word], lex.word_sense[word + 1]))
    readings = (r for s in senses for r in range(lex.sense_reading[s], lex.sense_reading[s + 1]))
    said = {sounds_of(units.forms(reading), accent) for reading in readings}
    return frozenset(pattern for sounds in said for pattern in _open(sounds))


def near_rude_by_sounds(sounds: Sounds, accent: str) -> bool:
    """Is what a word says a sound away from a rude one, or the same?"""
    return _is_near(sounds, _near_by_sounds(accent))
