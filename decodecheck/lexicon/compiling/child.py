"""The columns of the compiled lexicon that tell how likely a word is in books for young children (`lexicon/child_words.py`)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from pathlib import Path

import numpy as np

from decodecheck.lexicon.analysis import Analysis
from decodecheck.lexicon.child_words import UNKNOWN, UNLISTED, Evidence, categories, estimate
from decodecheck.lexicon.compiling.analysed import Analysed
from decodecheck.phonics.sounds import AMERICAN, BRITISH, has_vowel
from decodecheck.tables import read_table

_FORMS = ("-s", "-es", "-ed", "-ing", "'s")
"""Endings that make a form of a word, counted with it; -er and -ly make another word."""
_INFLECTED = ("noun.", "verb.")
"""Categories that a word's forms have, too, and whose everyday words have everyday forms: cats, jumped, but not nos."""
_LEAST_PART = 3
"""A shorter part says nothing about a word: the in of instep."""


def child_columns(
    rules: Path, words: Sequence[str], analysed: Mapping[str, Analysed], zipf: Mapping[str, float]
) -> dict[str, np.ndarray]:
    """The estimate of each word and what it is made from. A word goes by its first reading, the British one if it has one."""
    first = {word: _first(word, analysed) for word in words}
    counts = {row["word"]: int(row["count"]) for row in read_table(rules / "child" / "books.tsv")}
    category = {row["word"]: row["category"] for row in read_table(rules / "child" / "categories.tsv")}
    everyday = {row["word"] for row in read_table(rules / "child" / "everyday.tsv")}
    base = {word: _base(analysis) or word for word, analysis in first.items()}
    # a word counts with its forms, a form by itself
    pooled: Counter[str] = Counter()
    family: Counter[str] = Counter()
    for word, analysis in first.items():
        pooled[base[word]] += counts.get(word, 0)
        family.update({part.word for part in analysis.parts} - {word})

    def evidence(word: str) -> Evidence:
        own = base[word] == word
        inherited = category.get(base[word], UNKNOWN)
        kind = category.get(word) or (inherited if inherited.startswith(_INFLECTED) else UNKNOWN)
        return Evidence(
            word,
            round(zipf.get(word, 0) * 100) or UNLISTED,
            min(sum(has_vowel(s.sound) for s in first[word].segments), 255),
            min(pooled[word] if own else counts.get(word, 0), 65535),
            _commoner(word, first[word], zipf) if own else 0,
            min(family[word], 255),
            kind,
            word in everyday or (base[word] in everyday and kind.startswith(_INFLECTED)),
        )

    found = list(map(evidence, words))
    return {
        "child_zipf": np.array(list(map(estimate, found)), np.uint16),
        "child_count": np.array([e.count for e in found], np.uint16),
        "child_base": np.array([e.base for e in found], np.uint16),
        "child_family": np.array([e.family for e in found], np.uint8),
        "child_syllables": np.array([e.syllables for e in found], np.uint8),
        "child_category": np.array([categories().index(e.category) for e in found], np.uint8),
        "child_everyday": np.array([e.everyday for e in found], np.uint8),
    }


def _first(word: str, analysed: Mapping[str, Analysed]) -> Analysis:
    senses = analysed[BRITISH].get(word) or analysed[AMERICAN][word]
    return senses[0].readings[0].analysis


def _base(analysis: Analysis) -> str:
    """The word of which this one is a form; "" for none."""
    ending = analysis.ending
    return analysis.parts[0].word if ending and ending.ending in _FORMS and analysis.parts else ""


def _commoner(word: str, analysis: Analysis, zipf: Mapping[str, float]) -> int:
    """By how many hundredths the commonest known word in a word is commoner than the word itself."""
    known = [zipf.get(part.word, 0) for part in analysis.parts if len(part.word) >= _LEAST_PART]
    return max(0, round((max(known, default=0) - zipf.get(word, UNLISTED / 100)) * 100))
