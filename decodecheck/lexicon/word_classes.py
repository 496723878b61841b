"""The usual word class of common English words."""

from __future__ import annotations

from functools import cache

from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

WORD_CLASSES = (
    "noun", "verb", "adjective", "adverb", "pronoun", "determiner", "preposition", "conjunction", "number",
    "interjection", "contraction",
)  # fmt: skip


@cache
def _classes() -> dict[str, str]:
    return {row["word"]: row["class"] for row in read_table(rules_folder() / "word_classes.tsv")}


def word_class(word: str) -> str:
    """The class in which a young child's story mostly uses a word, one of WORD_CLASSES; "" where it is not known.

    Source: `rules/word_classes.tsv`, made from the lexicon of Eric Brill's tagger and read through by eye
    (`rules/word_classes_NOTICE.md`); for other words `child_words.class_by_category` has a guess. One class a word, so it sorts a list of words; it does not parse a sentence.
    """
    return _classes().get(word.lower(), "")
