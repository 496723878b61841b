"""Divisions set by hand, applied last: `rules/overrides.tsv`."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from decodecheck.lexicon.analysis import Analysis, EndingSpan
from decodecheck.lexicon.letters import place_graphemes, spell
from decodecheck.phonics.align import Segment
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import LEXICONS
from decodecheck.tables import read_table

Overrides = dict[str, dict[str, list[tuple[Segment, ...]]]]


def read_overrides(rules: Path) -> Overrides:
    """Divisions by lexicon and word.

    Raises ValueError where one does not spell its word.
    """
    found: Overrides = {lexicon: {} for lexicon in LEXICONS}
    for row in read_table(rules / "overrides.tsv"):
        pairs = [part.partition("|")[::2] for part in row["segmentation"].split(" ")]
        graphemes = [g for g, _ in pairs]
        if spell(graphemes) != row["word"]:
            raise ValueError(f"overrides.tsv: {row['segmentation']} does not spell {row['word']}")
        segments = []
        for (grapheme, codes), positions in zip(pairs, place_graphemes(graphemes)):
            sound = tuple(codes.split("+")) if codes else ()
            linked = sound[-1:] == ("~",)
            sound = sound[:-1] if linked else sound
            listed = inventory().get(grapheme, sound) is not None
            segments.append(Segment(grapheme, sound, linked, not listed, positions))
        for lexicon in LEXICONS if row["accent"] == "both" else (row["accent"],):
            found[lexicon].setdefault(row["word"], []).append(tuple(segments))
    return found


def overridden(analysis: Analysis | None, segments: tuple[Segment, ...]) -> Analysis:
    """A division set by hand with what the word's own analysis knows besides: its ending, its parts, its weak vowels."""
    if analysis is None:
        return Analysis(segments, 0)
    weak = {letter for s in analysis.segments if s.weak for letter in s.letters}
    segments = tuple(replace(s, weak=weak.issuperset(s.letters)) for s in segments)
    at = {s.letters[0]: i for i, s in enumerate(segments)}

    def moved(index: int) -> int | None:
        """A segment of the analysis as one that begins at the same letter."""
        return at.get(analysis.segments[index].letters[0]) if index < len(analysis.segments) else len(segments)

    ending = None
    if analysis.ending and (first := moved(analysis.ending.first)) is not None:
        ending = EndingSpan(analysis.ending.ending, first, len(segments) - 1)
    parts = []
    for part in analysis.parts:
        first, end = moved(part.first), moved(part.last + 1)
        if first is not None and end is not None:
            parts.append(replace(part, first=first, last=end - 1))
    return Analysis(segments, 0, ending, tuple(parts), analysis.joins)
