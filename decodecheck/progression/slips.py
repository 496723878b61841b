"""The common word that a rare one is a slip of: one letter too many, too few or wrong, or two that have changed places."""

from __future__ import annotations

import string

from decodecheck.lexicon.store import Lexicon
from decodecheck.progression.swapped import swapped

RARE = 350
"""Hundredths on the Zipf scale: what is more common than this may be a word of its own (*form*, *from*)."""
COMMON = 450
APART = 150
"""So much more common is what is meant: more than thirty times."""


def likely_meant(word: str, lexicon: Lexicon) -> list[str]:
    """The common words from which a rare word differs by one slip of the four of Damerau (1964, from memory); swapped letters
    come first, then the commonest. None for a word that is common itself, or has fewer than four letters."""
    own = _zipf(word, lexicon)
    if own > RARE or not 4 <= len(word) <= 20 or not word.isalpha():
        return []
    turned = set(swapped(word))
    near = turned | {word[:i] + word[i + 1 :] for i in range(len(word))}
    for i in range(len(word) + 1):
        near |= {word[:i] + letter + word[i:] for letter in string.ascii_lowercase}
        near |= {word[:i] + letter + word[i + 1 :] for letter in string.ascii_lowercase}
    found = {w: _zipf(w, lexicon) for w in near - {word}}
    common = [w for w, zipf in found.items() if zipf >= max(COMMON, own + APART) and lexicon.has(w)]
    return sorted(common, key=lambda w: (w not in turned, -found[w], w))


def _zipf(word: str, lexicon: Lexicon) -> int:
    number = lexicon.tables.number(word)
    if number < 0 or lexicon.tables.is_name[number]:
        return 0
    return int(lexicon.tables.zipf[number])
