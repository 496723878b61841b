"""The structure of a word: its pattern of consonant and vowel graphemes, its syllables, its adjacent consonants."""

from __future__ import annotations

from collections.abc import Sequence

from decodecheck.phonics.align import Segment
from decodecheck.phonics.sounds import has_vowel


def pattern(segments: Sequence[Segment]) -> str:
    """C for a consonant grapheme, V for a vowel grapheme, in the order of their sounds: box and cube are CVC.

    Silent letters do not count. A grapheme that holds a vowel (le in table, ed in hunted) is V.
    """
    return "".join("V" if has_vowel(s.sound) else "C" for s in segments if s.sound)


def syllables(segments: Sequence[Segment]) -> int:
    """Syllables, counted as graphemes that hold a vowel sound."""
    return sum(has_vowel(s.sound) for s in segments)


def adjacent_consonants(segments: Sequence[Segment], breaks: frozenset[int] = frozenset()) -> list[tuple[str, ...]]:
    """Runs of two or more consonant graphemes next to each other (s t, s t r), not across the letter positions `breaks`."""
    runs: list[tuple[str, ...]] = []
    run: list[str] = []
    for segment in segments:
        if not segment.sound:
            continue
        if has_vowel(segment.sound):
            _close(run, runs)
            continue
        if segment.letters[0] in breaks:
            _close(run, runs)
        run.append(segment.grapheme)
    _close(run, runs)
    return runs


def _close(run: list[str], runs: list[tuple[str, ...]]) -> None:
    if len(run) > 1:
        runs.append(tuple(run))
    run.clear()
