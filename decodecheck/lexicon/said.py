"""Does any word of the lexicon, names and rare senses included, sound like this?"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from functools import cache
from zlib import crc32

from decodecheck.lexicon.store import tables


def number_of(sounds: Sequence[str]) -> int:
    """A number for the sounds of a word, in IPA. A long vowel counts as the short one that is written with the same sign (the y of happy as the ee of see)."""
    return crc32(" ".join(sound.rstrip("ː") for sound in sounds).encode())


def sounds_like_a_word(sounds: Sequence[str], accent: str) -> bool:
    """Does anything in an accent's lexicon sound like this? Of what sounds like nothing, one in some forty thousand is taken for a word:
    the numbers have 32 bits."""
    said = _said(accent)
    number = number_of(sounds)
    place = bisect_left(said, number)
    return place < len(said) and said[place] == number


@cache
def _said(accent: str) -> memoryview:
    return tables().column(f"{accent}_said")
