"""The words of a lexicon that are commonest in books for young children and fit for a page of words for authors."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np

from decodecheck.lexicon.store import Lexicon
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

VARIETIES = ("british", "american")
"""Kinds of words left out only of the other lexicon."""
_LETTERS_THAT_ARE_WORDS = ("a", "i")
_SHORTENS = frozenset(
    ("he", "she", "it", "that", "this", "there", "here", "what", "who", "where", "when", "why", "how", "let")
)  # fmt: skip
"""What 's shortens "is", "has" or "us" after; after anything else it marks a possessive, which is a form and no word."""


@cache
def unfit_words(rules: Path | None = None) -> dict[str, str]:
    """The words left out, with the kind of reason (`unfit_words.tsv` of a folder of rules, else of the program's own)."""
    return {row["word"]: row["kind"] for row in read_table((rules or rules_folder()) / "unfit_words.tsv")}


def common_words(lexicon: Lexicon, number: int) -> list[str]:
    """The `number` commonest words of a lexicon in lower case, commonest first; words as common as each other by the alphabet.

    How common a word is in books for young children is an estimate (`lexicon/child_words.py`), which the compiled lexicon keeps.
    Left out are names, single letters but for *a* and *i*, possessives (*world's*) and `rules/unfit_words.tsv`, spellings of
    the other variety (*color*, *colour*) among them; contractions (*don't*) are in. Words of unknown frequency (`rules/frequency/NOTICE.md`) are left out, too, so fewer
    come back where the lexicon has no more.
    """
    tables = lexicon.tables
    child = np.frombuffer(tables.child_zipf, np.uint16).astype(np.int32)
    found: list[str] = []
    # the words are stored sorted, so a stable sort leaves ties in order
    for at in np.argsort(-child, kind="stable"):
        if len(found) >= number:
            break
        if not tables.zipf[at]:
            continue
        word = tables.word(int(at))
        if not tables.is_name[at] and is_fit(word, lexicon.name) and lexicon.has(word):
            found.append(word)
    return found


def is_fit(word: str, lexicon: str) -> bool:
    """Whether a plain word may stand on a page of words for authors who use a lexicon ("british", "american")."""
    if len(word) == 1:
        return word in _LETTERS_THAT_ARE_WORDS
    if word.endswith("'s") and word[:-2] not in _SHORTENS:
        return False
    kind = unfit_words().get(word)
    return kind is None or (kind in VARIETIES and kind == lexicon)
