"""The forms of a pinned word: Zog's, Niamh's, zogging. Its reading stays as it is pinned; the ending is divided by itself."""

from __future__ import annotations

from dataclasses import replace

from decodecheck.lexicon.analysis import Analysis, EndingSpan, Part
from decodecheck.lexicon.endings import Split, attach
from decodecheck.lexicon.store import Reading, WordPart
from decodecheck.lexicon.units import build_units
from decodecheck.phonics.align import Segment, align
from decodecheck.phonics.sounds import reference_accent, tokens


def inflected(base: Reading, split: Split, word: str, lexicon: str) -> Reading | None:
    """A pinned reading with an ending; None where the ending does not go with it."""
    accent = reference_accent(lexicon)
    sounds = " ".join(t for s in base.segments for t in tokens(s.sound, s.linked, accent))
    if not sounds:
        return None
    built, count = attach(split.base, sounds, split.ending, lexicon)[0]
    stem = _respelt(base.segments, split, word)
    start = split.start - (count == 2 and split.ending == "-s" and word.endswith("es"))
    tail = built.split(" ")[-count:] if count else []
    ending = align(word[start:], tail, [False] * len(tail), lexicon, endings=frozenset((0, 1)))
    if stem is None or ending is None:
        return None
    moved = [replace(s, letters=tuple(i + start for i in s.letters)) for s in ending.segments]
    stem = [_before(s, start) for s in stem if s.letters[0] < start]
    part = Part(split.base, sounds, 0, len(stem) - 1)
    segments = (*stem, *moved)
    span = EndingSpan(split.ending, len(stem), len(segments) - 1)
    units = build_units(Analysis(segments, 0, span, (part,)), lambda _: base.units)
    at = [n for n, unit in enumerate(units) for _ in unit.forms]
    return Reading(segments, units, "yours", parts=(WordPart(split.base, base, 1, at[part.last]),))


def _before(segment: Segment, start: int) -> Segment:
    """A segment without the e that is sounded with the ending: Frazes is f r a z es, as gazes is g a z es."""
    letters = tuple(i for i in segment.letters if i < start)
    if letters == segment.letters:
        return segment
    return replace(segment, grapheme=segment.grapheme.removesuffix("e").removesuffix("-"), letters=letters)


def _respelt(segments: tuple[Segment, ...], split: Split, word: str) -> list[Segment] | None:
    """The segments of a base as an ending leaves them: with a doubled letter, without an e, with i for y."""
    stem = list(segments)
    last = stem[-1]
    if split.change == "doubled":
        at = last.letters[-1] + 1
        stem[-1] = replace(last, grapheme=last.grapheme + word[at], letters=(*last.letters, at))
    elif split.change == "dropped e" and split.start < len(split.base):
        gone = len(split.base) - 1
        for n, segment in enumerate(stem):
            if segment.letters[-1:] == (gone,) and len(segment.letters) > 1:
                grapheme = segment.grapheme.removesuffix("e").removesuffix("-")
                stem[n] = replace(segment, grapheme=grapheme, letters=segment.letters[:-1])
    elif split.change == "y to i":
        if not last.grapheme.endswith("y"):
            return None
        stem[-1] = replace(last, grapheme=last.grapheme[:-1] + word[last.letters[-1]])
    return stem if all(s.letters for s in stem) else None
