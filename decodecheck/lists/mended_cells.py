"""What the cells of an entry should say."""

from __future__ import annotations

import re

from decodecheck.lists.divisions import in_the_manner_of
from decodecheck.lists.examined import Fact
from decodecheck.lists.word_list import SEGMENTATION

NUMBER = re.compile(r"\s*(\d{1,2})(?:\.0+)?\s*(?:sounds?|phonemes?)?\s*\Z", re.IGNORECASE)


def declared_sounds(text: str) -> int | None:
    """The number of sounds that a cell gives; None where it is no number."""
    found = NUMBER.match(text)
    return int(found[1]) if found else None


def right_segmentation(fact: Fact) -> str:
    """The segmentation of an entry's word, written as its cell is."""
    return in_the_manner_of(fact.entry.cells[SEGMENTATION].text, fact.readings[0])
