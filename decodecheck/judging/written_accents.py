"""Whether a form with accents is the word that is left without them: *café* is, *réd* is not known to be."""

from __future__ import annotations

import re
import unicodedata
from functools import cache

from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

DIAERESIS = "\u0308"
MADE = re.compile(r"(?:['’]s|s|d|ed|ing|ly)\Z")
"""What words are made by of one that has an accent: cafés, sautéed."""
APART = re.compile(rf"(?<=[aeiou])([aeiouy]){DIAERESIS}")
"""A vowel after another one, with two dots that say that it is said by itself: coöperate, Zoë."""
BY_ITSELF = re.compile("e\u0300d\\Z")
"""The e of blessèd, which is said."""


def is_without(form: str) -> bool:
    """Whether a form, in whatever letters, is the same word without its accents, as far as that is known (`rules/accented_words.tsv`). True for a
    form without accents."""
    word = unicodedata.normalize("NFD", form.lower())
    if not _accented(word):
        return True
    if not _accented(BY_ITSELF.sub("ed", APART.sub(r"\1", word))):
        return True
    known = _words()
    return word in known or MADE.sub("", word) in known


def same(form: str, other: str) -> bool:
    """Whether two forms have the same letters with the same accents, however these are encoded."""
    return unicodedata.normalize("NFD", form.lower()) == unicodedata.normalize("NFD", other.lower())


def _accented(word: str) -> bool:
    return any(unicodedata.combining(character) for character in word)


@cache
def _words() -> frozenset[str]:
    table = rules_folder() / "accented_words.tsv"
    return frozenset(unicodedata.normalize("NFD", row["word"]) for row in read_table(table))
