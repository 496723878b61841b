"""How the estimate of words a child would know (`lexicon/child_words.py`) comes out: for reading through after a change.

    python -m decodecheck.lexicon.compiling.audit_child [SEED]

Prints the rank correlation of the estimate with each of its parts, the first 500 words, the first 100 of three, four and five
letters, and a random sample of every twentieth of the words.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator, Sequence

import numpy as np

from decodecheck.lexicon.child_words import Evidence, estimate, is_learned, listed_evidence
from decodecheck.lexicon.common_words import common_words
from decodecheck.lexicon.store import lexicon, tables
from decodecheck.phonics.sounds import BRITISH

FIRST, FIRST_BY_LENGTH, LENGTHS, BANDS, SAMPLE = 500, 100, (3, 4, 5), 20, 12


def rank_correlation(one: Sequence[float], other: Sequence[float]) -> float:
    """Spearman's rank correlation of two equally long sequences; the ranks of equal values are their mean."""
    a, b = ranks(one), ranks(other)
    return float(np.corrcoef(a, b)[0, 1])


def ranks(values: Sequence[float]) -> np.ndarray:
    """The rank of each value, from 1 for the least; equal values share the mean of theirs."""
    _, which, times = np.unique(np.asarray(values, float), return_inverse=True, return_counts=True)
    last = np.cumsum(times)
    return np.asarray((last - (times - 1) / 2)[which])


def correlations(words: Sequence[str]) -> dict[str, float]:
    """The rank correlation of the estimate with each part, over words of the lexicon."""
    known = tables()
    found = [e for e in (listed_evidence(known, word) for word in words) if e]
    parts: dict[str, list[float]] = {
        "general frequency": [e.general for e in found],
        "times in old books for children": [e.count for e in found],
        "syllables": [e.syllables for e in found],
        "a commoner word in it": [e.base for e in found],
        "words made with it": [e.family for e in found],
        "learned ending": [is_learned(e.word, e.syllables) for e in found],
        "on the list of everyday words": [e.everyday for e in found],
        "letters (no part)": [len(e.word) for e in found],
    }
    estimates = [estimate(e) for e in found]
    return {name: rank_correlation(estimates, values) for name, values in parts.items()}


def told(evidence: Evidence) -> str:
    """A word with its estimate and what is known of it, on one line."""
    return (
        f"{estimate(evidence) / 100:5.2f}  {evidence.word:<18} general {evidence.general / 100:.2f}  books {evidence.count:<5} "
        f"syllables {evidence.syllables}  family {evidence.family:<3} {evidence.category}{'  everyday' * evidence.everyday}"
    )


def _lines(seed: int) -> Iterator[str]:
    words = common_words(lexicon(BRITISH), tables().count)
    yield f"rank correlation of the estimate with its parts, {len(words)} words:"
    for name, value in correlations(words).items():
        yield f"  {value:+.2f}  {name}"
    yield f"\nthe first {FIRST}:\n  " + " ".join(words[:FIRST])
    for length in LENGTHS:
        yield f"\nof {length} letters, the first {FIRST_BY_LENGTH}:"
        yield "  " + " ".join([w for w in words if len(w) == length][:FIRST_BY_LENGTH])
    rng = random.Random(seed)
    size = len(words) // BANDS
    for band in range(BANDS):
        yield f"\nof the words from {band * size + 1} to {(band + 1) * size}:"
        for word in rng.sample(words[band * size : (band + 1) * size], SAMPLE):
            evidence = listed_evidence(tables(), word)
            if evidence:
                yield "  " + told(evidence)


def main(arguments: Sequence[str]) -> None:
    """Print the audit; a number chooses another random sample."""
    for line in _lines(int(arguments[0]) if arguments else 1):
        print(line)


if __name__ == "__main__":
    main(sys.argv[1:])
