"""How a reading is shown in a line: its graphemes, its structure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from decodecheck.lexicon.items import PATTERN
from decodecheck.lexicon.store import Reading
from decodecheck.phonics.align import Segment
from decodecheck.phonics.sounds import project


def shown_segments(reading: Reading) -> list[Segment]:
    """The graphemes of a reading; an apostrophe is none, nor is a hyphen."""
    return [s for s in as_its_base(reading) if s.grapheme not in ("'", "-")]


def sound_count(reading: Reading, accent: str) -> int:
    """How many sounds a reading has in an accent."""
    return sum(len(project(s.grapheme, s.sound, s.linked, accent)) for s in shown_segments(reading))


def as_its_base(reading: Reading) -> Sequence[Segment]:
    """The segments of a reading, the last of a base with the e that it has by itself: the ire of tired is that of tire, and -ed is d."""
    for part in reading.parts[:1]:
        own = part.reading.segments[-1]
        at = len(part.reading.segments) - 1
        if at + 1 >= len(reading.segments) or len(own.grapheme) < 3 or not own.grapheme.endswith("e"):
            continue
        here, after = reading.segments[at], reading.segments[at + 1]
        if here.grapheme + "e" == own.grapheme and after.grapheme == "ed" and len(after.letters) == 2:
            first = replace(here, grapheme=own.grapheme, letters=(*here.letters, after.letters[0]))
            second = replace(after, grapheme="d", letters=after.letters[1:])
            return (*reading.segments[:at], first, second, *reading.segments[at + 2 :])
    return reading.segments


def structure(reading: Reading) -> str:
    """The pattern of consonant and vowel graphemes; endings such as the -s of cats do not count. Words with a hyphen have one for each part."""
    return "-".join(item.name for unit in reading.units for item in unit.alternatives[0] if item.kind == PATTERN)


def divided(reading: Reading) -> str:
    """The graphemes of a reading with spaces between; an apostrophe stands with the one after it, at the end with the one before: `i t 's`,
    `d i d n 't`, `d o g s'`."""
    text = " ".join(s.grapheme for s in as_its_base(reading)).replace(" ' ", " '")
    return text.removesuffix(" '") + "'" * text.endswith(" '")
