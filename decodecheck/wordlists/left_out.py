"""Words that a list leaves out unless they are asked for, by kind."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import numpy as np
import numpy.typing as npt

from decodecheck.lexicon.common_words import VARIETIES, unfit_words
from decodecheck.lexicon.vector import alike_with_capital
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.notes import false_digraphs
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.alike import SHORT
from decodecheck.wordlists.columns import Columns, Numbers, spread

KINDS = {
    "names": ("names", "a name"),
    "abbreviations": (
        "abbreviations, parts of words, single letters",
        "an abbreviation, a part of a word, or a letter",
    ),
    "possessives": ("possessives", "a possessive"),
    "unfit": ("unfit for a primary classroom", "unfit for a primary classroom"),
    "other-country": ("in the spelling of the other country", "the spelling of the other country"),
    "unsure": ("that can be read in one of two senses only", "can be read in one of its senses only"),
    "heteronyms": ("with two readings", "has two readings"),
    "joins": ("with letters that only look like a digraph (mishap)", "has letters that only look like a digraph"),
    "pinned": ("with a reading that the progression pins", "has a reading that the progression pins"),
}
"""Every kind by the name of its switch: how a number of such words is told, and one. A word counts for the first that it is."""
ALWAYS = frozenset(("pinned",))
"""Kinds that no switch lets in: of such a word the lexicon has another reading than the progression."""
LONE = ("a", "i")


class LeftOut:
    """Tells of what kind a word is that a list leaves out."""

    def __init__(self, columns: Columns, order: TeachingOrder, step: int, words: Sequence[str]) -> None:
        self.columns, self.order, self.step, self.words = columns, order, step, words
        self._late = order.readiness.words
        self._alike = alike_with_capital(columns.lexicon)

    def kinds(self, numbers: Numbers, readings: Numbers) -> list[str]:
        """The kind of each of some words of the lexicon, in one of its readings; "" for one that no list leaves out."""
        joined = _may_look_joined(self.columns, readings).tolist()
        return [self._kind(*word) for word in zip(numbers.tolist(), readings.tolist(), joined)]

    def _kind(self, number: int, reading: int, may_look_joined: bool) -> str:
        word = self.words[number]
        reason = unfit_words().get(word, "")
        if self.columns.tables.is_name[number] or reason == "capital" or self.columns.names[reading]:
            return "names"
        if word.endswith("'s") and word not in SHORT:
            return "possessives"
        if reason == "no word" or (len(word) == 1 and word not in LONE):
            return "abbreviations"
        if number in self.columns.unfit:
            return "unfit"
        if reason in VARIETIES and reason != self.columns.lexicon.name:
            return "other-country"
        if not self.order.goes_by_items(word):
            return "pinned"
        if self._late[number] > self.step:
            return "unsure"
        if self.columns.senses[number] > 1 or not self._alike[number]:
            return "heteronyms"
        joined = may_look_joined and false_digraphs(self.columns.lexicon.reading(reading).segments)
        return "joins" if joined else ""


@cache
def _digraphs() -> npt.NDArray[np.bool_]:
    """For two letters, whether they are a grapheme that may be taught."""
    found = np.zeros((27, 27), bool)
    for grapheme in inventory().by_grapheme:
        if len(grapheme) == 2 and grapheme.isascii() and grapheme.isalpha():
            found[_letter(grapheme[0]), _letter(grapheme[1])] = True
    return found


def _letter(grapheme: str) -> int:
    """The number of a letter, 26 for anything longer or else."""
    return ord(grapheme) - 97 if len(grapheme) == 1 and "a" <= grapheme <= "z" else 26


def _may_look_joined(columns: Columns, readings: Numbers) -> npt.NDArray[np.bool_]:
    """For some readings, whether two single letters stand side by side in one that are a grapheme elsewhere: where they are not,
    there is no need to look closer."""
    at, owner = spread(columns.reading_unit, readings)
    flat, unit_at = spread(columns.unit_form, columns.units[at])
    owner = owner[unit_at]
    letters = np.array([_letter(g) for g, _, _, _ in columns.tables.forms])[columns.form_flat[flat]]
    pairs = _digraphs()[letters[:-1], letters[1:]] & (owner[:-1] == owner[1:])
    found = np.zeros(len(readings), bool)
    found[owner[:-1][pairs]] = True
    return found
