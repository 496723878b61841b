"""How a reading is shown in a line: its graphemes, its structure."""

from __future__ import annotations

from decodecheck.lexicon.items import PATTERN
from decodecheck.lexicon.store import Reading
from decodecheck.phonics.align import Segment


def shown_segments(reading: Reading) -> list[Segment]:
    """The graphemes of a reading; an apostrophe is none, nor is a hyphen."""
    return [s for s in reading.segments if s.grapheme not in ("'", "-")]


def structure(reading: Reading) -> str:
    """The pattern of consonant and vowel graphemes; endings such as the -s of cats do not count."""
    for unit in reading.units:
        for item in unit.alternatives[0]:
            if item.kind == PATTERN:
                return item.name
    return ""


def divided(reading: Reading) -> str:
    """The graphemes of a reading with spaces between; an apostrophe stands with what it belongs to: `i t 's`, `d i d n't`."""
    text = " ".join(s.grapheme for s in reading.segments).replace(" ' ", " '")
    return text.replace(" n 't", " n't").removesuffix(" '") + "'" * text.endswith(" '")
